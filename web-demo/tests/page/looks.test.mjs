// Every view at every size, on light and dark paper: nothing hangs over, no rule of accessibility is broken, nothing
// is complained of. The pictures are kept for people to look at.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessible, example, fits, launch, open, origin, picture, settled, SIZES, take } from "./support.mjs";

let browser;
before(async () => (browser = await launch()));
after(async () => browser.close());

const VIEWS = ["piece", "piece/leaves", "odds", "argument", "stories", "next", "what-if", "price", "write-up"];

for (const size of SIZES) {
  for (const dark of [false, true]) {
    const name = `${String(size.width)}-${dark ? "dark" : "light"}`;

    test(`a well-examined piece at ${name}`, async () => {
      const { context, page, calm } = await open(browser, { size, dark });
      const address = await take(page, example("pieced-out-oval"));
      for (const view of VIEWS) {
        await page.goto(`${address}/${view}`);
        await settled(page);
        await page.waitForTimeout(300);
        await settled(page);
        await picture(page, `${name}-${view.replace("/", "-")}`);
        await fits(page, view);
        await accessible(page, `${view} at ${name}`);
      }
      calm();
      await context.close();
    });

    test(`what stands around the pieces at ${name}`, async () => {
      const { context, page, calm } = await open(browser, { size, dark });
      await page.goto(origin);
      for (const [address, wait] of [
        ["#/shelf", "Nothing stands here yet."],
        ["#/new", "Open armchair"],
        ["#/new/looking-glass", "Begin looking"],
        ["#/lessons", "One finding at a time"],
        ["#/lessons/one-at-a-time", "Go on"],
        ["#/practice", "Draw a piece"],
        ["#/about", "Keys"],
        ["#/case/nowhere", "not on this device"],
      ]) {
        await page.goto(`${origin}/${address}`);
        await page.getByText(wait).first().waitFor();
        await settled(page);
        await page.waitForTimeout(200);
        await picture(page, `${name}-${address.replace(/[#/]+/g, "-").replace(/^-/, "")}`);
        await fits(page, address);
        await accessible(page, `${address} at ${name}`);
      }
      calm();
      await context.close();
    });
  }
}

test("an untouched piece", async () => {
  const { context, page, calm } = await open(browser);
  await page.goto(`${origin}/#/new/chest-on-chest`);
  await page.getByLabel("A line to know it by").fill(`A ${"very ".repeat(20)}long name of an invented chest on chest`);
  await page.getByRole("button", { name: "Begin looking" }).tap();
  await page.locator(".foot .told").waitFor();
  const address = page.url().replace(/\/piece.*$/, "");
  for (const view of VIEWS.filter((one) => one !== "piece/leaves")) {
    await page.goto(`${address}/${view}`);
    await settled(page);
    await page.waitForTimeout(300);
    await settled(page);
    await picture(page, `untouched-${view}`);
    await fits(page, view);
    await accessible(page, `${view}, untouched`);
  }
  calm();
  await context.close();
});

test("every form has its two plates, with a letter for every part but the whole and the papers", async () => {
  const { context, page, calm } = await open(browser, { size: SIZES[1] });
  await page.goto(`${origin}/#/new`);
  await page.getByRole("link", { name: "Tilt-top" }).waitFor();
  const forms = await page.locator(".forms a").evaluateAll((links) => links.map((link) => link.getAttribute("href")));
  for (const form of forms) {
    await page.goto(`${origin}/${form}`);
    await page.getByRole("button", { name: "Begin looking" }).click();
    await page.locator(".foot .told").waitFor();
    await page.waitForFunction(() => document.querySelectorAll(".plate svg").length === 2);
    await page.waitForTimeout(200);
    await picture(page, `plate-${form.split("/").pop()}`);
    const bare = await page.evaluate(() => {
      const lettered = new Set([...document.querySelectorAll(".plate .letter")].map((mark) => mark.textContent));
      return [...document.querySelectorAll(".piece > .parts [data-of]")]
        .filter(({ dataset }) => !["whole", "papers"].includes(dataset.of))
        .filter((button) => !lettered.has(button.querySelector(".letter").textContent))
        .map(({ dataset }) => dataset.of);
    });
    assert.deepEqual(bare, [], form);
    await fits(page, form);
  }
  calm();
  await context.close();
});
