import type { Problem } from "./types.js";

/** What `OddmentError` is made of. */
export interface OddmentErrorParts {
  readonly code: string;
  readonly message: string;
  readonly problems?: readonly Problem[];
  readonly contradiction?: readonly string[];
  readonly cause?: unknown;
}

/**
 * Whatever goes wrong here is one of these.
 *
 * `code` is stable and the same as the command's: `case/...`, `pack/...`, `opinion/...`, `query/...`,
 * `decide/...` for what was asked; `usage/option` for an option out of bounds; and for the engine itself
 * `engine/not-loaded`, `engine/load` (the module could not be had), `engine/crash` (a fault of ours: it is
 * rebuilt, the next call works), `engine/stopped` (a study ended by its signal with nothing to show),
 * `engine/circuit` (too large a model).
 */
export class OddmentError extends Error {
  /** Stable, for programs. */
  readonly code: string;
  /** Everything wrong with the texts and objects given, placed. */
  readonly problems: readonly Problem[];
  /** For `case/impossible`, the fewest findings that cannot be true together. */
  readonly contradiction: readonly string[];

  constructor(parts: OddmentErrorParts) {
    super(parts.message, parts.cause === undefined ? undefined : { cause: parts.cause });
    this.name = "OddmentError";
    this.code = parts.code;
    this.problems = parts.problems ?? [];
    this.contradiction = parts.contradiction ?? [];
  }
}
