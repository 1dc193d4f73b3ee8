// A case on its way: as a file, and within an address.

import type { CaseFile } from "oddment";

/** The longest text worth trying to read, in characters. */
export const LONGEST = 4_000_000;

/** The text of a case file, which the command reads too. */
export function fileText(given: CaseFile): string {
  return `${JSON.stringify(given, undefined, 2)}\n`;
}

/** A name for the file, from what the piece is called. */
export function fileName(title: string): string {
  const plain = title
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60);
  return `${plain === "" ? "case" : plain}.json`;
}

async function through(bytes: Uint8Array<ArrayBuffer>, stream: GenericTransformStream, most: number): Promise<Uint8Array> {
  const reader = (new Blob([bytes]).stream().pipeThrough(stream) as ReadableStream<Uint8Array>).getReader();
  const pieces: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new RangeError("too long");
    }
    pieces.push(value);
  }
  const whole = new Uint8Array(length);
  let place = 0;
  for (const piece of pieces) {
    whole.set(piece, place);
    place += piece.length;
  }
  return whole;
}

/** A case packed to stand in an address. */
export async function packed(given: CaseFile): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(given));
  const small = await through(bytes, new CompressionStream("deflate-raw"), Number.POSITIVE_INFINITY);
  let letters = "";
  for (const byte of small) letters += String.fromCharCode(byte);
  return btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/**
 * The text of a case that stood in an address.
 *
 * @throws when it is no such thing, or far too long
 */
export async function unpacked(letters: string): Promise<string> {
  const plain = atob(letters.replaceAll("-", "+").replaceAll("_", "/"));
  const bytes = Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
  return new TextDecoder("utf-8", { fatal: true }).decode(
    await through(bytes, new DecompressionStream("deflate-raw"), LONGEST),
  );
}
