import { OddmentError } from "./error.js";

/** Where a module can come from: an address, an answer to a fetch, bytes, or compiled already. */
export type ModuleSource = string | URL | Response | Promise<Response> | BufferSource | WebAssembly.Module;

/** Where to find the engine's modules, when not beside the script. */
export interface LoadOptions {
  /** The module, for engines with SIMD (every browser since 2023, Node). */
  readonly module?: ModuleSource;
  /** The module for engines without; only fetched by those. */
  readonly baseModule?: ModuleSource;
  /** Use the module without SIMD even where there is SIMD. */
  readonly forceBase?: boolean;
}

/** The compiled module and whether it uses SIMD. */
export interface Loaded {
  readonly module: WebAssembly.Module;
  readonly simd: boolean;
}

/** How an address is read where the platform has a way of its own. */
export type Reader = (url: URL) => Promise<BufferSource> | undefined;

// A function that splats a byte over a vector and adds nothing: valid only with SIMD.
const SIMD_PROBE = new Uint8Array([
  0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11,
]);

/** Whether this engine knows vectors of 128 bits. */
export function hasSimd(): boolean {
  return WebAssembly.validate(SIMD_PROBE);
}

/** Gets and compiles the right module. */
export async function load(
  options: LoadOptions,
  besides: { module: () => URL; baseModule: () => URL },
  reader: Reader,
): Promise<Loaded> {
  if (typeof WebAssembly !== "object") {
    throw new OddmentError({ code: "engine/load", message: "there is no WebAssembly here" });
  }
  const simd = options.forceBase !== true && hasSimd();
  const source = simd ? (options.module ?? besides.module()) : (options.baseModule ?? besides.baseModule());
  return { module: await compile(source, reader), simd };
}

async function compile(source: ModuleSource, reader: Reader): Promise<WebAssembly.Module> {
  if (source instanceof WebAssembly.Module) return source;
  if (source instanceof ArrayBuffer || ArrayBuffer.isView(source)) return ofBytes(source, "the bytes given");
  if (typeof source === "string" || source instanceof URL) {
    const url = new URL(source, typeof location === "undefined" ? import.meta.url : location.href);
    const where = `\`${url.href.length > 200 ? `${url.href.slice(0, 200)}...` : url.href}\``;
    let answer: Response;
    try {
      const bytes = reader(url);
      if (bytes !== undefined) return await ofBytes(await bytes, where);
      answer = await fetch(url);
    } catch (cause) {
      if (cause instanceof OddmentError) throw cause;
      throw failed(`${where} cannot be read: ${saying(cause)}`, cause);
    }
    return ofAnswer(answer, where);
  }
  try {
    return await ofAnswer(await source, "the answer given");
  } catch (cause) {
    if (cause instanceof OddmentError) throw cause;
    throw failed(`the module cannot be fetched: ${saying(cause)}`, cause);
  }
}

async function ofAnswer(answer: Response, where: string): Promise<WebAssembly.Module> {
  if (!answer.ok) {
    throw failed(`${where} is answered with status ${String(answer.status)} instead of the module`);
  }
  const type = answer.headers.get("content-type")?.split(";")[0]?.trim().toLowerCase();
  if (type === "application/wasm" && "compileStreaming" in WebAssembly) {
    try {
      return await WebAssembly.compileStreaming(answer);
    } catch (cause) {
      throw refused(where, cause);
    }
  }
  // A server that does not know the type of the module still sends the right bytes.
  let bytes: ArrayBuffer;
  try {
    bytes = await answer.arrayBuffer();
  } catch (cause) {
    throw failed(`${where} broke off: ${saying(cause)}`, cause);
  }
  return ofBytes(bytes, where, type);
}

async function ofBytes(bytes: BufferSource, where: string, type?: string): Promise<WebAssembly.Module> {
  const view = ArrayBuffer.isView(bytes)
    ? new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    : new Uint8Array(bytes);
  const magic = [0x00, 0x61, 0x73, 0x6d];
  if (!magic.every((byte, place) => view[place] === byte)) {
    const start = new TextDecoder().decode(view.subarray(0, 64)).trimStart();
    const what = start.startsWith("<") ? "a page (HTML)" : `something else${type === undefined ? "" : ` (${type})`}`;
    throw failed(
      `${where} is ${what} and not the module; see that \`oddment.wasm\` is served there, or give \`module\``,
    );
  }
  try {
    return await WebAssembly.compile(bytes);
  } catch (cause) {
    throw refused(where, cause);
  }
}

function refused(where: string, cause: unknown): OddmentError {
  const remedy = "a Content-Security-Policy must allow 'wasm-unsafe-eval' in script-src";
  return failed(`${where} cannot be compiled: ${saying(cause)} (${remedy})`, cause);
}

function failed(message: string, cause?: unknown): OddmentError {
  return new OddmentError({ code: "engine/load", message, cause });
}

function saying(cause: unknown): string {
  return cause instanceof Error ? cause.message : String(cause);
}
