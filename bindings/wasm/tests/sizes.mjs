// Measures what has to travel and holds it against sizes.json.

import { readFileSync } from "node:fs";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

const read = (path) => readFileSync(new URL(path, import.meta.url));
const budget = JSON.parse(read("../sizes.json").toString());
const scripts = ["index.js", "public.js", "engine.js", "error.js", "crash.js", "load.js", "glue.js"];
const files = {
  "oddment.wasm": read("../dist/oddment.wasm"),
  "oddment-base.wasm": read("../dist/oddment-base.wasm"),
  scripts: Buffer.concat(scripts.map((name) => read(`../dist/${name}`))),
};

let over = false;
for (const [name, bytes] of Object.entries(files)) {
  const brotli = {
    [constants.BROTLI_PARAM_QUALITY]: 11,
    [constants.BROTLI_PARAM_LGWIN]: 24,
    [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
  };
  const sizes = {
    raw: bytes.length,
    gzip: gzipSync(bytes, { level: 9 }).length,
    brotli: brotliCompressSync(bytes, { params: brotli }).length,
  };
  for (const [kind, size] of Object.entries(sizes)) {
    const most = budget[name][kind];
    const mark = size > most ? "  OVER" : "";
    over ||= size > most;
    console.log(`${name.padEnd(20)} ${kind.padEnd(7)} ${String(size).padStart(9)} of ${String(most).padStart(9)}${mark}`);
  }
}
if (over) {
  console.error("larger than sizes.json allows: make it smaller, or raise the budget and say why in the changelog");
  process.exit(1);
}
