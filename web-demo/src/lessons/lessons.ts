// The structure of the lessons and the pieces they are about: no words, which are in
// `../words/english-lessons.ts`, and no figure of the engine. All pieces are invented.

import type { CaseFile, FindingFile, ReadingFile, Verdict } from "oddment";

/**
 * What a page of a lesson shows under its words.
 *
 * The case grows from page to page: findings and readings are added to those before (a second look
 * at a sign carries `look`), `prior` and `numbers` hold from their page on until another page sets
 * them, and an empty `{}` puts the pack's own back.
 */
export type Page =
  /** Words; optionally the 1,000 pieces, the four counts, or the findings so far. */
  | { kind: "read"; show?: "thousand" | "odds" | "findings" }
  /**
   * What is newly found is added to the case, the learner guesses how many of 1,000 are `verdict`,
   * then sees the engine's count.
   */
  | {
      kind: "guess";
      verdict: Verdict;
      finding?: FindingFile[];
      reading?: ReadingFile[];
      prior?: Record<string, number>;
      numbers?: Record<string, number>;
    }
  /**
   * The starting share of not-original can be slid from 1 to 60 in 100 while the findings stay; the
   * 1,000 pieces redraw.
   */
  | { kind: "rate"; verdict: Verdict }
  /** The naive sum of the weights taken one by one beside the joint weight. */
  | { kind: "double"; verdict: Verdict }
  /** Every finding so far can be struck out and put back, the odds follow. */
  | { kind: "toggle"; verdict: Verdict }
  /** Which check tells most? The learner picks one of these check ids; then the engine tells. */
  | { kind: "choose"; checks: string[] };

/** A lesson on one invented piece. */
export interface Lesson {
  /** Kebab-case; the key of its words. */
  id: string;
  /** Minutes it takes to read and guess through. */
  minutes: number;
  /** The piece as it is offered. */
  piece: CaseFile["piece"];
  /** What is in the case before the first page. */
  start?: { finding?: FindingFile[]; reading?: ReadingFile[]; known?: Record<string, boolean> };
  /** What it turned out to be. */
  truth: Verdict;
  /** Its pages, in order. */
  pages: Page[];
}

/** The pack's counts for small oval drop-leaf tables, put in place of those for rectangular ones. */
const smallOvals: Record<string, number> = {
  "wide-boards": 200,
  "joined-boards": 65,
  "much-repaired": 65,
  "top-made-later": 60,
  "top-renewed-early": 15,
  "two-old-halves": 80,
  "base-made-later": 25,
  "leaves-made-later": 40,
  "outline-cut-down": 130,
  "outline-pieced-out": 60,
  "size-reduced": 65,
  "legs-restyled": 25,
  "made-up-from-old": 65,
  "embellished": 20,
  "revival-copy": 60,
  "late-copy": 25,
};

/** Somebody who has seen too many bad sets of chairs. */
const sceptic: Record<string, number> = {
  "one-making": 50,
  "from-longer-set": 60,
  "much-repaired": 40,
  "set-extended-early": 20,
  "two-makings": 180,
  "set-stretched": 140,
  "later-members": 110,
  "seat-form-changed": 20,
  "legs-lowered": 5,
  "copies-slipped-in": 150,
  "carved-up": 25,
  "made-up-from-old": 25,
  "revival-set": 125,
  "late-set": 50,
};

/** Somebody who buys from old houses only. */
const optimist: Record<string, number> = {
  "one-making": 300,
  "from-longer-set": 300,
  "much-repaired": 200,
  "set-extended-early": 20,
  "two-makings": 50,
  "set-stretched": 30,
  "later-members": 30,
  "seat-form-changed": 20,
  "legs-lowered": 5,
  "copies-slipped-in": 15,
  "carved-up": 5,
  "made-up-from-old": 5,
  "revival-set": 15,
  "late-set": 5,
};

/**
 * A bill that is very likely this table's: a bearer was renewed and the top taken off for it, nearly
 * for certain, whatever else the table is.
 */
const bearerBill: Record<string, number> = {
  "incident/bearers-renewed/rate/any": 0.95,
  "incident/bearers-renewed/rate/repaired": 0.95,
  "incident/bearers-renewed/rate/married": 0.95,
  "incident/bearers-renewed/rate/early-top": 0.95,
  "incident/bearers-renewed/rate/made-up": 0.95,
  "incident/bearers-renewed/rate/revival-copy": 0.95,
  "incident/bearers-renewed/rate/late-copy": 0.95,
  "incident/top-off/rate/any": 0.95,
  "incident/top-off/rate/repaired": 0.95,
  "incident/top-off/rate/made-up": 0.95,
  "incident/top-off/rate/revival-copy": 0.95,
  "incident/top-off/rate/late-copy": 0.95,
};

/** A visit more likely poor than not. */
const failingTorch: Record<string, number> = { "examination/poor": 0.6 };

/** The lessons, in the order to take them. */
export const lessons: Lesson[] = [
  {
    id: "one-at-a-time",
    minutes: 8,
    piece: { form: "drop-leaf-table", variant: "oval", period: "straight-leg", region: "britain" },
    truth: "original",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "original", finding: [{ sign: "own-arc", found: "whole" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "movement-shows", found: "yes" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "edge-crisp", found: "plain" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "rim-follows-edge", found: "yes" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "leaf-joined", found: "no" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "marks-follow-other-outline", found: "no" }] },
      { kind: "toggle", verdict: "original" },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "base-rates",
    minutes: 9,
    piece: { form: "drop-leaf-table", variant: "rectangular", period: "straight-leg", region: "britain" },
    truth: "original",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "converted", finding: [{ sign: "edge-crisp", found: "plain" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "rim-follows-edge", found: "no" }] },
      { kind: "guess", verdict: "converted", prior: smallOvals },
      { kind: "rate", verdict: "converted" },
      {
        kind: "guess",
        verdict: "converted",
        finding: [{ sign: "marks-follow-other-outline", found: "no" }],
        prior: smallOvals,
      },
      { kind: "guess", verdict: "converted", prior: {} },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "double-counting",
    minutes: 10,
    piece: { form: "chest-of-drawers", variant: "small", period: "bracket-foot", region: "britain" },
    truth: "converted",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "converted", finding: [{ sign: "dovetails-recut", found: "yes" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "drawer-end-paler", found: "plain" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "bottoms-trimmed", found: "yes" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "back-cut-afresh", found: "yes" }] },
      { kind: "double", verdict: "converted" },
      { kind: "toggle", verdict: "converted" },
      { kind: "guess", verdict: "converted", reading: [{ measure: "depth-ratio", value: 0.68 }] },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "not-looked",
    minutes: 9,
    piece: { form: "slant-front-desk", variant: "glazed-bookcase", period: "later-mahogany", region: "britain" },
    truth: "married",
    pages: [
      { kind: "read", show: "thousand" },
      {
        kind: "guess",
        verdict: "married",
        finding: [
          { sign: "sides-agree", found: "yes" },
          { sign: "proportions-jar", found: "no" },
        ],
      },
      {
        kind: "guess",
        verdict: "married",
        finding: [
          { sign: "bars-tenoned", found: "yes" },
          { sign: "wear-where-due", found: "long" },
        ],
      },
      {
        kind: "guess",
        verdict: "married",
        finding: [
          { sign: "waist-bare", found: "not-looked" },
          { sign: "waist-finished", found: "not-looked" },
          { sign: "backs-agree", found: "no-access" },
        ],
      },
      { kind: "read", show: "findings" },
      { kind: "guess", verdict: "married", finding: [{ sign: "backs-agree", found: "no", look: 2 }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "waist-bare", found: "no", look: 2 }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "waist-finished", found: "yes", look: 2 }] },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "absence",
    minutes: 9,
    piece: { form: "sideboard", variant: "large-square-leg", period: "square-leg", region: "britain" },
    truth: "original",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "original", finding: [{ sign: "cross-head-screws", found: "no" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "machine-dovetails", found: "no" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "back-edge-sawn", found: "none" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "wine-traces", found: "no" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "leg-one-stick", found: "no" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "legs-grafted", found: "no" }] },
      { kind: "guess", verdict: "original", finding: [{ sign: "stringing-cut-by-taper", found: "no" }] },
      { kind: "toggle", verdict: "original" },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "innocent",
    minutes: 9,
    piece: { form: "tilt-top-table", variant: "plain-round", period: "middle", region: "britain" },
    start: { known: { "lock-renewed": true } },
    truth: "original",
    pages: [
      { kind: "read", show: "odds" },
      { kind: "guess", verdict: "married", finding: [{ sign: "catch-lines-up", found: "no" }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "holes-stop-blind", found: "yes" }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "second-print", found: "yes" }] },
      { kind: "guess", verdict: "married", numbers: bearerBill },
      { kind: "guess", verdict: "married", finding: [{ sign: "own-print", found: "whole" }], numbers: bearerBill },
      { kind: "toggle", verdict: "married" },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "how-sure",
    minutes: 9,
    piece: { form: "armchair", variant: "dining", period: "pierced-splat", region: "britain" },
    truth: "converted",
    pages: [
      { kind: "read", show: "thousand" },
      {
        kind: "guess",
        verdict: "converted",
        finding: [{ sign: "moulding-runs-behind", found: "yes", sure: "doubtful" }],
      },
      { kind: "guess", verdict: "converted", finding: [{ sign: "moulding-runs-behind", found: "yes", look: 2 }] },
      { kind: "guess", verdict: "converted", numbers: failingTorch },
      {
        kind: "guess",
        verdict: "converted",
        finding: [{ sign: "rail-notched-of-old", found: "no" }],
        numbers: failingTorch,
      },
      { kind: "guess", verdict: "converted", numbers: {} },
      { kind: "guess", verdict: "converted", finding: [{ sign: "arm-joint-undisturbed", found: "yes" }] },
      { kind: "toggle", verdict: "converted" },
      { kind: "read", show: "findings" },
    ],
  },
  {
    id: "dates",
    minutes: 9,
    piece: { form: "chest-on-chest", variant: "stand-turned", period: "walnut", region: "britain" },
    truth: "married",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "faked", finding: [{ sign: "hand-plane-tracks", part: "upper", found: "yes" }] },
      { kind: "guess", verdict: "faked", finding: [{ sign: "synthetic-glue-in-cornice", found: "yes" }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "hand-plane-tracks", part: "lower", found: "no" }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "wire-nails", part: "lower", found: "yes" }] },
      { kind: "guess", verdict: "faked", finding: [{ sign: "movement-shows", found: "yes" }] },
      { kind: "guess", verdict: "married", finding: [{ sign: "runner-wear-answers", found: "no" }] },
      { kind: "toggle", verdict: "married" },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "where-next",
    minutes: 10,
    piece: { form: "linen-press", variant: "hanging-press", period: "plain-late", region: "britain" },
    truth: "converted",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "converted", finding: [{ sign: "hanging-rail", found: "yes" }] },
      { kind: "choose", checks: ["smell", "walk-round", "ultraviolet", "read-inside", "part-sections"] },
      {
        kind: "guess",
        verdict: "converted",
        finding: [
          { sign: "cupboard-coloured", found: "yes" },
          { sign: "bearers-one-set", found: "no" },
          { sign: "pegs-of-the-case", found: "no" },
          { sign: "floor-sawn", found: "no", sure: "doubtful" },
        ],
      },
      { kind: "choose", checks: ["read-back", "drawers-out", "part-sections", "turn-over"] },
      {
        kind: "guess",
        verdict: "converted",
        finding: [
          { sign: "dummies-sawn", found: "yes" },
          { sign: "dummies-from-new", found: "no" },
        ],
      },
      { kind: "guess", verdict: "converted", finding: [{ sign: "floor-sawn", found: "yes", look: 2 }] },
      { kind: "choose", checks: ["drawers-over", "part-sections", "turn-over", "read-papers"] },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "whose-priors",
    minutes: 10,
    piece: { form: "side-chairs", variant: "set-of-six", period: "pierced-splat", region: "britain" },
    truth: "original",
    pages: [
      { kind: "read", show: "thousand" },
      {
        kind: "guess",
        verdict: "original",
        finding: [
          { sign: "timber-agrees", found: "yes" },
          { sign: "two-families", found: "no" },
        ],
      },
      { kind: "guess", verdict: "original", prior: optimist },
      { kind: "guess", verdict: "original", prior: sceptic },
      {
        kind: "guess",
        verdict: "original",
        finding: [
          { sign: "covering-generations-agree", found: "yes" },
          { sign: "numbers-one-series", found: "yes" },
        ],
        prior: sceptic,
      },
      {
        kind: "guess",
        verdict: "original",
        finding: [
          { sign: "hand-plane-tracks", part: "rails", found: "yes" },
          { sign: "many-coverings", found: "yes" },
        ],
        prior: sceptic,
      },
      { kind: "guess", verdict: "original", prior: optimist },
      { kind: "guess", verdict: "original", prior: {} },
      { kind: "rate", verdict: "original" },
      { kind: "read", show: "odds" },
    ],
  },
  {
    id: "no-story-fits",
    minutes: 9,
    piece: { form: "kneehole-desk", variant: "mahogany-kneehole", period: "bracket-foot", region: "britain" },
    truth: "original",
    pages: [
      { kind: "read", show: "thousand" },
      { kind: "guess", verdict: "converted", finding: [{ sign: "dovetails-recut", found: "yes" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "figure-would-join", found: "yes" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "recess-housed", found: "yes" }] },
      { kind: "guess", verdict: "converted", finding: [{ sign: "base-turns-in", found: "yes" }] },
      {
        kind: "guess",
        verdict: "converted",
        finding: [
          { sign: "inner-feet-agree", found: "yes" },
          { sign: "knee-rub", found: "long" },
        ],
      },
      {
        kind: "guess",
        verdict: "converted",
        finding: [
          { sign: "runner-wear-answers", found: "yes" },
          { sign: "bolt-mortises-answer", found: "yes" },
        ],
      },
      { kind: "toggle", verdict: "converted" },
      { kind: "read", show: "findings" },
    ],
  },
];
