import type { Engine, Problem } from "oddment";

/** What may be asked of the engine and is answered at once. */
export type Questions = Pick<
  Engine,
  "forms" | "describe" | "readCase" | "assess" | "explain" | "next" | "lean" | "decide" | "report" | "practice"
>;

/** What the page sends to the worker. */
export type Ask =
  | { id: number; question: keyof Questions; given: unknown[] }
  | { id: number; question: "study"; given: unknown[] }
  | { id: number; question: "stop" };

/** Why something could not be answered, as plain data. */
export interface Refused {
  code: string;
  message: string;
  problems: Problem[];
  contradiction: string[];
}

/** What the worker sends back. */
export type Tell =
  | { id: number; answer: unknown }
  | { id: number; refused: Refused }
  | { id: number; progress: { done: number; all: number } };
