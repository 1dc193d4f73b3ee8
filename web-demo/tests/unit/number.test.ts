import { describe, expect, test } from "vitest";
import { readNumber } from "../../src/case/number.js";

describe("a number as written", () => {
  test.each([
    ["0.8", 0.8],
    ["0,8", 0.8],
    ["1500", 1500],
    ["12,5", 12.5],
    ["0,125", 0.125],
    [" 7. ", 7],
    [".5", 0.5],
    ["-3", -3],
    ["\u22123", -3],
  ])("%s is %d", (letters, value) => {
    expect(readNumber(letters)).toEqual({ value });
  });

  test.each(["1,500", "12,000", "-4,200"])("%s is not guessed at", (letters) => {
    expect(readNumber(letters)).toEqual({ wrong: "ambiguous" });
  });

  test.each(["0x1", "1e3", "1 500", "NaN", "Infinity", "1,2,3", "1.2.3", "x", "--1", "9".repeat(400)])(
    "%s is none",
    (letters) => {
      expect(readNumber(letters)).toEqual({ wrong: "no-number" });
    },
  );

  test("nothing is nothing", () => {
    expect(readNumber("  ")).toEqual({ nothing: true });
  });
});
