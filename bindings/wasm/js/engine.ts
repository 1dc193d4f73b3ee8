import { takeCrash } from "./crash.js";
import { OddmentError } from "./error.js";
import * as glue from "./glue.js";
import type { Loaded } from "./load.js";
import type * as types from "./types.js";

/** Text in TOML or JSON, or the same as a plain object. */
export type CaseInput = string | types.CaseFile;
/** A pack, or an extension of one that comes with the engine. */
export type PackInput = string | types.PackFile | types.ExtensionFile;
/** The library that packs share. */
export type LibraryInput = string | types.LibraryFile;
/** Somebody else's opinion: prior and numbers, or a pack or extension. */
export type OpinionInput = string | types.OpinionFile | types.PackFile | types.ExtensionFile;

/** Which pack and library to use instead of those that come with the engine. */
export interface PackChoice {
  readonly pack?: PackInput | undefined;
  readonly library?: LibraryInput | undefined;
}
/** The id of a form, or a pack of one's own. */
export type FormChoice = string | { readonly pack: PackInput; readonly library?: LibraryInput | undefined };

export type AssessOptions = PackChoice & types.AssessOptions;
export type ExplainOptions = PackChoice & types.ExplainOptions;
export type NextOptions = PackChoice & types.NextOptions;
export type LeanOptions = PackChoice &
  Omit<types.LeanOptions, "opinions"> & {
    /** Other people's opinions to pool with the case as it stands. */
    opinions?: { opinion: OpinionInput; weight?: number }[];
  };
export type DecideOptions = PackChoice & types.DecideOptions;
export type ReportOptions = PackChoice & types.ReportOptions;
export type StudyOptions = PackChoice &
  types.StudyOptions & {
    /** Told how many evaluations are done of how many. */
    onProgress?: (done: number, all: number) => void;
    /** Ends the study early: what is done by then is reported. */
    signal?: AbortSignal;
  };

/** How long a study works before it lets others have their turn, in milliseconds. */
const TURN = 16;

let loaded: Loaded | undefined;
/** Counts the instances: what belonged to one that crashed is dead. */
let instance = 0;
let current: glue.Engine | undefined;
let memory: WebAssembly.Memory | undefined;
let broken = false;

/** @internal */
export function start(module: Loaded): Engine {
  if (loaded === undefined) {
    const exports = guarded(() => glue.initSync({ module: module.module }));
    memory = exports.memory;
    loaded = module;
  }
  return new Engine(KEY);
}

const KEY = Symbol("engine");

function engine(): glue.Engine {
  if (loaded === undefined) {
    throw new OddmentError({
      code: "engine/not-loaded",
      message: "the engine is not loaded; `await loadEngine()` first",
    });
  }
  if (broken) {
    glue.__wbg_reset_state();
    // It is there already: this only hands over its exports.
    memory = glue.initSync({ module: loaded.module }).memory;
    instance += 1;
    current = undefined;
    broken = false;
  }
  current ??= new glue.Engine();
  return current;
}

/** Runs something in the engine. What it refuses becomes an error with a code; all else is a crash. */
function guarded<T>(work: () => T): T {
  try {
    return work();
  } catch (thrown) {
    if (thrown instanceof OddmentError) throw thrown;
    if (isRefusal(thrown)) throw new OddmentError(thrown);
    broken = true;
    const said = takeCrash() ?? (thrown instanceof Error ? thrown.message : String(thrown));
    throw new OddmentError({
      code: "engine/crash",
      message: `the engine crashed, a fault of its own; it is rebuilt with the next call: ${said}`,
      cause: thrown,
    });
  }
}

function isRefusal(thrown: unknown): thrown is OddmentError {
  return typeof thrown === "object" && thrown !== null && !(thrown instanceof Error) && "code" in thrown;
}

function refuse(message: string, cause?: unknown): never {
  throw new OddmentError({ code: "usage/option", message, cause });
}

/** The text of a document; an object is written out one field to a line, so that problems can be placed. */
function text(what: string, given: string | object): string {
  if (typeof given === "string") return given;
  if (typeof given !== "object" || given === null) refuse(`${what} must be text or an object`);
  let written: unknown;
  try {
    written = JSON.stringify(given, finite, 2);
  } catch (cause) {
    refuse(`${what} cannot be written as JSON: ${cause instanceof Error ? cause.message : String(cause)}`, cause);
  }
  return typeof written === "string" ? written : refuse(`${what} is nothing when written as JSON`);
}

/** JSON would write null for what is no number, and null is as good as absent. */
function finite(key: string, value: unknown): unknown {
  if (typeof value === "number" && !Number.isFinite(value)) throw new RangeError(`\`${key}\` is ${String(value)}`);
  return value;
}

function optional(what: string, given: string | object | undefined): string | undefined {
  return given === undefined ? undefined : text(what, given);
}

/** The pack, the library and all other options, as texts. */
function split(options: PackChoice): [string | undefined, string | undefined, string] {
  if (typeof options !== "object" || options === null) refuse("options must be an object");
  const { pack, library, ...rest } = options;
  return [optional("the pack", pack), optional("the library", library), text("the options", rest)];
}

function chosen(form: FormChoice): [string | undefined, string | undefined, string | undefined] {
  if (typeof form === "string") return [form, undefined, undefined];
  const [pack, library] = split(form);
  return [undefined, pack, library];
}

/**
 * The engine. Got by `await loadEngine()`; it never changes, holds nothing of what it was asked, and every
 * value that goes in or comes out is plain.
 *
 * Every call may throw an `OddmentError`.
 */
export class Engine {
  /** Version of the engine. */
  readonly version: string;
  /** Whether the module with SIMD is at work. */
  readonly simd: boolean;

  /** @internal */
  constructor(key?: symbol) {
    if (key !== KEY || loaded === undefined) {
      throw new OddmentError({
        code: "engine/not-loaded",
        message: "an engine is got by `await loadEngine()`",
      });
    }
    this.simd = loaded.simd;
    this.version = guarded(() => {
      engine();
      return glue.Engine.version();
    });
    Object.freeze(this);
  }

  /** Bytes of memory the engine holds at present. */
  get memoryBytes(): number {
    return memory?.buffer.byteLength ?? 0;
  }

  /** The forms that come with the engine. */
  forms(): types.FormSummary[] {
    return guarded(() => engine().forms() as types.FormSummary[]);
  }

  /** Everything a pack says of its form: variants, checks, signs, histories, numbers ... */
  describe(form: FormChoice): types.FormDescription {
    return guarded(() => engine().askForm("describe", ...chosen(form)) as types.FormDescription);
  }

  /** A case to fill in, as a commented TOML text; `readCase` makes an object of it. */
  newCase(form: FormChoice): string {
    return guarded(() => engine().askForm("newCase", ...chosen(form)) as string);
  }

  /** Checks a case and gives it back as an object. */
  readCase(given: CaseInput, options: PackChoice = {}): types.CaseFile {
    return guarded(() => engine().askCase("readCase", text("the case", given), ...split(options)) as types.CaseFile);
  }

  /** The odds of every history, with the reasons; without `fit` within a frame. */
  assess(given: CaseInput, options: AssessOptions = {}): types.Assessment {
    return guarded(() => engine().askCase("assess", text("the case", given), ...split(options)) as types.Assessment);
  }

  /** How the findings built up the verdict, alone, together and in order. */
  explain(given: CaseInput, options: ExplainOptions = {}): types.Argument {
    return guarded(() => engine().askCase("explain", text("the case", given), ...split(options)) as types.Argument);
  }

  /** What is still worth looking at, and a plan for the time there is. */
  next(given: CaseInput, options: NextOptions = {}): types.Outlook {
    return guarded(() => engine().askCase("next", text("the case", given), ...split(options)) as types.Outlook);
  }

  /** Which numbers the verdict hangs on; with `opinions`, several people's answers pooled. */
  lean(given: CaseInput, options: LeanOptions = {}): types.Leaning {
    return guarded(() => {
      const held: unknown = options.opinions ?? [];
      if (!Array.isArray(held)) refuse("`opinions` must be a list");
      const opinions = options.opinions?.map((entry, place) => ({
        ...entry,
        opinion: text(`opinion ${String(place + 1)}`, entry?.opinion),
      }));
      const asked: PackChoice = { ...options, ...(opinions && { opinions }) };
      return engine().askCase("lean", text("the case", given), ...split(asked)) as types.Leaning;
    });
  }

  /** Whether to buy, on the case's own figures or on `stakes`. */
  decide(given: CaseInput, options: DecideOptions = {}): types.Decision {
    return guarded(() => engine().askCase("decide", text("the case", given), ...split(options)) as types.Decision);
  }

  /** The written report: one page of HTML that needs nothing else, or Markdown. */
  report(given: CaseInput, options: ReportOptions = {}): string {
    return guarded(() => engine().askCase("report", text("the case", given), ...split(options)) as string);
  }

  /** What is doubtful in a pack of one's own that loads. */
  lint(pack: PackInput, options: { readonly library?: LibraryInput } = {}): types.LintFinding[] {
    const { library, ...rest } = options;
    return guarded(() => {
      const texts = [text("the pack", pack), optional("the library", library), text("the options", rest)] as const;
      return engine().askForm("lint", undefined, ...texts) as types.LintFinding[];
    });
  }

  /** A piece to practise on: what an examiner would write down of it, and the truth. */
  practice(form: FormChoice, options: types.PracticeOptions = {}): types.Practice {
    return guarded(() => engine().askForm("practice", ...chosen(form), text("the options", options)) as types.Practice);
  }

  /**
   * How sure the answer is: all numbers drawn many times over. Works in turns of some milliseconds and lets
   * others have theirs in between, so that a worker goes on hearing messages.
   */
  async study(given: CaseInput, options: StudyOptions = {}): Promise<types.StudyReport> {
    const { onProgress, signal, ...asked } = options;
    const begun = guarded(() => engine().study(text("the case", given), ...split(asked)));
    const own = instance;
    const alive = () => {
      if (own === instance && !broken) return;
      const message = "the engine crashed during the study; start it again";
      throw new OddmentError({ code: "engine/crash", message });
    };
    try {
      for (;;) {
        if (signal?.aborted === true) begun.stop();
        const until = performance.now() + TURN;
        let done = false;
        do done = guarded(() => begun.turn());
        while (!done && performance.now() < until);
        onProgress?.(begun.done(), begun.all());
        if (done) break;
        await othersTurn();
        alive();
      }
      const report = guarded(() => begun.report() as types.StudyReport);
      if (report.draws < 2) {
        const message = "stopped before enough was drawn to say anything";
        throw new OddmentError({ code: "engine/stopped", message, cause: signal?.reason });
      }
      return report;
    } finally {
      if (own === instance && !broken) begun.free();
    }
  }

  /** Crashes the engine on purpose, to try what one's own software does then: throws `engine/crash`. */
  provokeCrash(): never {
    guarded(() => engine().provokeCrash());
    throw new OddmentError({ code: "engine/crash", message: "the crash did not happen" });
  }
}

/** Ends the running task: messages and frames come first. */
function othersTurn(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(undefined);
  });
}
