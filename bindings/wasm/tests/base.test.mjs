// The module without SIMD in Node.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { loadEngine } from "oddment";
import { conform } from "./conform.mjs";

const asked = JSON.parse(readFileSync(process.env.ODDMENT_CONFORMANCE, "utf8"));

test("the module without SIMD gives the same bits", async () => {
  const engine = await loadEngine({ forceBase: true });
  assert.equal(engine.simd, false);
  // One of each question: the bits do not depend on the form.
  const seen = new Set();
  const some = asked.filter(({ ask, refused }) => refused || (!seen.has(ask) && seen.add(ask)));
  assert.deepEqual((await conform(engine, some)).faults, []);
});

test("what knows no SIMD gets the other module by itself", async () => {
  const source = readFileSync(new URL("./node_modules/oddment/dist/load.js", import.meta.url), "utf8");
  assert.match(source, /WebAssembly\.validate/);
  const bytes = readFileSync(new URL("./node_modules/oddment/dist/oddment-base.wasm", import.meta.url));
  assert.ok(WebAssembly.validate(bytes));
});
