import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { loadEngine, type Engine } from "oddment";
import { beforeAll, describe, expect, test } from "vitest";
import {
  droppedBy,
  evidence,
  fill,
  findingAt,
  freshCase,
  noted,
  readingOf,
  withFinding,
  withKnown,
  withNewVisit,
  withNumber,
  without,
  withoutFinding,
  withoutReading,
  withPiece,
  withReading,
  withStakes,
  withVisit,
} from "../../src/case/edit.js";
import { byCheck, indexForm, lookKey, looks, type Form } from "../../src/case/form.js";

let engine: Engine;
let form: Form;
const piece = { form: "drop-leaf-table", variant: "oval", period: "gate-leg", region: "britain" };
const finding = { sign: "foot-ends-worn", part: "feet", visit: "visit-1", found: "yes", sure: "sure" } as const;
const example = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../../priors/cases/${name}.toml`, import.meta.url)), "utf8");

beforeAll(async () => {
  engine = await loadEngine();
  form = indexForm(engine.describe("drop-leaf-table"));
});

describe("a fresh case", () => {
  test("is one the engine takes, with nothing looked at", () => {
    const fresh = freshCase(piece, "2026-01-31");
    const assessment = engine.assess(fresh, { fit: false });
    expect(assessment.findings).toEqual([]);
    for (const { probability, prior } of assessment.verdicts) expect(probability).toBeCloseTo(prior, 12);
  });
});

describe("changes", () => {
  test("leave the case before them as it was", () => {
    const fresh = Object.freeze(freshCase(piece, "2026-01-31"));
    Object.freeze(fresh.finding);
    Object.freeze(fresh.reading);
    const after = withFinding(fresh, finding);
    expect(fresh.finding).toEqual([]);
    expect(after.finding).toEqual([finding]);
  });

  test("of a finding replace what the same visit said, not what another did", () => {
    let state = withFinding(freshCase(piece, "2026-01-31"), finding);
    const [more, second] = withNewVisit(state, "2026-02-01");
    state = withFinding(more, { ...finding, visit: second, found: "no" });
    state = withFinding(state, { ...finding, sure: "doubtful" });
    expect(state.finding.map(({ visit, found, sure }) => [visit, found, sure])).toEqual([
      ["visit-1", "yes", "doubtful"],
      [second, "no", "sure"],
    ]);
    expect(engine.assess(state, { fit: false }).findings).toHaveLength(2);
  });

  test("taking back a finding is as if it had never been", () => {
    const fresh = freshCase(piece, "2026-01-31");
    const back = withoutFinding(withFinding(fresh, finding), finding);
    expect(back).toEqual(fresh);
    expect(findingAt(back, "foot-ends-worn", "feet", "visit-1")).toBeUndefined();
  });

  test("of readings are kept apart by visit and measure", () => {
    const fresh = freshCase(piece, "2026-01-31");
    const once = withReading(fresh, { measure: "join-step", visit: "visit-1", value: 0.8 });
    const twice = withReading(once, { measure: "join-step", visit: "visit-1", between: [0.5, 1] });
    expect(twice.reading).toHaveLength(1);
    expect(readingOf(twice, "join-step", "visit-1")?.between).toEqual([0.5, 1]);
    expect(withoutReading(twice, "join-step", "visit-1")).toEqual(fresh);
  });

  test("a new visit never takes a name that is taken", () => {
    const fresh = { ...freshCase(piece, "2026-01-31"), visit: [{ id: "visit-2" }] };
    const [state, id] = withNewVisit(fresh, "2026-02-01");
    expect(id).toBe("visit-3");
    expect(withVisit(state, { id, by: "an examiner" }).visit.at(-1)).toEqual({ id, by: "an examiner" });
  });

  test("of what is known, of numbers and of figures can be taken out again", () => {
    const fresh = freshCase(piece, "2026-01-31");
    expect(withKnown(withKnown(fresh, "refinished", true), "refinished", undefined).known).toEqual({});
    expect(withNumber(withNumber(fresh, "examination/sure", 0.9), "examination/sure", undefined).numbers).toEqual({});
    const stakes = { asking: 1, worth: { original: 2, married: 1, converted: 1, faked: 1 } };
    expect(withStakes(withStakes(fresh, stakes), undefined)).toEqual(fresh);
  });

  test("striking out counts findings first, then readings", () => {
    let state = withFinding(freshCase(piece, "2026-01-31"), finding);
    state = withReading(state, { measure: "join-step", visit: "visit-1", value: 0.8 });
    expect(without(state, new Set([0])).finding).toEqual([]);
    expect(without(state, new Set([0])).reading).toHaveLength(1);
    expect(without(state, new Set([1])).reading).toEqual([]);
    expect(noted(without(state, new Set([0, 1])))).toBe(0);
  });
});

describe("several looks within a visit", () => {
  test("are kept apart, and one can be taken back without the other", () => {
    const second = { ...finding, found: "no", look: 2 };
    const state = withFinding(withFinding(freshCase(piece, "2026-01-31"), finding), second);
    expect(state.finding).toEqual([finding, second]);
    expect(findingAt(state, "foot-ends-worn", "feet", "visit-1")).toEqual(second);
    expect(withoutFinding(state, second).finding).toEqual([finding]);
    expect(withFinding(state, { ...second, found: "yes" }).finding).toHaveLength(2);
  });
});

describe("evidence", () => {
  test.each(["pieced-out-oval", "innocent-holes", "no-story-fits"])("stands in the engine's order: %s", (name) => {
    const state = fill(engine.readCase(example(name)), form);
    const told = engine.assess(state, { fit: false }).findings.map(({ id, part, visit }) => [id, part, visit]);
    const own = evidence(state).map((entry) =>
      "finding" in entry
        ? [entry.finding.sign, entry.finding.part, entry.finding.visit]
        : [entry.reading.measure, form.measures.get(entry.reading.measure)?.part, entry.reading.visit],
    );
    expect(own).toEqual(told);
    expect(noted(state)).toBe(told.length);
  });

  test("struck out is what the engine no longer tells", () => {
    const state = fill(engine.readCase(example("innocent-holes")), form);
    const before = engine.assess(state, { fit: false }).findings;
    evidence(state).forEach(({ place }, index) => {
      const after = engine.assess(without(state, new Set([place])), { fit: false }).findings;
      const ids = (all: typeof before) => all.map(({ id, part, visit }) => `${id}@${part}@${visit}`);
      expect(ids(after)).toEqual(ids(before).filter((_, at) => at !== index));
    });
  });
});

describe("a change of the claim", () => {
  test("drops only what such a piece cannot have, and says how much beforehand", () => {
    const conditional = form.described.signs.find(({ variants }) => variants !== null && variants.length > 0);
    const [variant = ""] = conditional?.variants ?? [];
    const other = form.described.variants.find(({ id }) => !conditional?.variants?.includes(id))?.id ?? "";
    expect(other).not.toBe("");
    const entry = { sign: conditional?.id ?? "", part: conditional?.parts[0] ?? "", visit: "visit-1" };
    const found = conditional?.levels.at(-1) ?? "";
    let state = withFinding(freshCase({ ...piece, variant }, "2026-01-31"), { ...entry, found, sure: "sure" });
    state = withFinding(state, finding);
    expect(droppedBy(state, { ...piece, variant: other }, form)).toBe(1);
    const changed = withPiece(state, { ...piece, variant: other }, form);
    expect(changed.finding).toEqual([finding]);
    expect(engine.assess(changed, { fit: false }).findings).toHaveLength(1);
  });
});

describe("a piece that turns out to be without a part", () => {
  test("loses what was said of it there, and nothing else", () => {
    const desk = indexForm(engine.describe("slant-front-desk"));
    const [period, region] = [desk.described.periods[0]?.id ?? "", desk.described.regions[0]?.id ?? ""];
    const claim = { form: "slant-front-desk", variant: "panelled-bookcase", period, region };
    const marks = { sign: "arc-saw-marks", visit: "visit-1", found: "no", sure: "sure" } as const;
    const below = { ...marks, part: "case" };
    const above = { ...marks, part: "upper" };
    const state = { ...freshCase(claim, "2026-01-01"), finding: [below, above] };
    expect(engine.assess(state, { fit: false }).findings).toHaveLength(2);
    const alone = { ...claim, variant: "desk" };
    expect(droppedBy(state, alone, desk)).toBe(1);
    const changed = withPiece(state, alone, desk);
    expect(changed.finding).toEqual([below]);
    expect(engine.assess(changed, { fit: false }).dates.map(({ part }) => part)).not.toContain("upper");
  });
});

describe("filling in what a case leaves to be understood", () => {
  test.each(["pieced-out-oval", "innocent-holes", "no-story-fits"])("changes no answer: %s", (name) => {
    const given = engine.readCase(example(name));
    const filled = fill(given, form);
    expect(engine.assess(filled, { fit: false }).verdicts).toEqual(engine.assess(given, { fit: false }).verdicts);
    for (const { part, visit } of filled.finding) {
      expect(part).not.toBe("");
      expect(filled.visit.map(({ id }) => id)).toContain(visit);
    }
  });

  test("keeps a note on something not looked at", () => {
    const given = {
      schema: "oddment/case/1",
      piece,
      finding: [
        { sign: "foot-ends-worn", part: "feet", found: "not-looked", note: "carpet in the way" },
        { sign: "leaf-joined", found: "not-looked" },
      ],
    };
    expect(fill(given, form).finding.map(({ note }) => note)).toEqual(["carpet in the way"]);
  });
});

describe("what can be looked at", () => {
  test("is every sign and measure of the variant, once, under its check", () => {
    for (const { id } of engine.forms()) {
      const some = indexForm(engine.describe(id));
      for (const variant of some.described.variants) {
        const all = looks(some, variant.id);
        const keys = new Set(all.map(lookKey));
        expect(keys.size).toBe(all.length);
        const [period, region] = [some.described.periods[0]?.id ?? "", some.described.regions[0]?.id ?? ""];
        const fresh = freshCase({ form: id, variant: variant.id, period, region }, "2026-01-01");
        // What the engine says has not been looked at yet.
        const asked = engine.assess(fresh, { fit: false }).not_looked;
        const told = all.map((look) => `${look.kind === "sign" ? look.sign.id : look.measure.id}@${look.part}`);
        expect(told.sort()).toEqual(asked.map((look) => `${look.id}@${look.part}`).sort());
        const expected = asked.length;
        expect(byCheck(some, all).flatMap(({ looks: here }) => here)).toHaveLength(expected);
      }
    }
  });
});
