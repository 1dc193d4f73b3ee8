// Every English word the page says of itself. What packs say comes from the engine.

import type { Access, FitJudgement, Leave, NumberUnit, Strength, Sureness, Verdict, Direction } from "oddment";
import type { Theme } from "../bench/settings.svelte.js";
import type { View } from "../bench/route.svelte.js";

const whole = new Intl.NumberFormat("en-GB");
const oneDigit = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 1 });
const short = new Intl.NumberFormat("en-GB", { maximumSignificantDigits: 3 });

const verdicts: Record<Verdict, string> = {
  original: "original",
  married: "married",
  converted: "converted",
  faked: "faked",
};

function many(count: number, one: string, more: string): string {
  return `${whole.format(count)} ${count === 1 ? one : more}`;
}

/** Of 1,000 pieces, with what is less than one said as such. */
function ofThousand(probability: number): string {
  const count = probability * 1000;
  if (count > 0 && count < 1) return "under 1";
  if (count < 1000 && count > 999) return "over 999";
  return whole.format(Math.round(count));
}

/** The same where there is room for a figure only. */
function count(probability: number): string {
  const told = ofThousand(probability);
  return told.replace("under ", "<").replace("over ", ">");
}

function ofHundred(chance: number): string {
  const count = chance * 100;
  if (count > 0 && count < 1) return "under 1 in 100";
  if (count < 100 && count > 99) return "over 99 in 100";
  return `${whole.format(Math.round(count))} in 100`;
}

function decibans(weight: number): string {
  const rounded = Math.round(weight * 10) / 10;
  if (rounded === 0) return "0";
  return `${rounded > 0 ? "+" : "−"}${oneDigit.format(Math.abs(rounded))}`;
}

/** A weight as a factor on the odds. */
function times(weight: number): string {
  const factor = 10 ** (Math.abs(weight) / 10);
  if (factor < 1.05) return "hardly moves the odds";
  const told = factor >= 100 ? whole.format(Number(factor.toPrecision(2))) : short.format(Number(factor.toPrecision(2)));
  return weight > 0 ? `${told} times the odds` : `the odds divided by ${told}`;
}

const strengths: Record<Strength, string> = {
  "no-support": "no support",
  weak: "weak support",
  moderate: "moderate support",
  "moderately-strong": "moderately strong support",
  strong: "strong support",
  "very-strong": "very strong support",
  "extremely-strong": "extremely strong support",
};

const views: Record<View, string> = {
  piece: "Piece",
  odds: "Odds",
  argument: "Argument",
  stories: "Stories",
  next: "Look next",
  "what-if": "What if",
  price: "Price",
  "write-up": "Write-up",
};

const access: Record<Access, string> = {
  "walk-by": "standing beside it",
  open: "opening doors and drawers",
  "turn-over": "underneath, or turned over",
  dismantle: "drawing a screw, taking off a part",
  laboratory: "a sample or an instrument elsewhere",
  papers: "its papers",
};

const leave: Record<Leave, string> = {
  "not-needed": "nobody need be asked",
  ask: "ask the owner first",
  written: "the owner's leave in writing",
};

export const english = {
  name: "oddment",
  language: "en",

  many,
  ofThousand,
  count,
  ofHundred,
  decibans,
  times,
  whole: (value: number) => whole.format(value),
  figure: (value: number) => short.format(value),
  date: (when: number) =>
    new Intl.DateTimeFormat("en-GB", { dateStyle: "medium", timeStyle: "short" }).format(when),
  years: (from: number, to: number) => `${String(from)} to ${String(to)}`,
  list: (entries: readonly string[]) => new Intl.ListFormat("en-GB").format(entries),

  verdict: verdicts,
  verdictMeaning: {
    original: "made as it stands, honest wear and repair included",
    married: "parts of different pieces put together",
    converted: "form, size or use changed later",
    faked: "made or dressed up to deceive",
  } satisfies Record<Verdict, string>,
  views,
  access,
  leave,
  sure: { sure: "Sure", "fairly-sure": "Fairly sure", doubtful: "Doubtful" } satisfies Record<Sureness, string>,

  numbers: {
    none: "That is no number.",
    ambiguous: "Is the comma for thousands or for decimals? Write it without, or with a point.",
  },

  frame: {
    skip: "Skip to the content",
    pages: "Pages",
    views: "Views of this piece",
    shelf: "Shelf",
    lessons: "Lessons",
    practice: "Practice",
    about: "About",
    undo: "Undo",
    redo: "Redo",
    back: "Back",
    working: "Working it out",
    loading: "One moment",
    unfetched: "This part of the page could not be fetched. Try again once there is a connection.",
    failed: "That could not be worked out",
    crashed: "The engine failed. It is started anew with the next question; nothing you noted is lost.",
    contradiction: "These cannot all be true together:",
    place: (line: number, column: number) => `line ${String(line)}, column ${String(column)}`,
    unkept: (why: string) =>
      `This device does not keep what you note (${why}). Save the case as a file before you close the page.`,
    renewed: "A newer version is ready.",
    renew: "Use it now",
    opinion: "The arithmetic of an opinion, not a certificate and not a valuation.",
    theme: "Paper",
    themes: { device: "As the device", light: "Light", dark: "Dark" } satisfies Record<Theme, string>,
    unanswered: "This case cannot be worked out",
    gone: "This piece is not on this device's shelf.",
    gonePlain: "It may have been taken off, or it is kept on another device.",
    toShelf: "To the shelf",
    close: "Close",
    details: "More about it",
  },

  bench: {
    untitled: (form: string) => `${form}, not named`,
    begun: "taken up",
    undone: (what: string) => `Taken back: ${what}`,
    redone: (what: string) => `Done again: ${what}`,
  },

  shelf: {
    head: "The shelf",
    intro:
      "Pieces you are looking at. They are kept on this device only; nothing leaves it unless you save a file or copy an address.",
    empty: "Nothing stands here yet.",
    emptyPlain: "Take up a piece, open a case from a file, or begin with a lesson.",
    begin: "Take up a piece",
    open: "Open a case file",
    openHint: "A case in TOML or JSON, as the command reads and writes it. You can also drop it here.",
    changed: (when: string) => `last changed ${when}`,
    remove: "Take off the shelf",
    removed: (title: string) => `Taken off the shelf: ${title}`,
    putBack: "Put it back",
    save: "Save as a file",
    copy: "Copy as an address",
    copied: "The address is copied. It holds the whole case: whoever has it has the case.",
    notCopied: "The address could not be copied. Here it is, to copy by hand:",
    unread: (name: string) => `${name} could not be opened. Nothing on the shelf was changed.`,
    tooLong: "It is longer than 4 million characters; no case is.",
    fromFile: "from a file",
    fromLink: "from an address",
    fromPractice: "a practice piece",
    link: "A case came with this address.",
    linkPlain: "It is not on your shelf yet. Put it there to look at it; what stands there already stays as it is.",
    take: "Put it on the shelf",
    leaveIt: "Leave it",
    linkUnread: "The address holds something that is no case.",
  },

  begin: {
    head: "Take up a piece",
    which: "What is it?",
    claim: "What is it offered as?",
    title: "A line to know it by",
    titleHint: "for example: oval table, hall, lot 12",
    variant: "Kind",
    period: "Period",
    region: "Region",
    start: "Begin looking",
    change: "Change the claim",
    keep: "Keep the change",
    claimChanged: "the claim",
    drops: (count: number) =>
      `${many(count, "finding or reading does", "findings and readings do")} not apply to such a piece and would be dropped. You can take that back.`,
    prices: "Prices, if known",
    years: "Claimed years, if narrower than the period",
    yearsFrom: "From",
    yearsTo: "To",
    yearsOutside: (from: number, to: number) => `Years must rise and lie between ${String(from)} and ${String(to)}.`,
    pricesBoth: "Give both prices, each more than 0, or neither.",
    pricesHint:
      "What it would fetch as claimed, and what the plainer thing would that it could have been made from: a wider gap tempts alterers more.",
    asClaimed: "As claimed",
    plainer: "The plainer thing",
    about: "What this pack covers",
  },

  piece: {
    head: "The piece",
    front: "As it stands",
    inside: "Inside and underneath",
    drawing: (form: string, plate: string) => `Drawing of the form: ${form}, ${plate}`,
    touch: "Touch a part to see what can be looked at there.",
    parts: "Parts",
    unusual: (count: number) => `${many(count, "part", "parts")} such a piece seldom has`,
    progress: (looked: number, all: number) => `${String(looked)} of ${String(all)} looked at`,
    untouched: (all: number) => `${many(all, "sign", "signs")}, not looked at`,
    seen: (count: number) => `${String(count)} found`,
    find: "Find a sign",
    findHint: "saw, screw, dovetail …",
    foundNone: "No sign of that name on such a piece.",
    whole: "All parts",
    onlyOpen: "Only what is not looked at yet",
    nothing: "Nothing to look at here on a piece offered as this kind.",
    allSeen: "Everything here has been looked at.",
    notLooked: "not looked",
    notThisVisit: "not on this visit",
    found: "Found",
    notThere: "Not there",
    noAccess: "Could not look",
    how: "How sure?",
    takeBack: "Not looked after all",
    note: "Note",
    noteAdded: "a note",
    howTo: "How to look",
    speaks: "What it points to",
    innocent: "The innocent reading",
    incidents: "Honest events that leave it",
    hides: "Honest events that wipe it out",
    cautions: "Mind",
    tools: "Bring",
    minutes: (minutes: number) => many(minutes, "minute", "minutes"),
    sketch: (name: string) => `Sketch: ${name}`,
    read: "Reading",
    kinds: { value: "it is", less: "less than", more: "more than", between: "between" },
    and: "and",
    unit: {
      mm: "mm",
      "mm-per-m": "mm in a metre",
      steps: "steps of the grey card",
      ratio: "ratio",
      degrees: "degrees",
      count: "count",
      years: "years",
      kg: "kg",
      percent: "percent",
    } as Record<string, string>,
    enter: "Note the reading",
    outside: (low: number, high: number, unit: string) =>
      `It must lie between ${short.format(low)} and ${short.format(high)} ${unit}.`,
    wrongOrder: "The first must be less than the second.",
    error: (error: number, unit: string) => `An ordinary instrument errs by about ${short.format(error)} ${unit}.`,
    foundSaid: (name: string, what: string) => `${name}: ${what}`,
    tookBack: (name: string) => `${name}: not looked`,
    earlierRead: (visit: string, what: string) => `${visit}: ${what}`,
    earlierSaid: (visit: string, what: string, sure: string) => `${visit}: ${what}, ${sure}`,
    visit: "Visit",
    visitNow: "Findings are noted under",
    visitName: (number: number, date: string | undefined, by: string | undefined) =>
      `Visit ${String(number)}${date === undefined ? "" : `, ${date}`}${by === undefined ? "" : `, ${by}`}`,
    newVisit: "Begin another visit",
    newVisitHint: "Another day, another light or another pair of eyes: what hangs together then is reckoned with.",
    visitBegun: "another visit",
    by: "Who looks (initials or a role)",
    when: "Day",
    light: "Light, access, haste",
    poor: "Chance that this look was poor, in 100",
    poorHint: "5 in 100 unless you say otherwise.",
    visitSaid: "the visit",
    known: "Known from elsewhere",
    knownHint: "A repairer's bill, an old photograph: what is known for certain need not be reckoned.",
    knownYes: "Happened",
    knownNo: "Did not",
    knownOpen: "Not known",
    knownSaid: (name: string, what: string) => `${name}: ${what}`,
    summary: (noted: number, notAccessible: number) =>
      noted === 0
        ? "Nothing has been looked at yet."
        : `${many(noted, "finding", "findings")} noted${notAccessible > 0 ? `, ${String(notAccessible)} could not be looked at` : ""}.`,
    notes: "All that is noted",
  },

  odds: {
    head: "The odds",
    line: (verdict: string, probability: number) => `${ofThousand(probability)} of 1,000 ${verdict}`,
    before: "Nothing has been looked at yet: this is what is taken for granted before looking.",
    sentence: (verdict: Verdict, probability: number, prior: number) =>
      `Of 1,000 pieces offered as this one is and showing just this, about ${ofThousand(probability)} would be ${verdicts[verdict]}; before anything was looked at, ${ofThousand(prior)}.`,
    priorSentence: (verdict: Verdict, prior: number) =>
      `Of 1,000 pieces offered as this one is, about ${ofThousand(prior)} would be ${verdicts[verdict]}.`,
    notHalf: "It leads, but the other verdicts together are at least as likely.",
    table: "The verdicts",
    count: "of 1,000",
    was: (prior: number) => `${ofThousand(prior)} before looking`,
    range: (low: number, high: number) => `from ${ofThousand(low)} to ${ofThousand(high)} as the numbers are doubted`,
    ranging: "how far the numbers' doubt reaches is being worked out",
    support: (direction: Direction, strength: Strength, verdict: Verdict) =>
      direction === "neither"
        ? "The findings say nothing either way."
        : `The findings give ${strengths[strength]} ${direction === "first" ? "for" : "against"} ${verdicts[verdict]}.`,
    field: "1,000 such pieces",
    fieldSaid: (counts: [Verdict, number][]) =>
      `1,000 squares, one for each piece: ${counts.map(([verdict, count]) => `${whole.format(count)} ${verdicts[verdict]}`).join(", ")}`,
    fieldBefore: "Before looking",
    fieldNow: "Showing just this",
    key: "Blank: original. Slanting lines: married. Level lines: converted. Crossed lines: faked.",
    fit: {
      "not-asked": "",
      "nothing-to-judge": "",
      fits: "Such findings are ordinary under the stories told here.",
      unusual: "Such findings are unusual under every story told here: look again before relying on the odds.",
      "no-story-fits":
        "No story told here fits well. The counts say which of them fits least badly; the truth may be another story, or a slip of the pen.",
    } satisfies Record<FitJudgement, string>,
    doubted: (visit: string, chance: number) =>
      `${visit}: the findings do not hang together well; ${ofHundred(chance)} that this look as a whole was poor.`,
    reasons: "Why the odds start there",
    scaleNote:
      "The words for support follow the published verbal scale of the European Network of Forensic Science Institutes, 2015; they speak of the findings alone.",
    guesswork:
      "Most numbers behind this are working guesses by practitioners, marked as such in the packs, not counts.",
  },

  argument: {
    head: "The argument",
    intro: "How the findings built it up, in the order they were noted.",
    about: "For",
    against: "against all else",
    order: "In the order noted",
    heaviest: "Heaviest first",
    how: "Order",
    little: (count: number) => `${many(count, "finding that hardly moves", "findings that hardly move")} the odds`,
    start: "Before looking",
    startSaid: (verdict: Verdict, probability: number) => `${ofThousand(probability)} of 1,000 ${verdicts[verdict]}`,
    then: (probability: number) => `then ${ofThousand(probability)} of 1,000`,
    empty: "There is nothing to argue from yet. Note a finding, and it stands here with its weight.",
    pull: (weight: number) => times(weight),
    weight: (weight: number) => `${decibans(weight)} decibans`,
    alone: "taken alone",
    share: "its fair share",
    withdrawn: "were it withdrawn",
    innocent: "Innocent reading",
    explained: (name: string, before: number, after: number) =>
      `${name}: ${ofHundred(before)} without it, ${ofHundred(after)} with it`,
    naive: "One by one, or together",
    naiveSaid: (naive: number, joint: number) =>
      `Added up as if each had come alone, the findings would come to ${decibans(naive)} decibans; together they weigh ${decibans(joint)}.`,
    naiveMore: "The difference is what they say twice: traces of one act, or of one honest event, count once.",
    naiveLess: "They support one another: together they say more than one by one.",
    naiveSame: "Together they come to as good as the same.",
    naiveTurns: "Together they even point the other way: what one of them says changes what the others mean.",
    together: "What hangs together",
    togetherSaid: (naive: number, joint: number) => `one by one ${decibans(naive)}, together ${decibans(joint)} decibans`,
    behind: { act: "one act", incident: "one honest event", date: "the date of one part" },
    deciban:
      "A deciban is a tenth of a power of ten in the odds: 10 make them ten times as great, 3 about double.",
    sure: "how sure",
    details: "Its weights",
  },

  stories: {
    head: "The stories",
    intro: "The rival histories of the piece, the likeliest first.",
    count: (probability: number) => `${ofThousand(probability)} of 1,000`,
    was: (prior: number) => `${ofThousand(prior)} before looking`,
    why: "Why it stands or falls",
    against: (name: string) => `set against “${name}”`,
    forIt: "Speaks for it",
    againstIt: "Speaks against it",
    nothing: "No finding tells these two apart.",
    less: (count: number) => `${many(count, "further story", "further stories")} with fewer than 5 of 1,000`,
    incidents: "Honest events of a long life",
    incidentsIntro: "How likely each is, given what was found.",
    incident: (prior: number, now: number) => `${ofHundred(now)}, before looking ${ofHundred(prior)}`,
    dates: "When each part was made",
    dateSaid: (low: number, median: number, high: number) =>
      `about ${whole.format(Math.round(median)).replace(",", "")}, and 9 in 10 between ${String(Math.round(low))} and ${String(Math.round(high))}`,
    claim: (from: number, to: number) => `The claim: ${String(from)} to ${String(to)}`,
    strip: (part: string) => `Chance of each decade for: ${part}`,
    knownHappened: "known to have happened",
    knownNot: "known not to have happened",
  },

  next: {
    head: "Look next",
    intro: "Which look is worth having, from what is not looked at yet.",
    minutes: "Time there is",
    minutesSaid: (minutes: number) => many(minutes, "minute", "minutes"),
    allTime: "as long as it takes",
    turn: "May it be turned over?",
    turnChoices: {
      "walk-by": "No, only looked at",
      open: "No, but opened",
      "turn-over": "Yes",
      dismantle: "Yes, and screws drawn",
      laboratory: "Anything, samples too",
    } satisfies Record<Exclude<Access, "papers">, string>,
    leave: "The owner cannot be asked",
    plan: "A plan for the time",
    planSaid: (used: number, bits: number, all: number) =>
      `${many(Math.round(used), "minute", "minutes")}; expected to tell ${ofHundred(all > 0 ? Math.min(1, bits / all) : 0)} of what is left to learn within reach.`,
    planChanges: (chance: number) => `${ofHundred(chance)} that it changes the leading verdict.`,
    nothing: "Nothing within reach is likely to change the verdict any more.",
    nothingAtAll: "Everything within reach has been looked at.",
    changes: (chance: number) => `changes the verdict: ${ofHundred(chance)}`,
    most: "The looks, most telling a minute first",
    answers: "Most telling answers",
    answer: (found: string, part: string, chance: number) => `${found} (${part}), chance ${ofHundred(chance)}`,
    wouldLead: (verdict: Verdict, probability: number) => `then ${ofThousand(probability)} of 1,000 ${verdicts[verdict]}`,
    beyond: "Beyond what is allowed",
    goThere: "Go and look",
    open: (bits: number) =>
      bits < 0.15 ? "The verdict is as good as settled." : bits < 0.8 ? "The verdict is fairly settled." : "The verdict is still open.",
    bits: (bits: number) => (bits < 0.005 ? "tells next to nothing" : `tells ${short.format(Number(bits.toPrecision(2)))} bits`),
  },

  whatIf: {
    head: "What if",
    intro: "Nothing here changes the case until you keep it.",
    now: "As noted",
    then: "What if",
    same: "Nothing is changed yet: strike a finding out, or move a number.",
    flips: (from: Verdict, to: Verdict) => `The leading verdict turns from ${verdicts[from]} to ${verdicts[to]}.`,
    stays: (verdict: Verdict) => `The leading verdict stays ${verdicts[verdict]}.`,
    findings: "Findings",
    strike: "Strike a finding out to see what hangs on it.",
    numbers: "Numbers",
    share: "Not original to begin with",
    inHundred: (value: number) => `${whole.format(Math.round(value))} in 100`,
    ratio: "Price as claimed, over the plainer thing it could be made from",
    fold: (value: number) => `${short.format(value)} times`,
    either: "The price gap moves the starting odds too, so one of the two can be slid at a time.",
    search: "Find a number",
    searchHint: "chance, reliability, count …",
    moved: "Moved numbers",
    packs: (value: string) => `the pack has ${value}`,
    source: "Source",
    strength: (strength: number) => `worth about ${many(Math.round(strength), "piece", "pieces")} seen`,
    elicited: "a working guess",
    reset: "Put everything back",
    putBack: "Put back",
    keep: "Keep this in the case",
    kept: "what-if",
    cannot: "The case cannot be so:",
    lean: "What the answer hangs on",
    leanSaid: (verdict: Verdict) =>
      `How far the count for ${verdicts[verdict]} moves when each number runs over its own 90 in 100 range, the widest first. Choose one to see its whole curve.`,
    leanFlips: (value: string, above: boolean, verdict: Verdict) =>
      `${above ? "Above" : "Below"} ${value}, ${verdicts[verdict]} leads.`,
    tryThere: "Try it there",
    holds: "No value of it changes the leading verdict.",
    curve: (words: string) => `The count of 1,000 as this number moves: ${words}`,
    tornado: "Counts of 1,000 at either end of each number's range",
    sweep: "The starting odds",
    sweepSaid: "If of 100 pieces offered as such so many were not original to begin with:",
    sweepHere: (share: number) => `here ${short.format(100 * share)} in 100`,
    turnAt: (share: number, below: Verdict, above: Verdict) =>
      `At ${short.format(100 * share)} in 100 the leading verdict turns from ${verdicts[below]} to ${verdicts[above]}.`,
    noTurn: "No starting odds between 1 and 60 in 100 change the leading verdict.",
    sweepPicture: "Counts of 1,000 for each verdict over the starting share that is not original",
    study: "All numbers doubted at once",
    studySaid: "Every number is drawn anew many times, as doubtful as it is, and the odds worked out each time.",
    draws: "How many times",
    start: "Begin the study",
    stop: "Stop and show what is done",
    progress: (done: number, all: number) => `${whole.format(done)} of ${whole.format(all)}`,
    studied: (draws: number, asked: number) =>
      draws < asked
        ? `Stopped after ${whole.format(draws)} of ${whole.format(asked)} draws.`
        : `${whole.format(draws)} draws.`,
    spread: (low: number, median: number, high: number) =>
      `mostly ${ofThousand(low)} to ${ofThousand(high)}, in the middle ${ofThousand(median)}`,
    leads: (share: number) => `leads in ${ofHundred(share)} draws`,
    groups: "Where the doubt comes from",
    group: {
      prior: "Starting odds",
      temptation: "The pull of the price",
      incidents: "How often honest events happen",
      signs: "What stories and events show",
      dates: "When techniques were in use",
      reports: "How well reports can be relied on",
      measures: "What is expected of measures",
    } as Record<string, string>,
    groupShare: (total: number) => `${ofHundred(Math.max(0, Math.min(1, total)))} of the spread`,
    spreadPicture: "Spread of each verdict's count over the draws",
    value: (value: number, unit: NumberUnit) =>
      unit === "chance" ? `${short.format(100 * value)} in 100` : short.format(value),
  },

  price: {
    head: "The price",
    intro:
      "What the odds mean for a purchase, on your own figures, all in one currency. This is arithmetic, not a valuation and no advice to buy.",
    asking: "Asked for it",
    worth: "What it would sell for if it were …",
    minute: "What a minute of yours costs",
    resale: "What selling takes, in 100 of the price",
    loss: "The chance of a loss you would bear, in 100",
    said: "the figures",
    incomplete: "Give the price asked and what it would sell for under each verdict.",
    clear: "Take the figures out of the case",
    action: {
      buy: "On these figures, buying at the price asked comes out best.",
      "look-further": "On these figures, looking further comes out best",
      "walk-away": "On these figures, leaving it comes out best.",
    },
    lookAt: (check: string) => `: ${check}.`,
    gain: (gain: number) =>
      gain < 0
        ? `Buying at the price asked would on average lose ${whole.format(Math.round(-gain))}.`
        : `Buying at the price asked would on average gain ${whole.format(Math.round(gain))}.`,
    breakEven: (price: number) =>
      price <= 0
        ? "At no price would it pay on average."
        : `It pays on average below ${whole.format(Math.round(price))}.`,
    chance: (chance: number) => `Chance of a loss at the price asked: ${ofHundred(chance)}.`,
    safe: (price: number, chance: number) =>
      price <= 0
        ? `No price keeps the chance of a loss within ${ofHundred(chance)}.`
        : `For a chance of loss of at most ${ofHundred(chance)}, pay at most ${whole.format(Math.max(0, Math.floor(price)))}.`,
    perfect: (worth: number) => `To know the truth for certain first would be worth at most ${whole.format(Math.round(worth))}.`,
    checks: "What each look is worth in money",
    check: (value: number, cost: number) => `worth ${short.format(value)}, costs ${short.format(cost)}`,
    even: "The choices come out as good as equal.",
    outside: (low: number, high: number) => `That must lie between ${String(low)} and ${String(high)} in 100.`,
    above: "That must be more than 0.",
    notBelow: "That must be 0 or more.",
    noChecks: "No further look is worth more than it costs.",
  },

  writeUp: {
    head: "The write-up",
    intro: "The written opinion as it stands, to print or to hand on.",
    print: "Print",
    save: "Save as a page",
    saveText: "Save as text",
    working: "The write-up is being written.",
    frame: "Written opinion",
  },

  school: {
    head: "Lessons",
    intro:
      "Invented pieces whose evidence arrives a finding at a time. Guess first, then see what the engine makes of it. The numbers behind it are working guesses of practitioners.",
    minutes: (minutes: number) => `about ${many(minutes, "minute", "minutes")}`,
    begin: "Begin",
    page: (page: number, all: number) => `${String(page)} of ${String(all)}`,
    on: "Go on",
    back: "Back",
    guess: (verdict: Verdict) => `Of 1,000 pieces offered so and showing just this, how many are ${verdicts[verdict]}?`,
    guessed: (guess: number) => `${whole.format(guess)} of 1,000`,
    reveal: "See what the engine makes of it",
    revealed: (own: number, engine: number, verdict: Verdict) =>
      `You said ${whole.format(own)}; the engine says ${whole.format(engine)} of 1,000 ${verdicts[verdict]}.`,
    fresh: "What is found now",
    before: "What is found so far",
    truth: "What it was",
    turnedOut: (verdict: Verdict) => `It was ${verdicts[verdict]}.`,
    score: "How you did",
    scoreSaid:
      "The Brier score is the mean square of how far a stated chance was from what came true: 0 is perfect, 0.25 is saying half each time. One piece is little to go by; over many pieces it tells.",
    own: "You",
    engine: "The engine",
    start: "Staying with the starting odds",
    done: "To all lessons",
    rate: "Of 100 pieces offered as such, not original to begin with",
    rateSaid: (share: number, verdict: Verdict, count: number) =>
      `At ${String(share)} in 100 to begin with, ${whole.format(count)} of 1,000 showing just this would be ${verdicts[verdict]}.`,
    toggle: "Strike findings out and put them back.",
    choose: "Which look would tell most?",
    chosen: (name: string) => `You chose: ${name}`,
    best: (name: string) => `It tells most: ${name}`,
    naive: "One by one, added up",
    joint: "Together",
    count: (count: number, verdict: Verdict) => `${whole.format(count)} of 1,000 ${verdicts[verdict]}`,
  },

  practice: {
    head: "Practice",
    intro:
      "Invented pieces drawn from the packs, as many as you like. Look in three rounds, deal out your 1,000 after each, and see at the end what it was.",
    form: "Form",
    anyForm: "Any form",
    difficulty: "How hard",
    difficulties: {
      plain: "Plain: the findings point the right way",
      mixed: "Mixed: they leave doubt",
      hard: "Hard: they mislead, or tell little",
    },
    draw: "Draw a piece",
    drawing: "A piece is being drawn.",
    offered: "Offered as",
    rounds: ["Standing beside it", "Opened up", "Turned over, and all the rest"],
    round: (number: number) => `Round ${String(number)} of 3`,
    deal: "Deal out 1,000 such pieces",
    settle: "That is my view",
    dealHint: "Whatever you give one verdict, the others share the rest.",
    nothing: "Nothing to see in this round.",
    foundNot: (count: number) => `Looked for and not found: ${whole.format(count)}`,
    noAccess: (count: number) => `Could not be looked at: ${whole.format(count)}`,
    engineSaid: "The engine, at the end",
    truthStory: "What happened to it",
    events: "What else befell it",
    missed: "What the examiner's report had wrong",
    missedSaid: (name: string, part: string, reported: string, was: string) =>
      `${name} (${part}): reported “${reported}”, was “${was}”`,
    noneMissed: "Nothing was reported wrongly.",
    record: "Your record",
    recordSaid: (pieces: number, own: number, engine: number, start: number) =>
      `${many(pieces, "piece", "pieces")}: you ${own.toFixed(2)}, the engine ${engine.toFixed(2)}, staying with the starting odds ${start.toFixed(2)} (lower is better).`,
    scoreSaid:
      "The Brier score over four verdicts is the sum of the squares of how far each stated chance was from what came true: 0 is perfect, 0.75 is saying 250 for each, 2 is being quite sure of the wrong one. One piece is little to go by; over many pieces it tells.",
    another: "Another piece",
    keep: "Put it on the shelf",
  },

  about: {
    head: "About",
    paragraphs: [
      "oddment weighs the signs found on a piece of period furniture and says how likely each of its rival histories is: original, married, converted or faked. It gives the arithmetic of an opinion, not a certificate and not a valuation, and does not replace an inspection.",
      "Its numbers are held in packs, one for each form. Every number names its source; most are working guesses of practitioners, marked as such.",
      "Everything is worked out on this device. No request leaves the page once it is loaded; your cases are kept in this browser's own storage until you take them off the shelf or clear it.",
    ],
    cautionsHead: "Mind",
    cautions: [
      "Lift and turn furniture with a second person, by the frame; follow the lifting rules of the place.",
      "Old paint may hold lead, old looking-glasses mercury: do not scrape, sand or heat; ask a licensed conservator.",
      "Dust and mould under old furniture: gloves, and a mask that fits. No solvents without air and without a trained hand.",
      "Never look into an ultraviolet torch, nor shine it at anybody.",
      "Some woods, ivory and tortoiseshell are protected by law: local rules decide on trade and on taking samples.",
      "Nothing here is advice to buy or sell. Large sums deserve a licensed appraiser and a written report.",
    ],
    keysHead: "Keys",
    keys: [
      ["Ctrl Z", "take back"],
      ["Ctrl Shift Z or Ctrl Y", "do again"],
      ["Tab, Enter, Space", "go through parts and answers"],
    ] as [string, string][],
    version: (version: string) => `Engine ${version}`,
  },
};
