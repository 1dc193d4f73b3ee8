// What the tests of the page share: a browser, a watch over what it does, and pictures of it.

import assert from "node:assert/strict";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { chromium } from "playwright-core";

/** Where the page is served. */
export const origin = wanted("ORIGIN");
const pictures = wanted("ARTEFACTS");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

function wanted(name) {
  const value = process.env[name];
  assert.ok(value, `${name} must be set; \`cargo xtask test\` does it`);
  return value;
}

/** The command built from the same sources. */
export const command = () => wanted("ODDMENT");

/** An example case of the project. */
export const example = (name) => new URL(`../../../priors/cases/${name}.toml`, import.meta.url).pathname;

export function launch() {
  return chromium.launch({
    executablePath: wanted("CHROMIUM"),
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

/** Sizes people use: a phone, a tablet, a desk. */
export const SIZES = [
  { width: 360, height: 740 },
  { width: 768, height: 1024 },
  { width: 1440, height: 900 },
];

/**
 * A page of its own device; `calm()` fails if anything was complained of on the console or asked of anybody but
 * the page's own server.
 */
export async function open(browser, { size = SIZES[0], dark = false, ...more } = {}) {
  const context = await browser.newContext({
    viewport: size,
    colorScheme: dark ? "dark" : "light",
    hasTouch: size.width < 700,
    reducedMotion: "reduce",
    ...more,
  });
  const page = await context.newPage();
  const complaints = [];
  const outside = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(String(error)));
  context.on("request", (request) => {
    const address = new URL(request.url());
    if (!["blob:", "data:"].includes(address.protocol) && address.origin !== origin) outside.push(request.url());
  });
  const calm = () => {
    assert.deepEqual(complaints, []);
    assert.deepEqual(outside, []);
  };
  return { context, page, calm };
}

/** Puts an example on the shelf; gives the address of its views. */
export async function take(page, file) {
  await page.goto(`${origin}/#/shelf`);
  await page.setInputFiles("input[type=file]", file);
  await page.waitForURL(/#\/case\//);
  await page.getByRole("navigation", { name: "Views of this piece" }).waitFor();
  await settled(page);
  return page.url().replace(/\/piece.*$/, "");
}

/** Waits until nothing is being worked out any more. */
export async function settled(page) {
  await page.waitForFunction(() => {
    const text = document.querySelector("main")?.innerText ?? "";
    return !/Working it out|One moment|is being written|is being worked out/.test(text);
  });
}

/** Fails if anything hangs over the page's edge. */
export async function fits(page, what) {
  const over = await page.evaluate(() => {
    const width = document.documentElement.clientWidth;
    const all = [...document.querySelectorAll("body *")].filter((element) => {
      if (element instanceof SVGElement && !(element instanceof SVGSVGElement)) return false;
      const scrolled = element.closest("nav");
      if (scrolled !== null && element !== scrolled) return false;
      const box = element.getBoundingClientRect();
      return box.width > 1 && box.left >= 0 && box.right > width + 1;
    });
    return all.slice(0, 4).map((element) => `${element.tagName}.${element.getAttribute("class") ?? ""}`);
  });
  assert.deepEqual(over, [], `${what} hangs over the edge`);
}

/** Fails where an accessibility rule is broken. */
export async function accessible(page, what) {
  await page.evaluate(axe);
  const violations = await page.evaluate(async () => {
    const options = { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] };
    const { violations } = await globalThis.axe.run(document, options);
    return violations.map(({ id, nodes }) => `${id}: ${nodes.slice(0, 3).map(({ html }) => html.slice(0, 160)).join(" | ")}`);
  });
  assert.deepEqual(violations, [], what);
}

/** Keeps a picture of the page. */
export async function picture(page, name) {
  mkdirSync(pictures, { recursive: true });
  await page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true });
}

/** The counts the odds view shows, by verdict. */
export async function shownCounts(page) {
  await settled(page);
  return page.evaluate(() =>
    Object.fromEntries(
      [...document.querySelectorAll(".verdicts li")].map((row) => [
        row.querySelector(".verdict").textContent.trim(),
        row.querySelector(".count").textContent.trim(),
      ]),
    ),
  );
}
