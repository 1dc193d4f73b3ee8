// Going through a lesson: the case as it grows from page to page, the words with the engine's figures, the score.

import type { CaseFile, FindingFile, ReadingFile, Verdict } from "oddment";
import type { Lesson, Page } from "./lessons.js";

/** The case as it stands once a page's findings are added. */
export function caseAt(lesson: Lesson, page: number): CaseFile {
  const finding: FindingFile[] = [...(lesson.start?.finding ?? [])];
  const reading: ReadingFile[] = [...(lesson.start?.reading ?? [])];
  let prior: Record<string, number> = {};
  let numbers: Record<string, number> = {};
  for (const { kind, ...added } of lesson.pages.slice(0, page + 1)) {
    if (kind !== "guess") continue;
    const guess = added as Extract<Page, { kind: "guess" }>;
    finding.push(...(guess.finding ?? []));
    reading.push(...(guess.reading ?? []));
    prior = guess.prior ?? prior;
    numbers = guess.numbers ?? numbers;
  }
  return {
    schema: "oddment/case/1",
    piece: lesson.piece,
    finding,
    reading,
    prior,
    numbers,
    known: lesson.start?.known ?? {},
  };
}

/** Puts figures where the words leave room for them. */
export function told(letters: string, figures: Readonly<Record<string, string>>): string {
  return letters.replace(/\{(\w+)\}/g, (whole, name: string) => figures[name] ?? whole);
}

/** One stated chance and what was then true. */
export interface Stated {
  verdict: Verdict;
  own: number;
  engine: number;
  start: number;
}

/** Mean Brier scores of chances stated for single verdicts: the mean of `(chance - truth)^2`. */
export function brier(stated: readonly Stated[], truth: Verdict): { own: number; engine: number; start: number } {
  const mean = (chance: (one: Stated) => number) => {
    const squares = stated.map((one) => (chance(one) - (one.verdict === truth ? 1 : 0)) ** 2);
    return squares.reduce((sum, square) => sum + square, 0) / Math.max(1, squares.length);
  };
  return { own: mean(({ own }) => own), engine: mean(({ engine }) => engine), start: mean(({ start }) => start) };
}

/**
 * Brier score of chances stated for all four verdicts, `sum((chance - truth)^2)` from 0 to 2, as Brier, 1950,
 * Verification of forecasts expressed in terms of probability, Monthly Weather Review 78, has it.
 */
export function brierOfAll(chances: readonly { verdict: Verdict; probability: number }[], truth: Verdict): number {
  return chances.reduce((sum, { verdict, probability }) => sum + (probability - (verdict === truth ? 1 : 0)) ** 2, 0);
}

/** Gives one of several counts another value; the others share what is left as they did before. */
export function dealt(counts: readonly number[], place: number, value: number, total = 1000): number[] {
  const rest = total - value;
  const others = counts.reduce((sum, count, index) => sum + (index === place ? 0 : count), 0);
  const exact = counts.map((count, index) => {
    if (index === place) return value;
    return others === 0 ? rest / (counts.length - 1) : (count * rest) / others;
  });
  const whole = exact.map(Math.floor);
  let left = total - whole.reduce((sum, count) => sum + count, 0);
  const order = exact
    .map((count, index) => ({ index, fraction: count - Math.floor(count) }))
    .filter(({ index }) => index !== place)
    .sort((one, other) => other.fraction - one.fraction || one.index - other.index);
  for (let turn = 0; left > 0 && order.length > 0; turn += 1, left -= 1) {
    const index = order[turn % order.length]?.index ?? 0;
    whole[index] = (whole[index] ?? 0) + 1;
  }
  return whole;
}
