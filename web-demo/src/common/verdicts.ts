import type { Verdict } from "oddment";

/** The verdicts in their usual order. */
export const VERDICTS: readonly Verdict[] = ["original", "married", "converted", "faked"];

/** The likeliest of four in the usual order. */
export function leadingOf(probabilities: readonly { verdict: Verdict; probability: number }[]): Verdict {
  let best = probabilities[0];
  for (const odds of probabilities) if (best === undefined || odds.probability > best.probability) best = odds;
  return best?.verdict ?? "original";
}

/** What to fill a picture's area with. */
export function weave(verdict: Verdict): string {
  return `url(#weave-${verdict})`;
}

/** A chance from decibans of its odds. */
export function chanceOf(decibans: number): number {
  return 1 / (1 + 10 ** (-decibans / 10));
}

/** Counts that sum to 1,000, none further than one from its share. */
export function shareOut(probabilities: readonly number[], total = 1000): number[] {
  const exact = probabilities.map((probability) => probability * total);
  const counts = exact.map(Math.floor);
  let left = total - counts.reduce((sum, count) => sum + count, 0);
  const order = exact
    .map((value, place) => ({ place, rest: value - Math.floor(value) }))
    .sort((one, other) => other.rest - one.rest || one.place - other.place);
  for (const { place } of order) {
    if (left <= 0) break;
    counts[place] = (counts[place] ?? 0) + 1;
    left -= 1;
  }
  return counts;
}
