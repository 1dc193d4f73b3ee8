// The packed package in a real browser, under a strict Content-Security-Policy.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { examples } from "./examples.mjs";
import { serve } from "./server.mjs";
import { small } from "./small.mjs";
import { chromium, viteBuild, webpackBuild } from "./tools.mjs";

const here = new URL("./", import.meta.url);
const asked = JSON.parse(readFileSync(process.env.ODDMENT_CONFORMANCE, "utf8"));
const text = asked.find(({ ask }) => ask === "assess").of;
let browser, profile, site;

before(async () => {
  profile = await mkdtemp(join(tmpdir(), "oddment-"));
  const quiet = ["--disable-quic", "--no-first-run", "--disable-background-networking"];
  browser = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM,
    headless: true,
    args: ["--no-sandbox", "--disable-gpu", "--disable-component-update", "--disable-sync", ...quiet],
  });
  site = await serve(here);
});

after(async () => {
  await browser?.close();
  site?.close();
  if (profile) await rm(profile, { recursive: true, force: true });
});

/** A page, and what it complained about. */
async function open(path) {
  const page = await browser.newPage();
  const complaints = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (said) => said.type() === "error" && complaints.push(said.text()));
  await page.goto(`${site.origin}${path}`);
  return { page, complaints };
}

/** Runs something in a fresh page; `oddment` there is the package. */
async function inPage(work, argument, path = "/blank.html") {
  const { page } = await open(path);
  try {
    await page.evaluate(async () => {
      globalThis.oddment = await import("/node_modules/oddment/dist/index.js");
    });
    return await page.evaluate(work, argument);
  } finally {
    await page.close();
  }
}

const loading = async (module) => {
  try {
    const engine = await oddment.loadEngine(module === null ? {} : { module });
    return `version ${engine.version}`;
  } catch (error) {
    return error instanceof oddment.OddmentError ? `${error.code}: ${error.message}` : `untyped: ${error}`;
  }
};

test("answers in a page are the native ones to the bit", async () => {
  const found = await inPage(async (asked) => {
    const { conform } = await import("/conform.mjs");
    const engine = await oddment.loadEngine();
    return { simd: engine.simd, ...(await conform(engine, asked)) };
  }, asked);
  assert.deepEqual(found.faults, []);
  assert.ok(found.simd && found.pairs > 100);
});

test("a module served under the wrong type still loads", async () => {
  assert.match(await inPage(loading, "/untyped/node_modules/oddment/dist/oddment.wasm"), /^version /);
});

test("what is not the module is told from it", async () => {
  assert.match(await inPage(loading, "/front/oddment.wasm"), /^engine\/load: .* a page \(HTML\)/);
  assert.match(await inPage(loading, "/none.wasm"), /^engine\/load: .* status 404/);
  assert.match(await inPage(loading, "http://127.0.0.1:9/none.wasm"), /^engine\/load: /);
});

test("a policy that forbids modules is named", async () => {
  const said = await inPage(loading, null, "/no-wasm/blank.html");
  assert.match(said, /^engine\/load: .*wasm-unsafe-eval/);
});

test("use before loading, a crash and the call after it", async () => {
  const found = await inPage(async (text) => {
    const code = (work) => {
      try {
        return work();
      } catch (error) {
        return error.code;
      }
    };
    const early = code(() => new oddment.Engine());
    const engine = await oddment.loadEngine();
    const before = JSON.stringify(engine.assess(text));
    const crash = code(() => engine.provokeCrash());
    const invalid = code(() => engine.assess("{"));
    return { early, crash, invalid, same: JSON.stringify(engine.assess(text)) === before };
  }, text);
  assert.deepEqual(found, {
    early: "engine/not-loaded",
    crash: "engine/crash",
    invalid: "case/syntax",
    same: true,
  });
});

test("memory stays level over 10,000 assessments", async () => {
  const [early, late] = await inPage(async ({ pack, library, case: text }) => {
    const engine = await oddment.loadEngine();
    const many = (count) => {
      for (let done = 0; done < count; done += 1) engine.assess(text, { pack, library });
      return engine.memoryBytes;
    };
    return [many(200), many(9800)];
  }, small);
  assert.equal(late, early);
});

for (const [name, { page, built }] of Object.entries(examples)) {
  if (page === undefined) continue;
  test(`the example of ${name} runs`, async () => {
    const folder = new URL(`./examples/${name}/`, here);
    if (built !== undefined) {
      await (name === "vite" ? viteBuild : webpackBuild)(folder);
      const files = readdirSync(new URL(built, folder), { recursive: true });
      assert.equal(files.filter((file) => file.endsWith(".wasm")).length, 1, `one module among ${files}`);
    }
    const { page: shown, complaints } = await open(`/examples/${name}/${page}`);
    await shown.waitForFunction(() => document.body.textContent.includes("original"), undefined, {
      timeout: 30_000,
    });
    assert.match(await shown.textContent("body"), /original \d+/);
    // The icon of the site is not there.
    assert.deepEqual(complaints.filter((said) => !said.includes("404")), []);
    await shown.close();
  });
}
