import { loadEngine, type Engine } from "oddment";
import { beforeAll, describe, expect, test } from "vitest";
import { brier, brierOfAll, caseAt, dealt, told } from "../../src/lessons/play.js";
import { lessons } from "../../src/lessons/lessons.js";
import { lessonWords } from "../../src/words/english-lessons.js";

let engine: Engine;
beforeAll(async () => {
  engine = await loadEngine();
});

describe("the lessons", () => {
  test("are eight or more, each with words for every page", () => {
    expect(lessons.length).toBeGreaterThanOrEqual(8);
    expect(Object.keys(lessonWords).sort()).toEqual(lessons.map(({ id }) => id).sort());
    for (const { id, pages } of lessons) expect(lessonWords[id]?.pages).toHaveLength(pages.length);
  });

  test.each(lessons.map(({ id }) => id))("%s: every page is a case the engine takes, and every guess has an answer", (id) => {
    const lesson = lessons.find((known) => known.id === id);
    if (lesson === undefined) throw new Error(id);
    lesson.pages.forEach((page, place) => {
      const { verdicts } = engine.assess(caseAt(lesson, place), { fit: false });
      expect(verdicts.reduce((sum, { in_thousand }) => sum + in_thousand, 0)).toBe(1000);
      if (page.kind === "choose") {
        const known = new Set(engine.next(caseAt(lesson, place)).checks.map((check) => check.id));
        for (const check of page.checks) expect(known).toContain(check);
      }
    });
  });

  test.each(lessons.map(({ id }) => id))("%s: what it turned out to be is never ruled out", (id) => {
    const lesson = lessons.find((known) => known.id === id);
    if (lesson === undefined) throw new Error(id);
    const { verdicts, fit } = engine.assess(caseAt(lesson, lesson.pages.length - 1));
    const truth = verdicts.find(({ verdict }) => verdict === lesson.truth);
    expect(truth?.probability).toBeGreaterThan(0.05);
    expect(fit.judgement === "no-story-fits").toBe(id === "no-story-fits");
  });

  test("no figure of the engine stands in the words: only places for them", () => {
    for (const { pages } of Object.values(lessonWords)) {
      for (const { text, after } of pages) {
        for (const paragraph of [...text, ...(after ?? [])]) {
          expect(paragraph.replaceAll("1,000", "").replace(/\{(count|before|prior|guess)\}/g, "")).not.toMatch(/[{}\d]/);
        }
      }
    }
  });
});

describe("a page's words", () => {
  test("take figures where there is room for them", () => {
    expect(told("{count} now, {before} before, {other}", { count: "3", before: "2" })).toBe("3 now, 2 before, {other}");
  });
});

describe("scores", () => {
  // Brier, 1950: perfect forecasts score 0; saying a half each time scores 0.25 for one event.
  test("of one verdict are the mean square of what was stated", () => {
    const stated = [0.5, 0.5].map((own) => ({ verdict: "faked", own, engine: 1, start: 0 }) as const);
    expect(brier(stated, "faked")).toEqual({ own: 0.25, engine: 0, start: 1 });
    expect(brier(stated, "original")).toEqual({ own: 0.25, engine: 1, start: 0 });
  });

  test("of four verdicts run from 0 to 2", () => {
    const all = (chances: number[]) =>
      (["original", "married", "converted", "faked"] as const).map((verdict, place) => ({
        verdict,
        probability: chances[place] ?? 0,
      }));
    expect(brierOfAll(all([1, 0, 0, 0]), "original")).toBe(0);
    expect(brierOfAll(all([0, 1, 0, 0]), "original")).toBe(2);
    expect(brierOfAll(all([0.25, 0.25, 0.25, 0.25]), "faked")).toBe(0.75);
  });
});

describe("dealing out", () => {
  test("always sums to the whole and keeps the others' shares", () => {
    let counts = [250, 250, 250, 250];
    for (const [place, value] of [
      [0, 700],
      [1, 10],
      [2, 1000],
      [3, 333],
      [2, 0],
    ] as const) {
      counts = dealt(counts, place, value);
      expect(counts[place]).toBe(value);
      expect(counts.reduce((sum, count) => sum + count, 0)).toBe(1000);
      expect(Math.min(...counts)).toBeGreaterThanOrEqual(0);
    }
    expect(dealt([100, 300, 300, 300], 0, 400)).toEqual([400, 200, 200, 200]);
  });
});
