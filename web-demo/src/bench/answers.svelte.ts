// What the engine says of the piece on the bench, following every touch.

import type { Assessment, FormSummary, StudyReport } from "oddment";
import { quick, thorough } from "../engine/client.js";
import { Live } from "../engine/live.svelte.js";
import type { FullCase } from "../case/edit.js";

/** Draws for the interval beside the odds: enough for its ends to within a few pieces in 1,000. */
const INTERVAL_DRAWS = 400;

/** How long the piece must have rested before slow questions are asked, in milliseconds. */
const REST = 350;

class Answers {
  /** The odds, without the fit. */
  readonly odds = new Live<Assessment>();
  /** The odds with the fit. */
  readonly judged = new Live<Assessment>();
  /** How far the odds hang on the numbers. */
  readonly interval = new Live<StudyReport>();

  /** The case whose fit and interval are shown: while it is another, they are being worked out. */
  settled = $state.raw<FullCase | undefined>(undefined);

  #stop: AbortController | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** Follows a case. */
  follow(state: FullCase): void {
    this.odds.want(() => quick.ask("assess", state, { fit: false }));
    this.#rest();
    this.#timer = setTimeout(() => {
      const stop = new AbortController();
      this.#stop = stop;
      this.judged.want(() => thorough.ask("assess", state));
      this.interval.want(async () => {
        const study = await thorough.study(state, { draws: INTERVAL_DRAWS, pairs: 0 }, () => undefined, stop.signal);
        // One that was ended early is of no use to a later return to this state.
        if (!stop.signal.aborted) this.settled = state;
        return study;
      });
    }, REST);
  }

  /** Forgets the last piece. */
  clear(): void {
    this.#rest();
    this.odds.clear();
    this.judged.clear();
    this.interval.clear();
  }

  /** Ends what is under way: nothing that is shown is settled any more. */
  #rest(): void {
    this.#stop?.abort();
    clearTimeout(this.#timer);
    this.settled = undefined;
  }
}

export const answers = new Answers();

/** Runs something once its cause has rested for a moment; gives what ends the waiting. */
export function rested(work: () => void, pause = REST): () => void {
  const timer = setTimeout(work, pause);
  return () => clearTimeout(timer);
}

let listing: Promise<FormSummary[]> | undefined;

/** The forms there are, asked for once. */
export function formList(): Promise<FormSummary[]> {
  listing ??= quick.ask("forms");
  listing.catch(() => (listing = undefined));
  return listing;
}
