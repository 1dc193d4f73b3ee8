import { describe, expect, test } from "vitest";
import { fileName, fileText, packed, unpacked } from "../../src/case/travel.js";
import { freshCase } from "../../src/case/edit.js";

const piece = { form: "armchair", variant: "dining", period: "x", region: "y", title: "Stühlchen – “Nr. 7”" };

describe("a case in an address", () => {
  test("comes back as it went, whatever letters it holds", async () => {
    const given = freshCase(piece, "2026-01-31");
    const letters = await packed(given);
    expect(letters).toMatch(/^[A-Za-z0-9_-]+$/);
    expect(JSON.parse(await unpacked(letters))).toEqual(given);
  });

  test("is refused when it is none", async () => {
    for (const letters of ["", "!!!", "AAAA", "no-such-thing", "%00"]) {
      await expect(unpacked(letters)).rejects.toThrow();
    }
  });

  test("does not swell up without bounds", async () => {
    const bomb = { ...freshCase(piece, "2026-01-31"), note: "a".repeat(5_000_000) };
    const letters = await packed(bomb);
    expect(letters.length).toBeLessThan(20_000);
    await expect(unpacked(letters)).rejects.toThrow("too long");
  });
});

describe("a case file", () => {
  test("is JSON with a line for every field", () => {
    expect(fileText(freshCase(piece, "2026-01-31")).split("\n").length).toBeGreaterThan(10);
  });

  test.each([
    ["Stühlchen – “Nr. 7”", "stuhlchen-nr-7.json"],
    ["../../etc/passwd", "etc-passwd.json"],
    ["机", "case.json"],
    ["", "case.json"],
  ])("is named after the piece: %s", (title, name) => {
    expect(fileName(title)).toBe(name);
  });
});
