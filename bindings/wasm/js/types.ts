// Generated from the Rust types by `cargo xtask wasm --types`; do not edit.

/** How far one must go to look. */
export type Access =
  /** Standing beside it. */
  | "walk-by"
  /** Opening doors and drawers, working its moving parts. */
  | "open"
  /** Underneath, or turned over. */
  | "turn-over"
  /** Drawing a screw, taking off a part. */
  | "dismantle"
  /** A sample or an instrument elsewhere. */
  | "laboratory"
  /** Documents, not the piece. */
  | "papers";

/** What can be done. */
export type Action =
  /** Buy at the asking price. */
  | "buy"
  /** Do the check that is worth most beyond its cost, and decide then. */
  | "look-further"
  /** Leave it. */
  | "walk-away";

/**
 * How the findings built up from the prior, and what hangs together.
 *
 * All weights are decibans: ten times the base-10 logarithm of a ratio of odds.
 */
export interface Argument {
  /** Version of the engine. */
  engine: string;
  /** The findings and readings, in the case's order. */
  findings: WeighedFinding[];
  /** What this is not. */
  limits: string;
  /** The pack it rests on. */
  pack: PackStamp;
  /** The piece, as claimed. */
  piece: PieceSummary;
  /**
   * What the weights are about: each verdict against all others, in the usual order, then two
   * histories against each other if asked. Every list of weights below runs in this order.
   */
  questions: Question[];
  /** Always `oddment/argument/1`. */
  schema: string;
  /** How the fair shares were computed. */
  shares: ShareMethod;
  /** Findings with one thing behind them, so that double counting can be seen. */
  together: Together[];
}

/** What to assess. */
export interface AssessOptions {
  /**
   * Whether to judge by simulation if any story fits, which takes most of the time; true when
   * absent.
   */
  fit?: boolean | undefined;
}

/** The odds of every rival history of a piece, with the reasons. */
export interface Assessment {
  /** Cautions for the checks done and still to do. */
  cautions: CautionNote[];
  /** When each dated part was made. */
  dates: PartDate[];
  /** Version of the engine. */
  engine: string;
  /** What each finding and reading weighed, in the case's order. */
  findings: FindingWeight[];
  /** Whether any story told here fits. */
  fit: Fit;
  /** The histories, most likely first. */
  histories: HistoryOdds[];
  /** The incidents, in the pack's order. */
  incidents: IncidentOdds[];
  /** What this is not. */
  limits: string;
  /** Natural logarithm of the probability (density, where readings were taken) of all findings. */
  ln_evidence: number;
  /** What was not looked at, checks with least trouble first. */
  not_looked: NotLooked[];
  /** The pack it rests on. */
  pack: PackStamp;
  /** The piece, as claimed. */
  piece: PieceSummary;
  /** Always `oddment/assessment/1`. */
  schema: string;
  /** The verdicts, always in the same order. */
  verdicts: VerdictOdds[];
  /** Whether each visit's findings hang together. */
  visits: VisitQuality[];
}

/** What a person makes of risk. */
export type Attitude =
  /** Money counts as money: expected amounts are compared. */
  | {
    kind: "linear";
  }
  /**
   * Constant relative risk aversion `a` over the wealth that results:
   *
   * ```text
   * u(w) = w^(1 - a) / (1 - a), ln w at a = 1, w = wealth + payoff
   * ```
   *
   * Pratt 1964 and Arrow 1965 (from memory, unverified).
   */
  | {
    /** Aversion, 0 (none) to 10, no unit. */
    aversion: number;
    kind: "constant-relative";
    /** Wealth before the decision, in the currency of the payoffs, above 0. */
    wealth: number;
  };

/** What may be behind several findings. */
export type Behind =
  /** One act that left them all. */
  | "act"
  /** An incident that can make or hide them all. */
  | "incident"
  /** The making date of one part. */
  | "date";

/** One number for each verdict. */
export interface ByVerdict {
  /** Form, size or use changed later. */
  converted: number;
  /** Made or dressed up to deceive. */
  faked: number;
  /** Parts of different pieces put together. */
  married: number;
  /** As first made, honest wear and repair included. */
  original: number;
}

/** A piece with what was found on it. */
export interface CaseFile {
  /**
   * What was found, or looked for and not found, or could not be looked at. A sign that is not
   * listed was not looked for.
   */
  finding?: FindingFile[] | undefined;
  /** Incidents known for certain from elsewhere (a repairer's bill), by incident id. */
  known?: Record<string, boolean> | undefined;
  /** The user's own values for numbers of the pack, by number id. */
  numbers?: Record<string, number> | undefined;
  /** The piece and what is claimed of it. */
  piece: PieceFile;
  /** The user's own prior counts by history id, replacing the pack's; they are normalised. */
  prior?: Record<string, number> | undefined;
  /** Readings taken. */
  reading?: ReadingFile[] | undefined;
  /** Always `oddment/case/1`. */
  schema: string;
  /** What is at stake in buying it, on the user's own figures. */
  stakes?: StakesFile | null | undefined;
  /** Who looked, when and how. With none, one ordinary visit is assumed. */
  visit?: VisitFile[] | undefined;
}

/** A caution shown where it matters. */
export interface CautionFile {
  /** Kebab-case. */
  id: string;
  /** What to mind, deferring to local rules and licensed practice. */
  text: string;
}

/** A caution and the checks it is about. */
export interface CautionNote {
  /** Ids of the checks. */
  checks: string[];
  /** What to mind. */
  text: string;
}

/** A chance (yes/no sign) or a row of chances, one for each level (graded sign). */
export type Chance = Number | number[];

/** A way of looking. */
export interface CheckDescription {
  /** How far one must go. */
  access: Access;
  /** Ids of cautions to mind. */
  cautions: string[];
  /** How to do it. */
  how: string;
  /** Its id. */
  id: string;
  /** Whether the owner must be asked. */
  leave: Leave;
  /** Ids of the measures it answers. */
  measures: string[];
  /** Minutes it takes. */
  minutes: number;
  /** A few words. */
  name: string;
  /** Ids of the signs it answers. */
  signs: string[];
  /** What to bring. */
  tools: string[];
}

/** A way of looking, which may answer several signs. */
export interface CheckFile {
  /** How far one must go. */
  access?: Access | null | undefined;
  /** Ids of cautions. */
  cautions?: string[] | null | undefined;
  /** Id of a library check whose fields hold where none are given here. */
  from?: string | null | undefined;
  /** How to do it, step by step, in two or three sentences. */
  how?: string | null | undefined;
  /** Kebab-case; taken from `from` when absent. */
  id?: string | null | undefined;
  /** Whether the owner must be asked. */
  leave?: Leave | null | undefined;
  /** Minutes it takes. */
  minutes?: number | null | undefined;
  /** A few words. */
  name?: string | null | undefined;
  /** What to bring. */
  tools?: string[] | null | undefined;
}

/** How a check's values were computed. */
export type CheckMethod =
  /** Every combination of answers was gone through (readings on a fine grid). */
  | {
    exact: {
      /** How many combinations. */
      answers: number;
    };
  }
  /** Answers were drawn. */
  | {
    drawn: {
      /** How many times. */
      draws: number;
      /** Seed of the draw. */
      seed: number;
      /** Standard error of the bits. */
      standard_error: number;
    };
  };

/** A check's worth in the user's money. */
export interface CheckMoney {
  /** What it costs. */
  cost: number;
  /** The difference. */
  net: number;
  /** What it is expected to add to the decision, before its cost. */
  value: number;
}

/** What one check is expected to tell. */
export interface CheckValue {
  /** How far one must go. */
  access: Access;
  /** Whether it lies within the access asked for. */
  allowed: boolean;
  /** What it would answer that is not answered yet. */
  answers: Unseen[];
  /** Expected information about the verdict: by how many bits it is expected to be less open. */
  bits: number;
  /** The same for each minute. */
  bits_per_minute: number;
  /** Chance that it changes the leading verdict. */
  changes_verdict: number;
  /** How to do it. */
  how: string;
  /** Id of the check. */
  id: string;
  /** Whether the owner must be asked. */
  leave: Leave;
  /** How the values were computed. */
  method: CheckMethod;
  /** Minutes it takes. */
  minutes: number;
  /** What it is worth in money, where figures were given. */
  money: CheckMoney | null;
  /** Its name. */
  name: string;
  /** By how much naming the then leading verdict would be right more often, as a probability. */
  right_more_often: number;
  /** The most telling answers, the one expected to move the verdict most first. */
  telling: TellingAnswer[];
  /** What to bring. */
  tools: string[];
}

/** A probability as a function of one number. */
export type Curve =
  /**
   * Exactly a ratio of two polynomials in `t`, the number less its value in this case, on each
   * piece.
   */
  | {
    exact: {
      /** The pieces, from the smallest values up. */
      pieces: CurvePiece[];
    };
  }
  /** Computed at some values, straight in between. */
  | {
    points: {
      /** Value and probability. */
      points: ([number, number])[];
    };
  };

/** Share of new work that shows a technology, by year. */
export interface CurveFile {
  /** Kebab-case. */
  id: string;
  /** The technology. */
  name: string;
  /** Before this year the technology did not exist: the share is exactly 0 (structural). */
  not_before?: number | null | undefined;
  /** Where and on what the curve holds, and where its sources disagree. */
  note: string;
  /**
   * Points `[year, share]`, years rising, shares in (0, 1). Between points the log-odds of the
   * share run straight; outside, the end values hold.
   */
  points: ([number, number])[];
  /** Id of a source. */
  source?: string | null | undefined;
  /** Equivalent sample size. */
  strength?: number | null | undefined;
}

/** One piece of an exact curve. */
export interface CurvePiece {
  /** Coefficients of the denominator. */
  denominator: number[];
  /** First value it holds for. */
  from: number;
  /** Coefficients of the numerator, the constant first. */
  numerator: number[];
  /** Last value it holds for. */
  to: number;
}

/**
 * How a board was cut from the log, which decides the direction that shows as
 * its width.
 */
export type Cut =
  /** Growth rings lie flat in the board: its width moves tangentially. */
  | "flat-sawn"
  /** Growth rings stand on edge: its width moves radially, about half as much. */
  | "quarter-sawn"
  /** Not known, or mixed: anything between the two. */
  | "unknown";

/** One bin of a date grid. */
export interface DateBin {
  /** First year. */
  from: number;
  /** Probability before any finding. */
  prior: number;
  /** Probability given all findings. */
  probability: number;
  /** The year after the last. */
  to: number;
}

/** A sign that dates the part it is on. */
export interface DatedFile {
  /**
   * Chance that it was put on later to deceive or by other work, by selector; 0 where nothing
   * fits.
   */
  added?: Record<string, Number> | undefined;
  /** Id of the in-use curve. */
  curve: string;
  /** Chance that it was taken off, by selector; 0 where nothing fits. */
  removed?: Record<string, Number> | undefined;
  /** Chance that work done in that way still shows it. */
  visible: Number;
}

/** The grid of making dates. */
export interface DatesFile {
  /** First year of the first bin. */
  from: number;
  /** Years over which the chance of making falls off on either side of a claimed period. */
  shoulder: number;
  /** Width of a bin in years. */
  step: number;
  /** The year after the last bin. */
  to: number;
}

/** What to decide on. */
export interface DecideOptions {
  /** The user's own figures, instead of those of the case. */
  stakes?: StakesFile | null | undefined;
}

/** Whether to buy, on the user's own figures; amounts in the user's currency. */
export interface Decision {
  /** What comes out best. */
  action: Action;
  /** What a sale would leave under each verdict, resale cost taken off. */
  after_resale: ByVerdict;
  /** The price at which the expected gain is 0; below 0 when not even a gift would do. */
  break_even: number;
  /** The price at which buying is as good as walking away; with a linear attitude the same. */
  break_even_in_utility: number;
  /** What this is not. */
  caution: string;
  /**
   * The certain gain that buying at the asking price is as good as; with a linear attitude the
   * expected gain.
   */
  certainty_equivalent: number;
  /** Probability that buying at the asking price loses money. */
  chance_of_loss: number;
  /** Id of the check to do, when the action is to look further. */
  check: string | null;
  /** What each check is worth, the greatest net value first. */
  checks: DecisionCheckValue[];
  /** Expected gain of buying at the asking price. */
  expected_gain: number;
  /** What buying at the asking price would gain under each verdict. */
  gains: ByVerdict;
  /** By how much it beats the next best, in money. */
  margin: number;
  /** The most to pay for knowing the verdict for certain before deciding. */
  perfect_information: number;
  /** The greatest price at which the probability of a loss is at most the chance stated. */
  price_at_chance_of_loss: number;
  /** Always `oddment/decision/1`. */
  schema: string;
  /** The figures it rests on. */
  stakes: Stakes;
  /** Probability of each verdict. */
  verdicts: ByVerdict;
}

/** What a check is worth before deciding. */
export interface DecisionCheckValue {
  /** What it costs, the examiner's time included. */
  cost: number;
  /** The check's id. */
  id: string;
  /** Minutes it takes. */
  minutes: number;
  /** The check's name. */
  name: string;
  /** Value less cost. */
  net: number;
  /** The most to pay for what it may show, in money, never below 0. */
  value: number;
}

/** Strength and provenance of every number in a file that does not state its own. */
export interface Defaults {
  /** Id of a source. */
  source: string;
  /** Equivalent sample size: how many pieces seen the number is worth. */
  strength: number;
}

/**
 * A continuous likelihood family for one measurement.
 *
 * Lengths, scales and readings share whatever unit the sign is measured in.
 * Written in a file as a table with the tag `family`:
 *
 * ```
 * use oddment::density::Density;
 *
 * let text = r#"{ "family": "mixture", "parts": [
 * { "weight": 0.7, "density": { "family": "normal", "mean": 8, "sd": 4 } },
 * { "weight": 0.3, "density": { "family": "half-normal", "scale": 1 } } ] }"#;
 * let density: Density = serde_json::from_str(text).unwrap();
 * density.validate().unwrap();
 * assert!((density.mean().unwrap() - 5.839365368240859).abs() < 1e-14);
 * ```
 */
export type Density =
  /** The normal distribution. */
  | {
    family: "normal";
    /** Centre, within ±[`LARGEST`]. */
    mean: number;
    /** Standard deviation, above 0. */
    sd: number;
  }
  /** A positive quantity whose logarithm is normal. */
  | {
    family: "log-normal";
    /** Median, above 0. */
    median: number;
    /**
     * Multiplicative standard deviation: about two thirds of the mass lies
     * between `median / spread` and `median * spread`. From 1.000001 to
     * 1,000,000; the standard deviation of the logarithm is `ln(spread)`.
     */
    spread: number;
  }
  /** The gamma distribution: a positive quantity of mean `shape * scale`. */
  | {
    family: "gamma";
    /** Scale, above 0. */
    scale: number;
    /** Shape, from 0.01 to 1,000,000; below 1 the density is unbounded at 0. */
    shape: number;
  }
  /** Student's t, for measurements with the occasional wild value. */
  | {
    /** Degrees of freedom, from 0.5 to 1,000,000; no mean at or below 1. */
    degrees: number;
    family: "student-t";
    /** Centre, within ±[`LARGEST`]. */
    location: number;
    /** Scale, above 0 (not the standard deviation). */
    scale: number;
  }
  /** The magnitude of a normal deviate, |N(0, scale^2)|: densest at 0. */
  | {
    family: "half-normal";
    /** Standard deviation of the deviate before its sign is dropped, above 0. */
    scale: number;
  }
  /** Equally dense between two limits and zero outside. */
  | {
    family: "uniform";
    /** Upper limit, above `low`. */
    high: number;
    /** Lower limit, within ±[`LARGEST`]. */
    low: number;
  }
  /** One of several families, each with its share. */
  | {
    family: "mixture";
    /** Up to [`MOST_PARTS`] shares summing to 1 within [`WEIGHT_TOLERANCE`]. */
    parts: Part[];
  };

/** Which of the two propositions the findings favour. */
export type Direction =
  /** The first, the numerator: ratio above 1. */
  | "first"
  /** Neither: ratio 1. */
  | "neither"
  /** The second, the denominator: ratio below 1. */
  | "second";

/** What a poor examination does to reports, and what the words of sureness weigh. */
export interface ExaminationFile {
  /** Weight of a doubtful report. */
  doubtful: Number;
  /** Weight of a fairly sure report. */
  fairly_sure: Number;
  /** Chance that an examination as a whole is poor, unless the case says otherwise. */
  poor: Number;
  /** What a report's reliability above chance is multiplied by when it is. */
  poor_factor: Number;
  /** How much larger an instrument's error then is. */
  poor_instrument: Number;
  /** Weight of a sure report against an uninformative one. */
  sure: Number;
}

/** What to explain. */
export interface ExplainOptions {
  /** Ids of two histories to set against each other as well. */
  between?: [string, string] | null | undefined;
}

/** What somebody adds to, or changes in, a pack that comes with the crate. */
export interface ExtensionFile {
  /** Further cautions. */
  caution?: CautionFile[] | undefined;
  /** Further checks. */
  check?: CheckFile[] | undefined;
  /**
   * For each new history, in how many of 1,000 pieces of a variant it is the story: by id of
   * history, then of variant (or `any`). The pack's own counts share what is left.
   */
  counts?: Record<string, Record<string, number>> | undefined;
  /** Further in-use curves. */
  curve?: CurveFile[] | undefined;
  /** How strongly its numbers are held and where they come from, unless they say otherwise. */
  defaults: Defaults;
  /** Id of the form whose pack is extended. */
  extends: string;
  /** New groups. */
  group?: GroupFile[] | undefined;
  /** New histories; each needs its `counts`. */
  history?: HistoryFile[] | undefined;
  /** Whose extension it is, kebab-case; shown beside the pack's version. */
  id: string;
  /** New incidents, or ones taken from the library. */
  incident?: IncidentFile[] | undefined;
  /** New tables of when later work was done. */
  later_work?: LaterWorkFile[] | undefined;
  /** New measures. */
  measure?: MeasureFile[] | undefined;
  /**
   * Additions to entries of the pack, by what they add to: `sign/ID`, `measure/ID`,
   * `incident/ID` or `history/ID`.
   */
  more?: Record<string, MoreFile> | undefined;
  /** Other values for numbers of the pack, by number id. */
  numbers?: Record<string, Number> | undefined;
  /** New parts. One with a date needs an origin from every history, new or old. */
  part?: PartFile[] | undefined;
  /** New periods. */
  period?: PeriodFile[] | undefined;
  /** Counts for new variants, over all histories. */
  prior?: PriorFile[] | undefined;
  /** Further shifts of the counts. */
  prior_factor?: PriorFactorFile[] | undefined;
  /** New regions. */
  region?: RegionFile[] | undefined;
  /** Always `oddment/extension/1`. */
  schema: string;
  /** New signs, or ones taken from the library. */
  sign?: SignFile[] | undefined;
  /** Further references. */
  source?: SourceFile[] | undefined;
  /** What it changes, and why. */
  summary: string;
  /** New variants; each needs a `prior` of its own. */
  variant?: VariantFile[] | undefined;
  /** Counts up with every change of content. */
  version: string;
}

/** What the examiner reports for a sign at a part. */
export interface FindingFile {
  /** A level of the sign (`yes`, `no`, `slight` ...), or `not-looked`, or `no-access`. */
  found: string;
  /**
   * Numbers repeated looks within one visit, so that an entry made twice by mistake is told from
   * a second look.
   */
  look?: number | null | undefined;
  /** Anything else. */
  note?: string | null | undefined;
  /** Id of the part, when the sign can be at several. */
  part?: string | null | undefined;
  /** Id of the sign. */
  sign: string;
  /** How sure; `sure` when absent. */
  sure?: Sureness | undefined;
  /** Id of the visit, when there are several. */
  visit?: string | null | undefined;
}

/** What a finding or reading weighed. */
export interface FindingWeight {
  /**
   * Decibans for each verdict against all others: the odds with everything over the odds with
   * this alone withdrawn.
   */
  decibans: Record<string, number>;
  /** What was reported, in words. */
  found: string;
  /** Id of the sign or measure. */
  id: string;
  /**
   * The most likely incident that could by itself explain the report: one that makes the sign
   * where it was found, one that hides it where it was not.
   */
  incident: IncidentShift | null;
  /** The innocent reading of the sign. */
  innocent: string;
  /** Its name. */
  name: string;
  /** The same had the opposite been reported; readings have none. */
  opposite: Opposite | null;
  /** Id of the part. */
  part: string;
  /** What it points to. */
  points_to: string;
  /** How sure; readings are always sure. */
  sure: Sureness;
  /** Id of the visit. */
  visit: string;
}

/** Whether any story told here fits. */
export interface Fit {
  /** What follows. */
  judgement: FitJudgement;
  /** Seed of the simulation. */
  seed: number;
  /**
   * Of simulated pieces looked at in the same places, the share whose findings were at least as
   * rare as these.
   */
  share_as_rare: number;
  /** How many pieces were simulated. */
  simulated: number;
}

/** What the fit check says. */
export type FitJudgement =
  /** It was not asked for. */
  | "not-asked"
  /** Nothing was reported that could fit or not. */
  | "nothing-to-judge"
  /** Such findings are ordinary. */
  | "fits"
  /** Such findings are unusual under every story told here (rarer than 95 in 100). */
  | "unusual"
  /** No story told here fits well (rarer than 99 in 100). */
  | "no-story-fits";

/** A value at which what must hold stops to hold. */
export interface Flip {
  /** True when it stops above the value, false when below. */
  above: boolean;
  /** The value. */
  at: number;
  /** The verdict that leads beyond it. */
  leads: Verdict;
}

/** Everything a pack says of its form, the library's share included. */
export interface FormDescription {
  /** Cautions that checks point to. */
  cautions: CautionFile[];
  /** Ways of looking, least trouble first. */
  checks: CheckDescription[];
  /** When dated technologies were in use. */
  curves: CurveFile[];
  /**
   * First year of the first bin of the grid of making dates, the year after its last, and the
   * width of a bin.
   */
  dates: [number, number, number];
  /** Version of the engine. */
  engine: string;
  /** Acts that leave several signs. */
  groups: GroupDescription[];
  /** The rival stories. */
  histories: HistoryDescription[];
  /** Honest events of a long life. */
  incidents: IncidentDescription[];
  /** What can be measured. */
  measures: MeasureDescription[];
  /** Every elicited number, which a case may replace under its id. */
  numbers: NumberDescription[];
  /** The pack described. */
  pack: PackStamp;
  /** Named components. */
  parts: FormDescriptionPartFile[];
  /** Periods that pieces are claimed to be of. */
  periods: PeriodFile[];
  /** How many of 1,000 pieces offered as such have each history, for each variant. */
  priors: PriorDescription[];
  /** Regions that pieces are claimed to come from. */
  regions: RegionFile[];
  /** Always `oddment/form/1`. */
  schema: string;
  /** What can be seen or felt. */
  signs: SignDescription[];
  /** References that numbers cite. */
  sources: SourceFile[];
  /** What it covers and how far its numbers can be trusted. */
  summary: string;
  /** Kinds of the form. */
  variants: VariantFile[];
}

/** A named component. */
export interface FormDescriptionPartFile {
  /** Whether the part has a making date of its own, so that every history gives it an origin. */
  dated: boolean;
  /** Kebab-case. */
  id: string;
  /** A few words. */
  name: string;
  /** Anything worth knowing. */
  note?: string | null | undefined;
  /**
   * Only pieces offered as these variants have it; all when absent. Its signs and measures are
   * then asked of those alone.
   */
  variants?: string[] | null | undefined;
}

/** A form in a list. */
export interface FormSummary {
  /** Its id. */
  id: string;
  /** Its name. */
  name: string;
  /** What the pack covers and how far its numbers can be trusted. */
  summary: string;
  /** The pack's version. */
  version: string;
}

/** An act that leaves several signs. */
export interface GroupDescription {
  /** Its id. */
  id: string;
  /** The act. */
  name: string;
  /** Why the signs hang together. */
  reason: string;
}

/** Signs left by one and the same act. */
export interface GroupFile {
  /** 0 for independent signs, 1 for signs that stand and fall together. */
  coupling: Number;
  /** Kebab-case. */
  id: string;
  /** The act, in a few words. */
  name: string;
  /** Why these hang together. */
  reason: string;
}

/** How much of the spread of the leading verdict's probability comes from one group of numbers. */
export interface GroupShare {
  /**
   * Share of the variance that the group explains by itself (first Sobol index), and its 90 %
   * interval.
   */
  first: number;
  /** High end. */
  first_high: number;
  /** Low end. */
  first_low: number;
  /** The group. */
  group: NumberGroup;
  /** How many of the case's numbers are in it. */
  numbers: number;
  /** Share that would go if all else were known (total Sobol index), and its 90 % interval. */
  total: number;
  /** High end. */
  total_high: number;
  /** Low end. */
  total_low: number;
}

/** A rival story. */
export interface HistoryDescription {
  /** Its id. */
  id: string;
  /** A word that histories of several forms share. */
  kind: string;
  /** A few words. */
  name: string;
  /** What happened, and what it would have left behind. */
  story: string;
  /** The verdict it belongs to. */
  verdict: Verdict;
}

/** One rival story. */
export interface HistoryFile {
  /**
   * How the count grows with the price gap: multiplied by (ratio / reference ratio) to this
   * power. Absent or 0 for histories that do not profit.
   */
  elasticity?: Number | null | undefined;
  /** Kebab-case. */
  id: string;
  /**
   * A word that histories of several forms share, for use as a selector: `as-made`, `repaired`,
   * `later-top`, `two-halves`, `re-cut`, `made-up`, `revival` ... Kebab-case.
   */
  kind: string;
  /** A few words. */
  name: string;
  /** Where each dated part comes from. */
  origin?: Record<string, OriginFile> | undefined;
  /** One paragraph: what happened, and what it would have left behind. */
  story: string;
  /** The verdict it belongs to. */
  verdict: Verdict;
}

/** Odds of a history. */
export interface HistoryOdds {
  /** Total weight of evidence for it against all others, in decibans. */
  decibans: number;
  /** Its id. */
  id: string;
  /** Its name. */
  name: string;
  /** Probability before any finding. */
  prior: number;
  /** Probability given all findings. */
  probability: number;
  /** Its story. */
  story: string;
  /** The verdict it belongs to. */
  verdict: Verdict;
}

/** The spread of a history's probability. */
export interface HistorySpread {
  /** Id of the history. */
  id: string;
  /** Its name. */
  name: string;
  /** Its probability at the numbers as elicited. */
  probability: number;
  /** The spread over the draws. */
  spread: Spread;
  /** The verdict it belongs to. */
  verdict: Verdict;
}

/** An honest event. */
export interface IncidentDescription {
  /** What it does to a piece. */
  effect: string;
  /** Its id. */
  id: string;
  /** A few words. */
  name: string;
}

/** An honest event of a long life that can cause or hide signs under any history. */
export interface IncidentFile {
  /** What it does to a piece. */
  effect?: string | null | undefined;
  /** Id of a library incident whose fields hold where none are given here. */
  from?: string | null | undefined;
  /** Kebab-case; taken from `from` when absent. */
  id?: string | null | undefined;
  /** A few words. */
  name?: string | null | undefined;
  /** Its chance, by selector. */
  rate?: Record<string, Number> | null | undefined;
  /** Source of numbers that do not state their own. */
  source?: string | null | undefined;
  /** Equivalent sample size of numbers that do not state their own. */
  strength?: number | null | undefined;
}

/** Chance of an incident. */
export interface IncidentOdds {
  /** Its id. */
  id: string;
  /** Its name. */
  name: string;
  /** Probability before any finding. */
  prior: number;
  /** Probability given all findings. */
  probability: number;
}

/** How far a finding moved an incident's probability. */
export interface IncidentShift {
  /** Id of the incident. */
  id: string;
  /** Name of the incident. */
  name: string;
  /** Its probability with it. */
  with: number;
  /** Its probability with the finding withdrawn. */
  without: number;
}

/** How far an innocent incident carries a finding. */
export interface InnocentReading {
  /** Id of the incident. */
  id: string;
  /**
   * What withdrawing the finding would cost were the incident known to have happened, one for
   * each question; absent where the findings rule the incident out.
   */
  if_happened: number[] | null;
  /** Its name. */
  name: string;
  /** Its probability with this finding too. */
  with: number;
  /** Its probability given all other findings. */
  without: number;
}

/** When work later than the claim was done. */
export interface LaterWorkFile {
  /** Kebab-case. */
  id: string;
  /**
   * Points `[year, weight]`, years rising, weights not negative; straight between points, zero
   * outside. Only years after the claim count.
   */
  points: ([number, number])[];
  /** Why this shape. */
  reason: string;
  /** Id of a source. */
  source?: string | null | undefined;
  /** Equivalent sample size. */
  strength?: number | null | undefined;
}

/** What to ask of the numbers. */
export interface LeanOptions {
  /** Ids of two numbers to move together. */
  grid?: [string, string] | null | undefined;
  /**
   * How the pieces that are not original are divided in the sweep of the starting odds; as in the
   * case when absent. A verdict left out has no part.
   */
  mix?: Record<string, number> | null | undefined;
  /** Other people's opinions to pool with the case as it stands. */
  opinions?: WeighedOpinion[] | undefined;
  /**
   * A probability above 0 and below 1 whose side it should stay on; when absent, the leading
   * verdict should go on leading.
   */
  threshold?: number | null | undefined;
  /** The verdict to look at; the leading one when absent. */
  verdict?: Verdict | null | undefined;
}

/** How far a verdict hangs on the elicited numbers. */
export interface Leaning {
  /** Lowest and highest probability when every number may move within its range at once. */
  bounds: RobustBounds[];
  /** Version of the engine. */
  engine: string;
  /** Two numbers moved together, if asked. */
  grid: TwoWayGrid | null;
  /** The verdict that leads. */
  leading: Verdict;
  /** What this is not. */
  limits: string;
  /** Every number that matters here, the widest swing over its own 90 % range first. */
  numbers: NumberLeaning[];
  /** The pack it rests on. */
  pack: PackStamp;
  /** The piece, as claimed. */
  piece: PieceSummary;
  /** Several opinions pooled, if asked. */
  pool: Pool | null;
  /** Its probability. */
  probability: number;
  /** Always `oddment/leaning/1`. */
  schema: string;
  /** The verdicts over a sweep of the prior. */
  sweep: PriorSweep;
  /**
   * The probability whose side it should stay on, if one was asked for; otherwise what must hold is
   * that the leading verdict goes on leading.
   */
  threshold: number | null;
  /**
   * How many numbers of the pack do not matter to this case at all. How much worse instruments
   * are in a poor examination is counted here too: it is not leaned on, though with readings it
   * moves the answer a little.
   */
  unmoved: number;
  /** The verdict whose probability is looked at: the leading one unless another was asked for. */
  verdict: Verdict;
}

/** Whether the owner must be asked. */
export type Leave =
  /** Not needed. */
  | "not-needed"
  /** Ask first. */
  | "ask"
  /** Needed in writing. */
  | "written";

/** The shared library: what several forms have in common. */
export interface LibraryFile {
  /** Cautions that checks point to. */
  caution?: CautionFile[] | undefined;
  /** Ways of looking. */
  check?: CheckFile[] | undefined;
  /** In-use curves of dated technologies. */
  curve?: CurveFile[] | undefined;
  /** How strongly numbers are held and where they come from, unless they say otherwise. */
  defaults: Defaults;
  /** How reports go wrong in a poor examination. */
  examination?: ExaminationFile | null | undefined;
  /** Honest events of a long life. */
  incident?: IncidentFile[] | undefined;
  /** Always `oddment/library/1`. */
  schema: string;
  /** Signs that several forms share. */
  sign?: SignFile[] | undefined;
  /** References that numbers cite. */
  source?: SourceFile[] | undefined;
  /** Counts up with every change of content. */
  version: string;
}

/** Something doubtful. */
export interface LintFinding {
  /** What it is about: an entry such as `sign/join-hollow`. */
  about: string;
  /** Stable code, such as `lint/unused`. */
  code: string;
  /** What is doubtful, why it matters and what could be done. */
  message: string;
}

/** Something that can be measured. */
export interface MeasureDescription {
  /** Id of the check that answers it. */
  check: string;
  /** Standard error of an ordinary instrument. */
  error: number;
  /** Its id. */
  id: string;
  /** The innocent reading. */
  innocent: string;
  /** What is measured. */
  name: string;
  /** Id of the part. */
  part: string;
  /** Readings outside are refused. */
  plausible: [number, number];
  /** What it points to. */
  points_to: string;
  /** Its unit. */
  unit: string;
  /** Ids of the only variants that have it to measure; all of them when null. */
  variants: string[] | null;
}

/** Something that can be measured. */
export interface MeasureFile {
  /** Id of the check. */
  check: string;
  /** Density of the true value, by selector. */
  density?: Record<string, Density> | undefined;
  /** Standard error of an ordinary instrument in an ordinary hand, in the unit. */
  error: number;
  /** Kebab-case. */
  id: string;
  /** The innocent reading. */
  innocent: string;
  /**
   * Instead of `density`, for movement across the grain in mm per m: the fall in moisture since
   * the part was made, by selector. The published dimensional-change equation does the rest.
   */
  movement?: Record<string, MovementFile> | undefined;
  /** What is measured, in one line. */
  name: string;
  /**
   * Densities that hold under any history once an incident happened; the first that happened
   * decides.
   */
  override?: OverrideFile[] | undefined;
  /** Id of the part. */
  part: string;
  /** Readings outside are refused as slips of the pen. */
  plausible: [number, number];
  /** What it points to. */
  points_to: string;
  /**
   * Why a single reading may settle a case alone: lifts the bound on how much one unaided
   * observation may say (see `lint/overwhelming`). At least a sentence.
   */
  settles?: string | null | undefined;
  /** Id of a source. */
  source?: string | null | undefined;
  /** Equivalent sample size. */
  strength?: number | null | undefined;
  /** `mm`, `mm-per-m`, `steps`, `ratio`, `degrees`, `count`, `years`, `kg` or `percent`. */
  unit: string;
  /** Only pieces offered as these variants have it to measure; all when absent. */
  variants?: string[] | null | undefined;
}

/** What is added to an entry of the pack. */
export interface MoreFile {
  /** To a sign: further incidents that can make it. */
  caused_by?: Record<string, Chance> | undefined;
  /** To a measure: densities for further selectors. */
  density?: Record<string, Density> | undefined;
  /** To a sign: further incidents that can wipe it out. */
  hidden_by?: Record<string, Number> | undefined;
  /** To a measure of movement: expectations for further selectors. */
  movement?: Record<string, MovementFile> | undefined;
  /** To a history: origins of new parts. */
  origin?: Record<string, OriginFile> | undefined;
  /** To an incident: chances for further selectors. */
  rate?: Record<string, Number> | undefined;
  /** To a sign: chances for further selectors. */
  shows?: Record<string, Chance> | undefined;
}

/** Movement across the grain since a part was made. */
export interface MovementFile {
  /** Mean fall in moisture content, percentage points. */
  moisture_fall: number;
  /** Its standard deviation. */
  moisture_fall_sd: number;
  /** Standard deviation of what the equation leaves, mm per m. */
  sd: number;
  /** Movement not explained by the equation (compression set), mm per m. */
  set?: number | undefined;
}

/** What to allow of further looking. */
export interface NextOptions {
  /** How far one may go; as far as it takes when absent. Papers may always be read. */
  access?: Access | null | undefined;
  /** Minutes there are, above 0 and at most 10,080; a plan is made for them. */
  minutes?: number | null | undefined;
  /** Only checks that need nobody's leave. */
  without_leave?: boolean | undefined;
}

/** Something not looked at. */
export interface NotLooked {
  /** How far one must go. */
  access: Access;
  /** Id of the check that would answer it. */
  check: string;
  /** Name of the check. */
  check_name: string;
  /** Id of the sign or measure. */
  id: string;
  /** Minutes the check takes. */
  minutes: number;
  /** Its name. */
  name: string;
  /** True when it was tried and could not be looked at. */
  no_access: boolean;
  /** Id of the part. */
  part: string;
}

/** An elicited number: a plain mean, or a mean with its own strength and source. */
export type Number = number | StatedNumber;

/** An elicited number. */
export interface NumberDescription {
  /** Which values it may take. */
  domain: NumberDomain;
  /** Its id. */
  id: string;
  /** Its mean. */
  mean: number;
  /** Id of its source. */
  source: string;
  /** Equivalent sample size: how many pieces seen it is worth. */
  strength: number;
  /** Exactly 0 or 1 by the nature of the thing, and not to be replaced. */
  structural: boolean;
  /** In what it is told. */
  unit: NumberUnit;
  /** What it says, in the pack's own words. */
  words: string;
}

/** Which values a number may take. */
export type NumberDomain =
  /** Strictly between 0 and 1. */
  | "chance"
  /** From 0 to 1. */
  | "share"
  /** 0 or more. */
  | "not-negative"
  /** Above 0; 1 changes nothing. */
  | "stretch"
  /** Any; 0 changes nothing. */
  | "shift";

/** Which part of a case's numbers. */
export type NumberGroup =
  /** Prior counts, and their shifts by period, region and variant. */
  | "prior"
  /** The pull of the price gap. */
  | "temptation"
  /** How often incidents happen. */
  | "incidents"
  /** What histories and incidents show and hide, and how it hangs together. */
  | "signs"
  /** When techniques were in use and how they show. */
  | "dates"
  /** How well reports can be relied on. */
  | "reports"
  /** What is expected of measures. */
  | "measures";

/** How far the probability hangs on one number. */
export interface NumberLeaning {
  /** The probability at the high end. */
  at_high: number;
  /** The probability at the low end of the range. */
  at_low: number;
  /** The probability as a function of the number, everything else as it is. */
  curve: Curve;
  /** Where it stops to hold, nearest first; empty when no value of the curve does that. */
  flips: Flip[];
  /** 5 in 100 are above. */
  high: number;
  /**
   * The values around its own within which what must hold holds: the lowest, or the lowest that
   * the curve was computed for.
   */
  holds_from: number;
  /** The highest. */
  holds_to: number;
  /** Id of the number. */
  id: string;
  /** Its own 90 % range: 5 in 100 are below. */
  low: number;
  /** Slope of the curve at the value. */
  slope: number;
  /** Id of its source. */
  source: string;
  /** Equivalent sample size. */
  strength: number;
  /** The unit its values are told in. */
  unit: NumberUnit;
  /** Its value in this case. */
  value: number;
  /** What the number says, in the pack's own words. */
  words: string;
}

/** In what a number is told. */
export type NumberUnit =
  /** A chance, told as so many in 100. */
  | "chance"
  /** A count out of 1,000 pieces. */
  | "count"
  /** A plain factor or power. */
  | "plain"
  /** A shift in the measure's own unit. */
  | "shift";

/** One opinion's answer. */
export interface Opinion {
  /** Whose. */
  name: string;
  /** Its prior probabilities of the verdicts, in the usual order. */
  priors: number[];
  /** Its probabilities given all findings. */
  verdicts: number[];
  /** Its weight, all summing to 1. */
  weight: number;
}

/** What somebody else would put into a case: another prior, other numbers, the same findings. */
export interface OpinionFile {
  /** Whose opinion (initials or a role). */
  name: string;
  /** Values for numbers of the pack, by number id, before those of the case. */
  numbers?: Record<string, number> | undefined;
  /**
   * Prior counts by history id, instead of the case's and the pack's; they are normalised, and a
   * history left out counts 0.
   */
  prior?: Record<string, number> | undefined;
  /** Always `oddment/opinion/1`. */
  schema: string;
}

/** What the opposite report would have weighed. */
export interface Opposite {
  /** Decibans for each verdict. */
  decibans: Record<string, number>;
  /** The report, in words. */
  found: string;
}

/** When a part was made under a history. */
export type OriginFile =
  /** Within the claimed period: uniform, with soft shoulders. */
  | "claim"
  /** Uniform between two years. */
  | {
    between: [number, number];
  }
  /** After the claim, weighted as the `later_work` of this id. */
  | {
    after: string;
  }
  /** Before the claim: uniform over this many years before its start. */
  | {
    older: number;
  }
  /** At the same time as another part. */
  | {
    shares: string;
  };

/** What every check still to do is expected to tell, and a plan for the time there is. */
export interface Outlook {
  /** Cautions for the checks listed. */
  cautions: CautionNote[];
  /**
   * Every check with something left to look at, the most telling per minute first, those not
   * allowed last.
   */
  checks: CheckValue[];
  /** Version of the engine. */
  engine: string;
  /** The verdict that leads now. */
  leading: Verdict;
  /** What this is not. */
  limits: string;
  /**
   * True when no check that is allowed has more than one chance in a thousand of changing the
   * leading verdict, nor (where figures were given) is worth what it costs.
   */
  nothing_left: boolean;
  /** How open the verdict is now: its entropy, in bits (0 settled, 2 all four alike). */
  open_bits: number;
  /** The pack it rests on. */
  pack: PackStamp;
  /** The piece, as claimed. */
  piece: PieceSummary;
  /** The plan, when a time was given. */
  plan: Plan | null;
  /** Its probability now. */
  probability: number;
  /** Always `oddment/outlook/1`. */
  schema: string;
}

/** A measure's density once an incident happened. */
export interface OverrideFile {
  /** Density of the true value then. */
  density: Density;
  /** Id of the incident. */
  incident: string;
}

/** One form's pack. */
export interface PackFile {
  /** Cautions beyond the library's. */
  caution?: CautionFile[] | undefined;
  /**
   * Checks beyond the library's, or (with `from`) overriding one. Library checks that a sign
   * names need not be repeated.
   */
  check?: CheckFile[] | undefined;
  /** In-use curves beyond the library's, or replacing one of them. */
  curve?: CurveFile[] | undefined;
  /** The grid of making dates. */
  dates: DatesFile;
  /** How strongly numbers are held and where they come from, unless they say otherwise. */
  defaults: Defaults;
  /** How reports go wrong in a poor examination, where it differs from the library. */
  examination?: ExaminationFile | null | undefined;
  /** Signs left by one act share how clearly it left its traces. */
  group?: GroupFile[] | undefined;
  /** The rival stories. */
  history?: HistoryFile[] | undefined;
  /** The form's id, kebab-case, never reused. */
  id: string;
  /** The incidents of this form; with `from`, what is not given is taken from the library. */
  incident?: IncidentFile[] | undefined;
  /** When work later than the claim was done, as weights by year. */
  later_work?: LaterWorkFile[] | undefined;
  /** What can be measured. */
  measure?: MeasureFile[] | undefined;
  /** The form's name. */
  name: string;
  /** Named components. */
  part?: PartFile[] | undefined;
  /** Periods that pieces are claimed to be of. */
  period?: PeriodFile[] | undefined;
  /** How many in 1,000 pieces offered as such have each history, by variant. */
  prior?: PriorFile[] | undefined;
  /** How a period or region shifts those counts. */
  prior_factor?: PriorFactorFile[] | undefined;
  /** Regions that pieces are claimed to come from. */
  region?: RegionFile[] | undefined;
  /** Always `oddment/pack/1`. */
  schema: string;
  /** What can be seen or felt; with `from`, what is not given is taken from the library. */
  sign?: SignFile[] | undefined;
  /** References beyond the library's. */
  source?: SourceFile[] | undefined;
  /** What the pack covers and how far its numbers can be trusted. */
  summary: string;
  /** Kinds of the form that differ in price and in how often they are wrong. */
  variant?: VariantFile[] | undefined;
  /** Counts up with every change of content. */
  version: string;
}

/** Which pack an assessment rests on. */
export interface PackStamp {
  /** SHA-256 of both texts. */
  digest: string;
  /** The form's id. */
  id: string;
  /** The shared library's version. */
  library_version: string;
  /** The form's name. */
  name: string;
  /** The pack's version. */
  version: string;
}

/** One share of a [`Density::Mixture`]. */
export interface Part {
  /** The family that share follows. */
  density: Density;
  /** Share of the mixture, from 0 to 1. */
  weight: number;
}

/** When a part was made. */
export interface PartDate {
  /** Probability of each bin of the date grid. */
  bins: DateBin[];
  /** The year that 5 in 100 are younger than. */
  high: number;
  /** The year that 5 in 100 are older than. */
  low: number;
  /** The year it is as likely to be older than as younger. */
  median: number;
  /** The part's name. */
  name: string;
  /** The part's id. */
  part: string;
}

/** A named component. */
export interface PartFile {
  /** Whether the part has a making date of its own, so that every history gives it an origin. */
  dated?: boolean | undefined;
  /** Kebab-case. */
  id: string;
  /** A few words. */
  name: string;
  /** Anything worth knowing. */
  note?: string | null | undefined;
  /**
   * Only pieces offered as these variants have it; all when absent. Its signs and measures are
   * then asked of those alone.
   */
  variants?: string[] | null | undefined;
}

/** A period that pieces are claimed to be of. */
export interface PeriodFile {
  /** First year of the claim. */
  from: number;
  /** Kebab-case. */
  id: string;
  /** A few words. */
  name: string;
  /** Anything worth knowing. */
  note?: string | null | undefined;
  /** Last year of the claim. */
  to: number;
}

/** The piece and what is claimed of it. */
export interface PieceFile {
  /** Claimed years, when narrower than the period's: first and last. */
  claimed_years?: [number, number] | null | undefined;
  /** Id of the form. */
  form: string;
  /** Anything else. Say here when a case is invented. */
  note?: string | null | undefined;
  /** Id of the claimed period. */
  period: string;
  /** Prices that set the temptation, in any one currency. */
  prices?: PricesFile | null | undefined;
  /** Id of the claimed region. */
  region: string;
  /** Timber and cut of parts, for the prediction of wood movement, by part id. */
  timber?: Record<string, TimberFile> | undefined;
  /** A line to know it by. */
  title?: string | null | undefined;
  /** Id of the variant. */
  variant: string;
}

/** The piece, as claimed. */
export interface PieceSummary {
  /** Name of the period. */
  period: string;
  /** Why the prior is as it is: the variant's reason, then the shifts that hold. */
  prior_reasons: string[];
  /** Name of the region. */
  region: string;
  /** A line to know it by. */
  title: string | null;
  /** Name of the variant. */
  variant: string;
  /** First and last year claimed. */
  years: [number, number];
}

/** Checks chosen for a time and an access. */
export interface Plan {
  /** Chance that all allowed checks together change the leading verdict. */
  all_change_verdict: number;
  /** Expected information of all of them together, in bits. */
  bits: number;
  /** Expected information of every allowed check together, in bits: what is left to learn. */
  bits_of_all: number;
  /** Chance that they change the leading verdict. */
  changes_verdict: number;
  /** How many sets of answers were drawn. */
  draws: number;
  /** Minutes there are. */
  minutes: number;
  /** By how much naming the leading verdict would be right more often. */
  right_more_often: number;
  /** Seed of the draw. */
  seed: number;
  /** Standard error of the bits: answers to several checks are drawn. */
  standard_error: number;
  /** The checks, in the order to do them. */
  steps: PlanStep[];
  /** Minutes the plan takes. */
  used: number;
}

/** One step of a plan. */
export interface PlanStep {
  /** Expected information of the plan up to and with this step, in bits. */
  bits_so_far: number;
  /** Id of the check. */
  id: string;
  /** Minutes it takes. */
  minutes: number;
  /** Its name. */
  name: string;
}

/** Several opinions and what they come to together. */
export interface Pool {
  /** The weighted mean of the probabilities, in the usual order of verdicts. */
  linear: number[];
  /**
   * The weighted geometric mean, normalised; empty when the opinions rule out every verdict
   * between them.
   */
  logarithmic: number[];
  /** Each opinion's own answer. */
  opinions: Opinion[];
}

/**
 * A piece drawn from the model of a pack: what it is, and what an ordinary examiner who looks at
 * everything would write down.
 */
export interface Practice {
  /**
   * Every sign and measure as reported, mistakes included. To practise, show what is asked for
   * and leave out what is not.
   */
  case: PracticeCaseFile;
  /** Version of the engine. */
  engine: string;
  /** The pack it was drawn from. */
  pack: PackStamp;
  /** Always `oddment/practice/1`. */
  schema: string;
  /** The seed. */
  seed: number;
  /** What is to be found out. */
  truth: Truth;
}

/** A piece with what was found on it. */
export interface PracticeCaseFile {
  /**
   * What was found, or looked for and not found, or could not be looked at. A sign that is not
   * listed was not looked for.
   */
  finding?: FindingFile[] | undefined;
  /** Incidents known for certain from elsewhere (a repairer's bill), by incident id. */
  known?: Record<string, boolean> | undefined;
  /** The user's own values for numbers of the pack, by number id. */
  numbers?: Record<string, number> | undefined;
  /** The piece and what is claimed of it. */
  piece: PracticePieceFile;
  /** The user's own prior counts by history id, replacing the pack's; they are normalised. */
  prior?: Record<string, number> | undefined;
  /** Readings taken. */
  reading?: ReadingFile[] | undefined;
  /** Always `oddment/case/1`. */
  schema: string;
  /** What is at stake in buying it, on the user's own figures. */
  stakes?: PracticeStakesFile | null | undefined;
  /** Who looked, when and how. With none, one ordinary visit is assumed. */
  visit?: VisitFile[] | undefined;
}

/** Which piece to draw for practice. */
export interface PracticeOptions {
  /** Id of the period it is offered as; drawn when absent. */
  period?: string | null | undefined;
  /** Id of the region it is offered as; drawn when absent. */
  region?: string | null | undefined;
  /** Equal seeds give equal pieces; 0 when absent. */
  seed?: number | undefined;
  /** Id of the variant it is offered as; drawn when absent. */
  variant?: string | null | undefined;
}

/** The piece and what is claimed of it. */
export interface PracticePieceFile {
  /** Claimed years, when narrower than the period's: first and last. */
  claimed_years?: [number, number] | null | undefined;
  /** Id of the form. */
  form: string;
  /** Anything else. Say here when a case is invented. */
  note?: string | null | undefined;
  /** Id of the claimed period. */
  period: string;
  /** Prices that set the temptation, in any one currency. */
  prices?: PricesFile | null | undefined;
  /** Id of the claimed region. */
  region: string;
  /** Timber and cut of parts, for the prediction of wood movement, by part id. */
  timber?: Record<string, PracticeTimberFile> | undefined;
  /** A line to know it by. */
  title?: string | null | undefined;
  /** Id of the variant. */
  variant: string;
}

/** What selling a piece costs: a share of the price, an amount, or both. */
export interface PracticeResaleCostFile {
  /** Amount, whatever it sells for. */
  amount: number;
  /** Share of what it sells for, 0 to 1. */
  share: number;
}

/** What is at stake in buying a piece, on the user's own figures, all in one currency. */
export interface PracticeStakesFile {
  /** The price asked. */
  asking: number;
  /** The chance of loss to state a price for; 0.1 when absent. */
  chance_of_loss?: number | null | undefined;
  /** What a check costs beside the examiner's time, by check id. */
  check_cost?: Record<string, number> | undefined;
  /** What a minute of the examiner costs; 0 when absent. */
  minute?: number | null | undefined;
  /** What selling it costs; nothing when absent. */
  resale_cost?: PracticeResaleCostFile | null | undefined;
  /**
   * Constant relative risk aversion, 0 to 10; 0 (money counts as money) when absent. It needs
   * `wealth`.
   */
  risk_aversion?: number | null | undefined;
  /** The same as a share of what it would sell for if original, by verdict. */
  share_of_original?: Record<string, number> | undefined;
  /** What the buyer owns before buying. */
  wealth?: number | null | undefined;
  /**
   * What the piece would sell for, by verdict. `original` must be here, each other verdict here or
   * in `share_of_original`.
   */
  worth: Record<string, number>;
}

/** Timber of a part. */
export interface PracticeTimberFile {
  /** How the boards were cut. */
  cut: Cut;
  /** Id of a species in the wood table. */
  species: string;
}

/** What the piece would fetch as claimed, and what the plainer thing would. */
export interface PricesFile {
  /** As claimed. */
  as_claimed: number;
  /** The plainer thing it could have been made from. */
  plainer: number;
}

/** Where the odds of one variant start. */
export interface PriorDescription {
  /** Counts in the order of the histories, before periods, regions and prices shift them. */
  counts: number[];
  /** Why these. */
  reason: string;
  /** Id of the variant. */
  variant: string;
}

/** How a period, a region or a variant within them shifts the counts. */
export interface PriorFactorFile {
  /** Multiplier of the count, by selector; 1 where nothing fits. */
  factor: Record<string, number>;
  /** Kebab-case. */
  id: string;
  /** Only for these periods; all when absent. */
  periods?: string[] | null | undefined;
  /** Why. */
  reason: string;
  /** Only for these regions; all when absent. */
  regions?: string[] | null | undefined;
  /** Id of a source. */
  source?: string | null | undefined;
  /** Equivalent sample size. */
  strength?: number | null | undefined;
  /** Only for these variants; all when absent. */
  variants?: string[] | null | undefined;
}

/** How many in 1,000 pieces of one variant offered as such have each history. */
export interface PriorFile {
  /** Counts by history id, summing to 1,000. */
  counts: Record<string, number>;
  /** Why these counts. */
  reason: string;
  /** Id of a source. */
  source?: string | null | undefined;
  /** Equivalent sample size. */
  strength?: number | null | undefined;
  /** Id of a variant. */
  variant: string;
}

/** The verdicts over a sweep of the prior share that is not original. */
export interface PriorSweep {
  /** The share not original before any finding, in this case. */
  here: number;
  /** How that share is divided over married, converted and faked, summing to 1. */
  mix: number[];
  /** The sweep, from 1 in 100 to 60 in 100 and beyond where the verdict turns there. */
  points: SweepPoint[];
  /** The shares not original at which the leading verdict changes. */
  turns: SweepTurn[];
}

/** One thing wrong with a text. */
export interface Problem {
  /** Stable code, such as `case/unknown-id`. */
  code: string;
  /** One-based column in characters; 0 when it cannot be placed. */
  column: number;
  /** The line itself. */
  excerpt: string;
  /**
   * What it stands in: `case`, `pack`, `library`, `opinion 1` ...; for a pack or library that
   * comes with the engine, its file.
   */
  file: string;
  /**
   * One-based line; 0 when it cannot be placed. A value given as an object is read as JSON with
   * one field on a line.
   */
  line: number;
  /** The offending value and the remedy. */
  message: string;
}

/** One thing set against another. */
export interface Question {
  /** Odds given all findings, in decibans: `before + total`. */
  after: number;
  /** Id of the history spoken against; all other verdicts together when absent. */
  against: string | null;
  /** Its name. */
  against_name: string | null;
  /** Odds before any finding, in decibans. */
  before: number;
  /** Id of the verdict or history spoken for. */
  favoured: string;
  /** Its name. */
  favoured_name: string;
  /**
   * What all withdrawn weights leave of the total, `total - sum(withdrawn)`: what several
   * findings say in common (positive when they repeat one another in favour).
   */
  in_common: number;
  /** What adding up every finding's weight taken alone would have made of it: the naive sum. */
  naive: number;
  /** Weight of all findings together. */
  total: number;
}

/** A measurement: exactly one of `value`, `less_than`, `more_than`, `between`. */
export interface ReadingFile {
  /** Known only to lie between these. */
  between?: [number, number] | null | undefined;
  /** Standard error of the instrument, when not the measure's. */
  error?: number | null | undefined;
  /** Known only to be below this. */
  less_than?: number | null | undefined;
  /** Id of the measure. */
  measure: string;
  /** Known only to be above this. */
  more_than?: number | null | undefined;
  /** Anything else. */
  note?: string | null | undefined;
  /** Unit; when given it must be the measure's. */
  unit?: string | null | undefined;
  /** The reading, in the measure's unit. */
  value?: number | null | undefined;
  /** Id of the visit, when there are several. */
  visit?: string | null | undefined;
}

/** A region that pieces are claimed to come from. */
export interface RegionFile {
  /** Kebab-case. */
  id: string;
  /** A few words. */
  name: string;
  /** Usual timbers, peculiarities. */
  note?: string | null | undefined;
}

/** How often an average examiner reports a sign rightly. */
export type ReliabilityFile = {
  /** Of pieces that do not, the share reported as not having it (specificity). */
  cleared: Number;
  /** Of pieces that have it, the share reported as having it (sensitivity). */
  found: Number;
} | {
  /** Share of reports at the true level; the rest goes to the levels beside it. */
  exact: Number;
};

/** In which form a report is written. */
export type ReportFormat =
  /** One page that needs nothing else. */
  | "html"
  /** Plain Markdown. */
  | "markdown";

/** What to write. */
export interface ReportOptions {
  /** HTML when absent. */
  format?: ReportFormat | undefined;
}

/** What selling a piece costs: a share of the price, an amount, or both. */
export interface ResaleCostFile {
  /** Amount, whatever it sells for. */
  amount?: number | undefined;
  /** Share of what it sells for, 0 to 1. */
  share?: number | undefined;
}

/**
 * Lowest and highest probability of a verdict found with every number moving within its range.
 *
 * Found by going uphill from several starts: the true spread is at least as wide.
 */
export interface RobustBounds {
  /** The highest found. */
  high: number;
  /** The lowest found. */
  low: number;
  /** The verdict. */
  verdict: Verdict;
}

/** How the fair shares were computed. */
export interface ShareMethod {
  /** True when every order of the findings was taken into account. */
  exact: boolean;
  /** How many orders were drawn otherwise; 0 when exact. */
  orders: number;
  /** Seed of the draw. */
  seed: number;
}

/** Something that can be seen or felt. */
export interface SignDescription {
  /** Ids of incidents that can cause it. */
  caused_by: string[];
  /** Id of the check that answers it. */
  check: string;
  /** Id of the curve of the technology it dates by. */
  curve: string | null;
  /** Id of the act that leaves it along with others. */
  group: string | null;
  /** Ids of incidents that can hide it. */
  hidden_by: string[];
  /** Its id. */
  id: string;
  /** The innocent reading. */
  innocent: string;
  /** Names of its levels, "not there" first: what a finding may say. */
  levels: string[];
  /** The sign in one line. */
  name: string;
  /** Ids of the parts it is looked for at. */
  parts: string[];
  /** What it points to. */
  points_to: string;
  /** Ids of the only variants that have it to look for; all of them when null. */
  variants: string[] | null;
}

/** Something that can be seen or felt at one or more parts. */
export interface SignFile {
  /** Chance that an incident, if it happened, makes the sign by itself, by incident id. */
  caused_by?: Record<string, Chance> | null | undefined;
  /** Id of the check that answers it. */
  check?: string | null | undefined;
  /** For a dated sign, instead of `shows`. */
  dated?: DatedFile | null | undefined;
  /**
   * Id of a library sign whose fields hold where none are given here; maps are joined, entries
   * given here win.
   */
  from?: string | null | undefined;
  /** Id of a group of signs left by the same act; not for dated signs. */
  group?: string | null | undefined;
  /** Chance that an incident, if it happened, wipes a present sign out, by incident id. */
  hidden_by?: Record<string, Number> | null | undefined;
  /** Kebab-case; taken from `from` when absent. */
  id?: string | null | undefined;
  /** The innocent reading. */
  innocent?: string | null | undefined;
  /** Names of the levels from "not there" upward; `["no", "yes"]` when absent. */
  levels?: string[] | null | undefined;
  /** The sign in one line, as the examiner would say it. */
  name?: string | null | undefined;
  /** Ids of the parts it is looked for at; one finding each. */
  parts?: string[] | null | undefined;
  /** What it points to when it is there. */
  points_to?: string | null | undefined;
  /** How often an average examiner reports it rightly. */
  reliability?: ReliabilityFile | null | undefined;
  /**
   * Why a single look at it may settle a case alone: lifts the bound on how much one unaided
   * observation may say (see `lint/overwhelming`). At least a sentence.
   */
  settles?: string | null | undefined;
  /**
   * Chance that it is there because of the history itself, incidents left out, by selector. For
   * a graded sign a row of chances, one for each level.
   */
  shows?: Record<string, Chance> | null | undefined;
  /** Source of numbers that do not state their own. */
  source?: string | null | undefined;
  /** Equivalent sample size of numbers that do not state their own. */
  strength?: number | null | undefined;
  /** Only pieces offered as these variants have it to look for; all when absent. */
  variants?: string[] | null | undefined;
}

/** A reference that numbers cite. */
export interface SourceFile {
  /** Kebab-case. */
  id: string;
  /** Anything a reader should know before relying on it. */
  note?: string | null | undefined;
  /** Author, year, title, table or page; or what kind of judgement it is. */
  reference: string;
  /** How well it supports what it is cited for. */
  standing: Standing;
}

/** Mean and quantiles of a probability over the draws. */
export interface Spread {
  /** 5 in 100 are above. */
  high: number;
  /** 5 in 100 draws are below. */
  low: number;
  /** A quarter are below. */
  lower_quartile: number;
  /** The mean. */
  mean: number;
  /** Half are below. */
  median: number;
  /** A quarter are above. */
  upper_quartile: number;
}

/** What is at stake in buying a piece: the user's own figures, all in one currency. */
export interface Stakes {
  /** The price asked. */
  asking: number;
  /** The buyer's attitude to risk. */
  attitude: Attitude;
  /** The chance of loss to state a price for, 0 up to 1. */
  chance_of_loss: number;
  /** What a check costs beside the examiner's time, by check id; one that is not here costs nothing. */
  check_cost: Record<string, number>;
  /** What a minute of the examiner costs. */
  minute: number;
  /** What selling takes besides, as an amount. */
  resale_amount: number;
  /** What selling takes of the price, as a share of it. */
  resale_share: number;
  /** What the piece would sell for under each verdict. */
  worth: ByVerdict;
}

/** What is at stake in buying a piece, on the user's own figures, all in one currency. */
export interface StakesFile {
  /** The price asked. */
  asking: number;
  /** The chance of loss to state a price for; 0.1 when absent. */
  chance_of_loss?: number | null | undefined;
  /** What a check costs beside the examiner's time, by check id. */
  check_cost?: Record<string, number> | undefined;
  /** What a minute of the examiner costs; 0 when absent. */
  minute?: number | null | undefined;
  /** What selling it costs; nothing when absent. */
  resale_cost?: ResaleCostFile | null | undefined;
  /**
   * Constant relative risk aversion, 0 to 10; 0 (money counts as money) when absent. It needs
   * `wealth`.
   */
  risk_aversion?: number | null | undefined;
  /** The same as a share of what it would sell for if original, by verdict. */
  share_of_original?: Record<string, number> | undefined;
  /** What the buyer owns before buying. */
  wealth?: number | null | undefined;
  /**
   * What the piece would sell for, by verdict. `original` must be here, each other verdict here or
   * in `share_of_original`.
   */
  worth: Record<string, number>;
}

/** How well a source supports what it is cited for. */
export type Standing =
  /** Published, and read for this purpose. */
  | "read"
  /** Published, and read in part or at second hand. */
  | "read-in-part"
  /** Published, recalled from memory, unverified. */
  | "from-memory"
  /** Common practice of the trade, no source. */
  | "common-practice"
  /** A working guess. */
  | "elicited";

/** A number that states its own strength or source. */
export interface StatedNumber {
  /** The mean. */
  mean: number;
  /** Id of a source. */
  source?: string | null | undefined;
  /** Equivalent sample size. */
  strength?: number | null | undefined;
  /** True for a 0 or 1 that is so by the nature of the thing. */
  structural?: boolean | undefined;
}

/** The ENFSI 2015 strengths of support, weakest first. */
export type Strength =
  /** Ratio 1. */
  | "no-support"
  /** Over 1, to 10. */
  | "weak"
  /** Over 10, to 100. */
  | "moderate"
  /** Over 100, to 1,000. */
  | "moderately-strong"
  /** Over 1,000, to 10,000. */
  | "strong"
  /** Over 10,000, to 1,000,000. */
  | "very-strong"
  /** Over 1,000,000. */
  | "extremely-strong";

/** What to draw. */
export interface StudyOptions {
  /** How many draws, 2 to 1,000,000; 10,000 when absent. */
  draws?: number | undefined;
  /**
   * Pairs of draws to tell from which numbers the spread comes, no more than half the draws; 0
   * leaves it out; 1,000 when absent.
   */
  pairs?: number | undefined;
  /** Equal seeds give equal bits; 1 when absent. */
  seed?: number | undefined;
}

/** What a study found. */
export interface StudyReport {
  /** Draws asked for. */
  asked: number;
  /** Draws done; fewer when it was stopped. */
  draws: number;
  /** Version of the engine. */
  engine: string;
  /**
   * How much of the spread of its probability comes from which numbers, most first; empty when
   * left out or when too few draws were done.
   */
  groups: GroupShare[];
  /** The histories, most likely first. */
  histories: HistorySpread[];
  /** The verdict that leads at the numbers as elicited, whose probability the indices explain. */
  leading: Verdict;
  /** What this is not. */
  limits: string;
  /** How many numbers were drawn. */
  numbers: number;
  /** The pack it rests on. */
  pack: PackStamp;
  /** Pairs of draws used for that. */
  pairs: number;
  /** The piece, as claimed. */
  piece: PieceSummary;
  /** Always `oddment/study/1`. */
  schema: string;
  /** The seed. */
  seed: number;
  /** The verdicts, in the usual order. */
  verdicts: VerdictSpread[];
}

/** How sure the examiner is of a report. */
export type Sureness =
  /** No doubt about what was seen. */
  | "sure"
  /** Some doubt. */
  | "fairly-sure"
  /** As good as a guess with a lean. */
  | "doubtful";

/** One point of a sweep. */
export interface SweepPoint {
  /** Share not original before any finding. */
  not_original: number;
  /** Probabilities of the verdicts given all findings, in the usual order. */
  verdicts: number[];
}

/** A change of the leading verdict along a sweep. */
export interface SweepTurn {
  /** Leads above it. */
  above: Verdict;
  /** Share not original before any finding. */
  at: number;
  /** Leads below it. */
  below: Verdict;
}

/** One possible answer and where it would leave the verdict. */
export interface TellingAnswer {
  /** Chance of this report. */
  chance: number;
  /** The report, in words. */
  found: string;
  /** Id of the sign or measure. */
  id: string;
  /** Id of the part. */
  part: string;
  /** The verdict's probabilities then, in the usual order. */
  verdicts: number[];
}

/** Timber of a part. */
export interface TimberFile {
  /** How the boards were cut. */
  cut?: Cut | undefined;
  /** Id of a species in the wood table. */
  species: string;
}

/** Findings with one thing behind them. */
export interface Together {
  /** What is behind them. */
  behind: Behind;
  /** Id of the group, incident or part. */
  id: string;
  /** Positions of the findings in [`Argument::findings`], at least two. */
  members: number[];
  /** Its name. */
  name: string;
  /** For each question. */
  weights: TogetherWeight[];
}

/** What several findings weigh together for one question. */
export interface TogetherWeight {
  /** Together, with nothing else found. */
  joint: number;
  /** Each counted as if it had come alone, and added up. */
  naive: number;
  /** What would be lost by withdrawing them all from what else was found. */
  withdrawn: number;
}

/** When a part of a practice piece was made. */
export interface TrueDate {
  /** First year it may have been made in. */
  from: number;
  /** Id of the part. */
  part: string;
  /** The year after the last. */
  to: number;
}

/** A sign as it is. */
export interface TrueSign {
  /** The level, in the pack's word. */
  level: string;
  /** Id of the part. */
  part: string;
  /** Id of the sign. */
  sign: string;
}

/** What a practice piece is. */
export interface Truth {
  /** When its dated parts were made. */
  dates: TrueDate[];
  /** Id of its history. */
  history: string;
  /** Ids of the incidents that befell it. */
  incidents: string[];
  /** The history's name. */
  name: string;
  /** Every sign at every part as it is, whatever was reported. */
  signs: TrueSign[];
  /** What happened to it. */
  story: string;
  /** The verdict it belongs to. */
  verdict: Verdict;
}

/** The probability over two numbers moved together. */
export interface TwoWayGrid {
  /** Values of the first. */
  first: number[];
  /** Ids of the two numbers. */
  ids: [string, string];
  /** The leading verdict in each place. */
  leading: Verdict[][];
  /** For each value of the first a row over the second. */
  probabilities: number[][];
  /** Values of the second. */
  second: number[];
  /** Their words. */
  words: [string, string];
}

/** Something not looked at. */
export interface Unseen {
  /** Expected information of this one alone, in bits. */
  bits: number;
  /** Id of the sign or measure. */
  id: string;
  /** Its name. */
  name: string;
  /** Id of the part. */
  part: string;
}

/** A kind of the form. */
export interface VariantFile {
  /** Kebab-case. */
  id: string;
  /** The plainer thing. */
  made_from: string;
  /** A few words. */
  name: string;
  /** Anything worth knowing. */
  note?: string | null | undefined;
  /**
   * Price of this variant over the price of the plainer thing it could be made from. Also the
   * reference ratio at which the prior counts hold.
   */
  price_ratio: number;
}

/** The verdicts. */
export type Verdict =
  /** As first made, honest wear and repair included. */
  | "original"
  /** Parts of different pieces put together. */
  | "married"
  /** Form, size or use changed later. */
  | "converted"
  /** Made or dressed up to deceive. */
  | "faked";

/** Odds of a verdict. */
export interface VerdictOdds {
  /** Total weight of evidence for it, in decibans (negative: against). */
  decibans: number;
  /** Whether the findings support it. */
  direction: Direction;
  /**
   * How many of 1,000 pieces offered as such and showing just this have the verdict; the four
   * counts sum to 1,000.
   */
  in_thousand: number;
  /** Base-10 logarithm of those odds, within -300 to 300. */
  log10_odds: number;
  /** Odds of it against all others, at most 1e300. */
  odds: number;
  /** Probability before any finding. */
  prior: number;
  /**
   * How many of 1,000 pieces offered as such have the verdict, before any finding; the four
   * counts sum to 1,000.
   */
  prior_in_thousand: number;
  /** Probability given all findings. */
  probability: number;
  /** How strongly, on the published verbal scale. */
  strength: Strength;
  /** The verdict. */
  verdict: Verdict;
}

/** The spread of a verdict's probability. */
export interface VerdictSpread {
  /** The share of draws in which it leads. */
  leads: number;
  /** Its probability at the numbers as elicited. */
  probability: number;
  /** The spread over the draws. */
  spread: Spread;
  /** The verdict. */
  verdict: Verdict;
}

/** One visit: one pair of eyes in one light. */
export interface VisitFile {
  /** Who looked (initials or a role). */
  by?: string | null | undefined;
  /** When, as year-month-day. */
  date?: string | null | undefined;
  /**
   * What this examiner's error rates are of an average examiner's: 0.5 for a skilled hand, 1 when
   * absent, at most 2.
   */
  error_factor?: number | null | undefined;
  /** Light, access, haste: in words. */
  how?: string | null | undefined;
  /** Unique in the case. */
  id: string;
  /** Chance that the examination as a whole was poor; the pack's figure (5 %) when absent. */
  poor?: number | null | undefined;
}

/** Whether a visit's findings hang together. */
export interface VisitQuality {
  /** Id of the visit. */
  id: string;
  /** Chance that the examination was poor, before. */
  prior: number;
  /** Chance that it was poor, given all findings. */
  probability: number;
}

/** What one finding or reading weighed. */
export interface WeighedFinding {
  /** What was reported, in words. */
  found: string;
  /** Id of the sign or measure. */
  id: string;
  /** The innocent reading. */
  innocent: string;
  /** Its name. */
  name: string;
  /** Id of the part. */
  part: string;
  /** What it points to. */
  points_to: string;
  /** Incidents that could by themselves explain the report. */
  readings: InnocentReading[];
  /** How sure. */
  sure: Sureness;
  /** Id of the visit. */
  visit: string;
  /** Its weights, one set for each question. */
  weights: Weights[];
}

/** An opinion and how much it counts. */
export interface WeighedOpinion {
  /** TOML or JSON: an opinion, or a pack or extension under which the same case is put. */
  opinion: string;
  /** Its weight, 0.000001 to 1,000,000; the case as it stands has 1. */
  weight?: number | undefined;
}

/** The weights of one finding for one question, in decibans. */
export interface Weights {
  /** Had it been the only finding. */
  alone: number;
  /** What it added when it came, after those before it; these re-add to the total. */
  in_order: number;
  /** The odds once it had come. */
  running: number;
  /**
   * Its fair share, which does not depend on the order (the Shapley value of the log-odds);
   * these re-add to the total.
   */
  share: number;
  /** Standard error of the share; 0 when exact. */
  share_error: number;
  /** With everything, over with all but this: what would be lost by withdrawing it. */
  withdrawn: number;
}
