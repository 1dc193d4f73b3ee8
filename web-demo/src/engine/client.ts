import type { CaseFile, Problem, StudyOptions, StudyReport } from "oddment";
import type { Ask, Questions, Refused, Tell } from "./protocol.js";

/** The engine could not answer; `code` is stable. */
export class Failure extends Error {
  readonly code: string;
  readonly problems: readonly Problem[];
  readonly contradiction: readonly string[];

  constructor({ code, message, problems, contradiction }: Refused) {
    super(message);
    this.name = "Failure";
    this.code = code;
    this.problems = problems;
    this.contradiction = contradiction;
  }
}

/** Anything thrown, as a failure. */
export function asFailure(thrown: unknown): Failure {
  if (thrown instanceof Failure) return thrown;
  const message = thrown instanceof Error ? thrown.message : String(thrown);
  return new Failure({ code: "page/fault", message, problems: [], contradiction: [] });
}

interface Waiting {
  answer: (value: unknown) => void;
  refuse: (failure: Failure) => void;
  progress?: (done: number, all: number) => void;
}

type Answer<Q extends keyof Questions> = ReturnType<Questions[Q]>;

/** One worker with an engine of its own. */
export class EngineClient {
  #worker: Worker | undefined;
  #waiting = new Map<number, Waiting>();
  #last = 0;

  /** Asks; answers come in the order of asking. */
  ask<Q extends keyof Questions>(question: Q, ...given: Parameters<Questions[Q]>): Promise<Answer<Q>> {
    const id = this.#next();
    return new Promise<unknown>((answer, refuse) => {
      this.#waiting.set(id, { answer, refuse });
      this.#send({ id, question, given });
    }) as Promise<Answer<Q>>;
  }

  /** A study, which other questions may interrupt. */
  study(
    piece: CaseFile,
    options: Omit<StudyOptions, "onProgress" | "signal">,
    progress: (done: number, all: number) => void,
    signal: AbortSignal,
  ): Promise<StudyReport> {
    const id = this.#next();
    return new Promise<unknown>((answer, refuse) => {
      this.#waiting.set(id, { answer, refuse, progress });
      this.#send({ id, question: "study", given: [piece, options] });
      const stop = () => this.#send({ id, question: "stop" });
      if (signal.aborted) stop();
      else signal.addEventListener("abort", stop, { once: true });
    }) as Promise<StudyReport>;
  }

  #next(): number {
    this.#last += 1;
    return this.#last;
  }

  #send(ask: Ask): void {
    this.#worker ??= this.#start();
    this.#worker.postMessage(ask);
  }

  #start(): Worker {
    const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
    worker.onmessage = ({ data }: MessageEvent<Tell>) => this.#hear(data);
    worker.onerror = (event) => {
      event.preventDefault();
      // A worker that fails as a whole is replaced with the next question; what was asked of it is lost.
      const message = event.message === "" ? "the engine's worker could not be started" : event.message;
      const failure = new Failure({ code: "engine/crash", message, problems: [], contradiction: [] });
      for (const { refuse } of this.#waiting.values()) refuse(failure);
      this.#waiting.clear();
      worker.terminate();
      if (this.#worker === worker) this.#worker = undefined;
    };
    return worker;
  }

  #hear(tell: Tell): void {
    const waiting = this.#waiting.get(tell.id);
    if (waiting === undefined) return;
    if ("progress" in tell) {
      waiting.progress?.(tell.progress.done, tell.progress.all);
      return;
    }
    this.#waiting.delete(tell.id);
    if ("answer" in tell) waiting.answer(tell.answer);
    else waiting.refuse(new Failure(tell.refused));
  }
}

/** For what must follow the finger. */
export const quick = new EngineClient();
/** For what takes its time: started with the first such question. */
export const thorough = new EngineClient();
