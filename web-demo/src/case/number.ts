// Numbers as people write them.

/** What came of reading a number. */
export type Read = { value: number } | { nothing: true } | { wrong: "no-number" | "ambiguous" };

/**
 * Reads digits with at most one point or comma before the decimals. A comma that may as well part thousands
 * ("1,500") is not guessed at.
 */
export function readNumber(letters: string): Read {
  const text = letters.trim().replace(/^\u2212/, "-");
  if (text === "") return { nothing: true };
  if (/^-?[1-9]\d{0,2},\d{3}$/.test(text)) return { wrong: "ambiguous" };
  if (!/^-?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return { wrong: "no-number" };
  const value = Number(text.replace(",", "."));
  return Number.isFinite(value) ? { value } : { wrong: "no-number" };
}
