// Times the installed package in Node, with and without SIMD, and in Chromium where there is one.

import { readFileSync } from "node:fs";
import { loadEngine } from "oddment";
import { serve } from "./server.mjs";
import { timings } from "./timings.mjs";

const [path, where] = process.argv.slice(2);
const text = readFileSync(path, "utf8");
if (where === "chromium") {
  const { chromium } = await import("./tools.mjs");
  const site = await serve(new URL("./", import.meta.url));
  const args = ["--no-sandbox", "--disable-gpu"];
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM, headless: true, args });
  const page = await browser.newPage();
  await page.goto(`${site.origin}/blank.html`);
  const found = await page.evaluate(async (text) => {
    const { loadEngine } = await import("/node_modules/oddment/dist/index.js");
    const { timings } = await import("/timings.mjs");
    return timings(await loadEngine(), text);
  }, text);
  await browser.close();
  site.close();
  console.log(JSON.stringify(found));
} else {
  const engine = await loadEngine({ forceBase: where === "base" });
  console.log(JSON.stringify(await timings(engine, text)));
}
