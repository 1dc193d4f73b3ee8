// As index, for Node: addresses of files are read as files.

import { readFile } from "node:fs/promises";
import { start, type Engine } from "./engine.js";
import { load, type Loaded, type LoadOptions } from "./load.js";

export * from "./public.js";

let loading: Promise<Loaded> | undefined;

/** @see index */
export async function loadEngine(options: LoadOptions = {}): Promise<Engine> {
  loading ??= load(
    options,
    {
      module: () => new URL("./oddment.wasm", import.meta.url),
      baseModule: () => new URL("./oddment-base.wasm", import.meta.url),
    },
    (url) => (url.protocol === "file:" ? readFile(url) : undefined),
  );
  try {
    return start(await loading);
  } catch (failure) {
    loading = undefined;
    throw failure;
  }
}
