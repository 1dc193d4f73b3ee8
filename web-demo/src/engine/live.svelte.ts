import { asFailure, type Failure } from "./client.js";

/**
 * An answer that follows what is asked: while one question is under way only the newest of those that come
 * meanwhile is kept.
 */
export class Live<Answer> {
  /** The newest answer there is; it stays until the next comes. */
  value = $state.raw<Answer | undefined>(undefined);
  /** Why the newest question could not be answered. */
  failure = $state.raw<Failure | undefined>(undefined);
  /** Whether a newer answer is on its way. */
  busy = $state(false);

  #working = false;
  #round = 0;
  #next: (() => Promise<Answer>) | undefined;

  /** Asks. */
  want(run: () => Promise<Answer>): void {
    this.#next = run;
    if (!this.#working) void this.#work();
  }

  /** Forgets the answer, as when another piece is taken up. */
  clear(): void {
    this.#round += 1;
    this.#next = undefined;
    this.value = undefined;
    this.failure = undefined;
  }

  async #work(): Promise<void> {
    this.#working = true;
    this.busy = true;
    while (this.#next !== undefined) {
      const run = this.#next;
      this.#next = undefined;
      const round = this.#round;
      try {
        const value = await run();
        if (round !== this.#round) continue;
        this.value = value;
        this.failure = undefined;
      } catch (thrown) {
        if (round === this.#round) this.failure = asFailure(thrown);
      }
    }
    this.#working = false;
    this.busy = false;
  }
}
