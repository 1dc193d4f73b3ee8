// The packed package in Node: run where it is installed.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { Engine, loadEngine, OddmentError } from "oddment";
import { schemas } from "oddment/schemas";
import { conform } from "./conform.mjs";
import { small } from "./small.mjs";

const asked = JSON.parse(readFileSync(process.env.ODDMENT_CONFORMANCE, "utf8"));
const text = asked.find(({ ask }) => ask === "assess").of;
const refused = (code) => (error) => error instanceof OddmentError && error.code === code;

await test("an engine cannot be had without loading it", () => {
  assert.throws(() => new Engine(), refused("engine/not-loaded"));
});

await test("a page in the module's place is told from it, and loading may be tried again", async () => {
  const page = new Response("<!doctype html>", { headers: { "content-type": "text/html" } });
  await assert.rejects(loadEngine({ module: page }), (error) => {
    assert.match(error.message, /a page \(HTML\)/);
    return refused("engine/load")(error);
  });
  await assert.rejects(loadEngine({ module: new URL("none.wasm", import.meta.url) }), refused("engine/load"));
});

// All tests from here on have the engine loaded.
const engine = await loadEngine();

test("answers are the native ones to the bit", async () => {
  assert.ok(engine.simd);
  const { pairs, faults } = await conform(engine, asked);
  assert.deepEqual(faults, []);
  assert.ok(pairs > 100, `${pairs} answers compared`);
});

test("text, JSON and objects are the same case", () => {
  const file = engine.readCase(text);
  assert.deepEqual(engine.assess(file), engine.assess(text));
  assert.deepEqual(engine.assess(JSON.stringify(file)), engine.assess(text));
});

test("without the fit everything else is the same", () => {
  const { fit, ...whole } = engine.assess(text);
  const { fit: left, ...rest } = engine.assess(text, { fit: false });
  assert.deepEqual(rest, whole);
  assert.notEqual(fit.judgement, "not-asked");
  assert.equal(left.judgement, "not-asked");
});

test("what was asked before changes no answer: neither other numbers nor another claim", () => {
  const file = engine.readCase(text);
  const first = engine.assess(file, { fit: false });
  const other = { ...file, numbers: { ...file.numbers, "examination/sure": 0.7 } };
  assert.notDeepEqual(engine.assess(other, { fit: false }).verdicts, first.verdicts);
  assert.deepEqual(engine.assess(file, { fit: false }), first);
  const { periods } = engine.describe(file.piece.form);
  const period = periods.find(({ id }) => id !== file.piece.period).id;
  const { claimed_years: _, ...piece } = file.piece;
  engine.assess({ ...file, piece: { ...piece, period } }, { fit: false });
  assert.deepEqual(engine.assess(file, { fit: false }), first);
});

test("problems are typed and placed", () => {
  const file = engine.readCase(text);
  file.finding[0].sign = "no-such-sign";
  assert.throws(
    () => engine.assess(file),
    (error) => {
      assert.ok(error instanceof OddmentError && error instanceof Error);
      assert.equal(error.code, "case/unknown-id");
      assert.equal(error.problems[0].file, "case");
      assert.match(error.problems[0].excerpt, /"sign": "no-such-sign"/);
      return true;
    },
  );
});

test("whatever is given is refused rather than believed", async () => {
  const cyclic = {};
  cyclic.self = cyclic;
  for (const odd of [undefined, null, 7, [], {}, cyclic, "\0", { schema: 1n }, "{".repeat(5000)]) {
    assert.throws(() => engine.assess(odd), OddmentError);
    assert.throws(() => engine.describe(odd), OddmentError);
  }
  const odd = [
    () => engine.next(text, { minutes: -1 }),
    () => engine.next(text, { minuets: 1 }),
    () => engine.next(text, { minutes: Number.NaN }),
    () => engine.next(text, 3),
    () => engine.lean(text, { threshold: 2 }),
    () => engine.lean(text, { opinions: [{ opinion: "", weight: 0 }] }),
    () => engine.lean(text, { opinions: 3 }),
    () => engine.lean(text, { opinions: [null] }),
    () => engine.assess({ toJSON: () => undefined }),
    () => engine.practice("armchair", { seed: -1 }),
    () => engine.report(text, { format: "pdf" }),
  ];
  for (const ask of odd) assert.throws(ask, refused("usage/option"));
  await assert.rejects(engine.study(text, { draws: 1 }), refused("usage/option"));
  assert.throws(() => engine.decide(text), refused("decide/asking"));
  assert.throws(() => engine.describe("chairr"), refused("pack/unknown-form"));
});

test("a pack, an extension and an opinion of one's own are used", () => {
  const pack = { pack: small.pack, library: small.library };
  assert.equal(engine.describe(pack).pack.id, "stool");
  assert.equal(engine.assess(small.case, pack).verdicts.length, 4);
  assert.ok(Array.isArray(engine.lint(small.pack, { library: small.library })));
  const form = engine.describe(engine.readCase(text).piece.form);
  const [one, other] = form.histories;
  const prior = { [one.id]: 1, [other.id]: 1 };
  const opinion = { schema: "oddment/opinion/1", name: "a restorer", prior };
  const { pool } = engine.lean(text, { opinions: [{ opinion, weight: 2 }] });
  assert.deepEqual(
    pool.opinions.map(({ name }) => name),
    ["the case as it stands", "a restorer"],
  );
});

test("schemas come along", () => {
  assert.equal(schemas.case.title, "CaseFile");
  assert.equal(schemas.form.title, "FormDescription");
});

test("a study tells its progress and stops when told", async () => {
  const told = [];
  const report = await engine.study(text, { draws: 600, pairs: 0, onProgress: (done, all) => told.push([done, all]) });
  assert.equal(report.draws, 600);
  assert.deepEqual(told.at(-1), [600, 600]);
  const stop = new AbortController();
  const early = await engine.study(text, {
    draws: 100_000,
    pairs: 0,
    signal: stop.signal,
    onProgress: (done) => done > 0 && stop.abort(),
  });
  assert.ok(early.draws >= 250 && early.draws < 100_000, `${early.draws}`);
  await assert.rejects(
    engine.study(text, { signal: AbortSignal.abort() }),
    refused("engine/stopped"),
  );
});

test("others have their turn while a study runs", async () => {
  let ticks = 0;
  const clock = setInterval(() => (ticks += 1), 1);
  await engine.study(text, { draws: 2000, pairs: 0 });
  clearInterval(clock);
  assert.ok(ticks > 1, `${ticks}`);
});

test("after a crash the next call works and a study under way says so", async () => {
  const before = engine.assess(text);
  const study = engine.study(text, { draws: 5000, pairs: 0 });
  assert.throws(
    () => engine.provokeCrash(),
    (error) => {
      assert.match(error.message, /provoked/);
      return refused("engine/crash")(error);
    },
  );
  assert.deepEqual(engine.assess(text), before);
  await assert.rejects(study, refused("engine/crash"));
  const { draws } = await engine.study(text, { draws: 300, pairs: 0 });
  assert.equal(draws, 300);
});

test("memory stays level over 10,000 assessments", () => {
  const pack = { pack: small.pack, library: small.library };
  const many = (count) => {
    for (let done = 0; done < count; done += 1) engine.assess(small.case, pack);
    return engine.memoryBytes;
  };
  const before = many(200);
  assert.equal(many(9800), before);
});
