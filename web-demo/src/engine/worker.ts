/// <reference lib="webworker" />
// Holds the engine, so that the page stays free for fingers.

import { loadEngine, OddmentError, type CaseFile, type Engine, type StudyOptions } from "oddment";
import type { Ask, Refused, Tell } from "./protocol.js";

const loading = loadEngine();
// What goes wrong is told to whoever asks; nobody else need hear of it.
loading.catch(() => undefined);

const stops = new Map<number, AbortController>();

function tell(message: Tell): void {
  self.postMessage(message);
}

function refused(thrown: unknown): Refused {
  if (thrown instanceof OddmentError) {
    const { code, message, problems, contradiction } = thrown;
    return { code, message, problems: [...problems], contradiction: [...contradiction] };
  }
  const message = thrown instanceof Error ? thrown.message : String(thrown);
  return { code: "engine/crash", message, problems: [], contradiction: [] };
}

function study(engine: Engine, id: number, given: unknown[]): Promise<unknown> {
  const stop = new AbortController();
  stops.set(id, stop);
  const [piece, options] = given as [CaseFile, StudyOptions];
  const onProgress = (done: number, all: number) => tell({ id, progress: { done, all } });
  return engine.study(piece, { ...options, onProgress, signal: stop.signal }).finally(() => stops.delete(id));
}

self.onmessage = async ({ data }: MessageEvent<Ask>) => {
  const { id } = data;
  if (data.question === "stop") {
    stops.get(id)?.abort();
    return;
  }
  try {
    const engine = await loading;
    if (data.question === "study") {
      tell({ id, answer: await study(engine, id, data.given) });
    } else {
      const question = engine[data.question] as (...given: unknown[]) => unknown;
      tell({ id, answer: question.apply(engine, data.given) });
    }
  } catch (thrown) {
    tell({ id, refused: refused(thrown) });
  }
};
