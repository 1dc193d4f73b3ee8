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
    // A connection that ends is opened anew with the next question.
    terminated: () => (opening = undefined),
    blocking(_current, _wanted, event) {
      (event.target as IDBDatabase).close();
      opening = undefined;
    },
    upgrade(fresh) {
      fresh.createObjectStore("cases", { keyPath: "id" });
      fresh.createObjectStore("steps", { keyPath: ["case", "number"] });
      fresh.createObjectStore("scores", { keyPath: "id", autoIncrement: true });
    },
  });
  opening.catch(() => (opening = undefined));
  return opening;
}

/** Asks the browser not to clear away what is kept here when space is short. */
export async function persist(): Promise<void> {
  try {
    await navigator.storage.persist();
  } catch {
    // Then it is kept for as long as the browser likes.
  }
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

/**
 * Keeps a new step, in place of those that had been taken back.
 *
 * `known` is when the case was last changed as far as the caller knows. If it was changed since, in another
 * window, nothing is taken away: the step comes after all others. Gives whether that was so.
 */
export async function keepStep(kept: Kept, step: Step, known: number | undefined): Promise<boolean> {
  const transaction = (await database()).transaction(["cases", "steps"], "readwrite");
  const steps = transaction.objectStore("steps");
  const stored = await transaction.objectStore("cases").get(kept.id);
  const crossed = stored !== undefined && known !== undefined && stored.changed !== known;
  let { number } = step;
  if (crossed) {
    const last = await steps.openKeyCursor(stepsOf(kept.id), "prev");
    number = Math.max(number, (last?.key[1] ?? 0) + 1);
  } else {
    await steps.delete(stepsOf(kept.id, number));
  }
  await steps.put({ ...step, number });
  if (number >= MOST_STEPS) {
    await steps.delete(IDBKeyRange.bound([kept.id, 0], [kept.id, number - MOST_STEPS]));
  }
  await transaction.objectStore("cases").put({ ...kept, at: number });
  await transaction.done;
  return crossed;
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
