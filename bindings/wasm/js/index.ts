/**
 * How likely each rival history of a piece of period furniture is, given what was found on it.
 *
 * It is the arithmetic of an opinion, not a certificate of authenticity and not a valuation.
 *
 * @example
 * import { loadEngine } from "oddment";
 * const engine = await loadEngine();
 * const assessment = engine.assess(caseText);
 *
 * @packageDocumentation
 */

import { start, type Engine } from "./engine.js";
import { load, type Loaded, type LoadOptions } from "./load.js";

export * from "./public.js";

let loading: Promise<Loaded> | undefined;

/**
 * Loads the engine; a second call waits for the same.
 *
 * The module lies beside this script. Where it does not, say where: `loadEngine({ module: url })`.
 *
 * @throws OddmentError with the code `engine/load`
 */
export async function loadEngine(options: LoadOptions = {}): Promise<Engine> {
  // Bundlers see the first address and take the module along; the second is hidden from them, so that only
  // those who want the module without SIMD as well pay for it.
  const base = "./oddment-base.wasm";
  loading ??= load(
    options,
    {
      module: () => new URL("./oddment.wasm", import.meta.url),
      baseModule: () => new URL(/* @vite-ignore */ /* webpackIgnore: true */ base, import.meta.url),
    },
    () => undefined,
  );
  try {
    return start(await loading);
  } catch (failure) {
    // What failed may be tried again, from elsewhere.
    loading = undefined;
    throw failure;
  }
}
