// What is kept on this device, and nowhere else.

import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import type { FullCase } from "../case/edit.js";

/** A case on the shelf. */
export interface Kept {
  id: string;
  form: string;
  title: string;
  /** When it was begun and last changed, in milliseconds. */
  begun: number;
  changed: number;
  /** Which of its steps it stands at. */
  at: number;
  /** Where it came from, if it was not begun here. */
  from?: "file" | "link" | "practice";
}

/** A state of a case; later ones may have been taken back. */
export interface Step {
  case: string;
  number: number;
  /** What was done, in words. */
  said: string;
  state: FullCase;
}

/** How somebody did on a practice piece or a lesson. */
export interface Score {
  id?: number;
  when: number;
  /** Id of the lesson, or `practice/FORM`. */
  of: string;
  guesses: number;
  /** Mean Brier scores: theirs, the engine's, and that of staying with the starting odds. */
  own: number;
  engine: number;
  start: number;
}

interface Schema extends DBSchema {
  cases: { key: string; value: Kept };
  steps: { key: [string, number]; value: Step };
  scores: { key: number; value: Score };
}

/** The most steps kept of one case: the oldest go first. */
const MOST_STEPS = 500;

let opening: Promise<IDBPDatabase<Schema>> | undefined;

function database(): Promise<IDBPDatabase<Schema>> {
  opening ??= openDB<Schema>("oddment", 1, {
    upgrade(fresh) {
      fresh.createObjectStore("cases", { keyPath: "id" });
      fresh.createObjectStore("steps", { keyPath: ["case", "number"] });
      fresh.createObjectStore("scores", { keyPath: "id", autoIncrement: true });
    },
  });
  return opening;
}

function stepsOf(id: string, from = 0): IDBKeyRange {
  return IDBKeyRange.bound([id, from], [id, Number.MAX_SAFE_INTEGER]);
}

/** All cases, the last changed first. */
export async function listCases(): Promise<Kept[]> {
  const all = await (await database()).getAll("cases");
  return all.sort((one, other) => other.changed - one.changed);
}

/** A case with all its steps, in order. */
export async function loadCase(id: string): Promise<{ kept: Kept; steps: Step[] } | undefined> {
  const transaction = (await database()).transaction(["cases", "steps"]);
  const kept = await transaction.objectStore("cases").get(id);
  if (kept === undefined) return undefined;
  return { kept, steps: await transaction.objectStore("steps").getAll(stepsOf(id)) };
}

/** Keeps a new step, in place of those that had been taken back. */
export async function keepStep(kept: Kept, step: Step): Promise<void> {
  const transaction = (await database()).transaction(["cases", "steps"], "readwrite");
  const steps = transaction.objectStore("steps");
  await steps.delete(stepsOf(kept.id, step.number));
  await steps.put(step);
  if (step.number >= MOST_STEPS) {
    await steps.delete(IDBKeyRange.bound([kept.id, 0], [kept.id, step.number - MOST_STEPS]));
  }
  await transaction.objectStore("cases").put(kept);
  await transaction.done;
}

/** Keeps at which step a case stands. */
export async function keepPlace(kept: Kept): Promise<void> {
  await (await database()).put("cases", kept);
}

/** Takes a case off the shelf, and gives back all there was of it. */
export async function removeCase(id: string): Promise<{ kept: Kept; steps: Step[] } | undefined> {
  const whole = await loadCase(id);
  const transaction = (await database()).transaction(["cases", "steps"], "readwrite");
  await transaction.objectStore("steps").delete(stepsOf(id));
  await transaction.objectStore("cases").delete(id);
  await transaction.done;
  return whole;
}

/** Puts back what was taken off. */
export async function restoreCase({ kept, steps }: { kept: Kept; steps: Step[] }): Promise<void> {
  const transaction = (await database()).transaction(["cases", "steps"], "readwrite");
  for (const step of steps) await transaction.objectStore("steps").put(step);
  await transaction.objectStore("cases").put(kept);
  await transaction.done;
}

/** Keeps a score. */
export async function keepScore(score: Score): Promise<void> {
  await (await database()).add("scores", score);
}

/** All scores, oldest first. */
export async function listScores(): Promise<Score[]> {
  return (await database()).getAll("scores");
}
