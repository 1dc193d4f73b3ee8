// The piece on the bench: its case, every step back and forth, kept as it changes.

import type { CaseFile } from "oddment";
import { fill, type FullCase } from "../case/edit.js";
import { indexForm, type Form } from "../case/form.js";
import { quick } from "../engine/client.js";
import { words } from "../words/index.js";
import { keepPlace, keepStep, loadCase, type Kept, type Step } from "./store.js";

const forms = new Map<string, Promise<Form>>();

/** A form, asked for once. */
export function formOf(id: string): Promise<Form> {
  let known = forms.get(id);
  if (known === undefined) {
    known = quick.ask("describe", id).then(indexForm);
    known.catch(() => forms.delete(id));
    forms.set(id, known);
  }
  return known;
}

/** Tells other windows that a case changed here. */
const others = typeof BroadcastChannel === "undefined" ? undefined : new BroadcastChannel("oddment");

/** A fresh id. */
export function freshId(): string {
  return crypto.randomUUID().slice(0, 8);
}

class Bench {
  kept = $state.raw<Kept | undefined>(undefined);
  form = $state.raw<Form | undefined>(undefined);
  steps = $state.raw<Step[]>([]);
  /** Place of the present state among the steps. */
  at = $state(0);
  /** The visit that findings are noted under. */
  visit = $state("visit-1");
  /** What was done last, to be told and taken back. */
  said = $state<string | undefined>(undefined);
  /** Why the device keeps nothing, if it does not. */
  unkept = $state<string | undefined>(undefined);

  readonly now = $derived<FullCase | undefined>(this.steps[this.at]?.state);
  readonly canUndo = $derived(this.at > 0);
  readonly canRedo = $derived(this.at + 1 < this.steps.length);

  /** Counts openings: what was begun for another piece is dropped. */
  #opening = 0;
  /** Writes follow one another. */
  #writing: Promise<void> = Promise.resolve();

  constructor() {
    others?.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
      if (data === this.kept?.id) void this.open(String(data), true);
    });
  }

  /** Takes a piece from the shelf; whether it was there. */
  async open(id: string, again = false): Promise<boolean> {
    if (!again && this.kept?.id === id) return true;
    this.#opening += 1;
    const opening = this.#opening;
    const found = await loadCase(id);
    const last = found?.steps.at(-1);
    if (found === undefined || last === undefined) return false;
    const form = await formOf(found.kept.form);
    if (opening !== this.#opening) return true;
    this.kept = found.kept;
    this.form = form;
    this.steps = found.steps;
    const at = found.steps.findIndex(({ number }) => number === found.kept.at);
    this.at = at < 0 ? found.steps.length - 1 : at;
    this.visit = this.now?.visit.at(-1)?.id ?? "visit-1";
    this.said = undefined;
    return true;
  }

  /** Puts a new piece on the shelf and gives its id. */
  async begin(given: CaseFile, from?: Kept["from"]): Promise<string> {
    const form = await formOf(given.piece.form);
    const state = fill(given, form);
    const id = freshId();
    const when = Date.now();
    const kept: Kept = {
      id,
      form: form.id,
      title: titleOf(state, form),
      begun: when,
      changed: when,
      at: 0,
      ...(from && { from }),
    };
    const step: Step = { case: id, number: 0, said: words.bench.begun, state };
    this.#opening += 1;
    this.kept = kept;
    this.form = form;
    this.steps = [step];
    this.at = 0;
    this.visit = state.visit.at(-1)?.id ?? "visit-1";
    this.said = undefined;
    await this.#write(() => keepStep(kept, step));
    return id;
  }

  /** Changes the case; `said` tells what was done. */
  change(state: FullCase, said: string): void {
    const { kept, form } = this;
    const here = this.steps[this.at];
    if (kept === undefined || form === undefined || here === undefined || state === here.state) return;
    const step: Step = { case: kept.id, number: here.number + 1, said, state };
    this.steps = [...this.steps.slice(0, this.at + 1), step];
    this.at += 1;
    this.said = said;
    this.kept = { ...kept, title: titleOf(state, form), changed: Date.now(), at: step.number };
    const now = this.kept;
    void this.#write(() => keepStep(now, step));
  }

  undo(): void {
    if (!this.canUndo) return;
    const undone = this.steps[this.at]?.said ?? "";
    this.#stand(this.at - 1);
    this.said = words.bench.undone(undone);
  }

  redo(): void {
    if (!this.canRedo) return;
    this.#stand(this.at + 1);
    this.said = words.bench.redone(this.steps[this.at]?.said ?? "");
  }

  #stand(at: number): void {
    const { kept, form } = this;
    const step = this.steps[at];
    if (kept === undefined || form === undefined || step === undefined) return;
    this.at = at;
    if (!step.state.visit.some(({ id }) => id === this.visit)) this.visit = step.state.visit.at(-1)?.id ?? "visit-1";
    this.kept = { ...kept, title: titleOf(step.state, form), changed: Date.now(), at: step.number };
    const now = this.kept;
    void this.#write(() => keepPlace(now));
  }

  #write(work: () => Promise<void>): Promise<void> {
    this.#writing = this.#writing.then(work).then(
      () => {
        this.unkept = undefined;
        others?.postMessage(this.kept?.id);
      },
      (thrown: unknown) => {
        this.unkept = thrown instanceof Error ? thrown.message : String(thrown);
      },
    );
    return this.#writing;
  }
}

function titleOf(state: FullCase, form: Form): string {
  const title = state.piece.title?.trim() ?? "";
  return title === "" ? words.bench.untitled(form.name) : title;
}

export const bench = new Bench();
