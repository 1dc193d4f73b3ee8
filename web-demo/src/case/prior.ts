// Starting odds moved as a whole.

import type { HistoryOdds } from "oddment";

/** The share of pieces that are not original to begin with. */
export function notOriginal(histories: readonly Pick<HistoryOdds, "verdict" | "prior">[]): number {
  return histories.reduce((sum, { verdict, prior }) => sum + (verdict === "original" ? 0 : prior), 0);
}

/** Counts out of 1,000 with another such share; the histories of either side keep their proportions. */
export function priorWith(
  histories: readonly Pick<HistoryOdds, "id" | "verdict" | "prior">[],
  share: number,
): Record<string, number> {
  const now = notOriginal(histories);
  return Object.fromEntries(
    histories.map(({ id, verdict, prior }) => [
      id,
      1000 * prior * (verdict === "original" ? (1 - share) / (1 - now) : share / now),
    ]),
  );
}
