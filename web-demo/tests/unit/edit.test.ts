import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { loadEngine, type Engine } from "oddment";
import { beforeAll, describe, expect, test } from "vitest";
import {
  droppedBy,
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
import { applies, byCheck, indexForm, lookKey, looks, type Form } from "../../src/case/form.js";

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
    const back = withoutFinding(withFinding(fresh, finding), "foot-ends-worn", "feet", "visit-1");
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
        const expected =
          some.described.signs.filter((sign) => applies(sign, variant.id)).flatMap(({ parts }) => parts).length +
          some.described.measures.filter((measure) => applies(measure, variant.id)).length;
        expect(all).toHaveLength(expected);
        expect(byCheck(some, all).flatMap(({ looks: here }) => here)).toHaveLength(expected);
      }
    }
  });
});
