import { describe, expect, test } from "vitest";
import { shareOut } from "../../src/common/verdicts.js";
import { readRoute } from "../../src/bench/route.svelte.js";
import { words } from "../../src/words/index.js";

describe("counts of a thousand", () => {
  test.each([
    [0, "0"],
    [0.0004, "under 1"],
    [0.0312, "31"],
    [0.9996, "over 999"],
    [1, "1,000"],
  ])("%d is told as %s", (probability, said) => {
    expect(words.ofThousand(probability)).toBe(said);
  });

  test("that are shared out sum to a thousand, none a whole piece off", () => {
    for (const some of [
      [0.25, 0.25, 0.25, 0.25],
      [1 / 3, 1 / 3, 1 / 3, 0],
      [0.9995, 0.0003, 0.0001, 0.0001],
      [1, 0, 0, 0],
    ]) {
      const counts = shareOut(some);
      expect(counts.reduce((sum, count) => sum + count, 0)).toBe(1000);
      counts.forEach((count, place) => expect(Math.abs(count - 1000 * (some[place] ?? 0))).toBeLessThan(1));
    }
  });
});

describe("weights", () => {
  // Ten decibans are a factor of ten on the odds.
  test("are told as factors", () => {
    expect(words.times(10)).toBe("10 times the odds");
    expect(words.times(-20)).toBe("the odds divided by 100");
    expect(words.times(0.1)).toBe("hardly moves the odds");
    expect(words.decibans(-3.04)).toBe("−3");
  });
});

describe("addresses", () => {
  test.each([
    ["", { at: "shelf" }],
    ["#/new/armchair", { at: "new", form: "armchair" }],
    ["#/case/abc/odds", { at: "case", id: "abc", view: "odds", part: undefined }],
    ["#/case/abc/piece/leaves", { at: "case", id: "abc", view: "piece", part: "leaves" }],
    ["#/case/abc/no-such-view", { at: "case", id: "abc", view: "piece", part: undefined }],
    ["#/lessons/dates", { at: "lesson", id: "dates" }],
    ["#case=AbC_-", { at: "link", letters: "AbC_-" }],
    ["#/%E0%A4%A", { at: "shelf" }],
  ])("%s", (fragment, route) => {
    expect(readRoute(fragment)).toEqual(route);
  });
});
