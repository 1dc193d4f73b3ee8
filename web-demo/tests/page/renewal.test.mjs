// What happens when the page is served anew: nobody is thrown out of the piece at hand.

import assert from "node:assert/strict";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { launch, origin } from "./support.mjs";

const MARK = '<meta name="newer">';

let browser;
before(async () => (browser = await launch()));
after(async () => browser.close());

/** Hands on what the page's server says; after `renew()` as if another version of the page were served. */
async function relay() {
  let renewed = false;
  const server = createServer((request, response) => {
    void (async () => {
      const answer = await fetch(new URL(request.url, origin), { headers: { accept: request.headers.accept ?? "*/*" } });
      const headers = Object.fromEntries(answer.headers);
      let body = Buffer.from(await answer.arrayBuffer());
      const path = new URL(request.url, origin).pathname;
      if (renewed && path === "/sw.js") {
        const text = body.toString().replace(/(url:"index\.html",revision:")\w/, "$1x");
        assert.notEqual(text, body.toString(), "the worker tells no revision of the page");
        body = Buffer.from(text);
      }
      if (renewed && (path === "/" || path === "/index.html")) body = Buffer.from(body.toString().replace("</head>", `${MARK}$&`));
      for (const name of ["content-encoding", "content-length", "transfer-encoding", "etag", "connection"]) delete headers[name];
      response.writeHead(answer.status, headers).end(body);
    })().catch((error) => response.writeHead(502).end(String(error)));
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return {
    address: `http://127.0.0.1:${String(server.address().port)}`,
    renew: () => (renewed = true),
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

test("a newer version is told of, taken when asked for, and the piece at hand is still there", async () => {
  const site = await relay();
  const context = await browser.newContext();
  const page = await context.newPage();
  const newer = async () => (await page.locator("meta[name=newer]").count()) === 1;
  const told = page.locator(".foot .told");
  const notice = page.getByRole("status").filter({ hasText: "A newer version is ready." });
  try {
    await page.goto(site.address);
    await page.evaluate(async () => void (await navigator.serviceWorker.ready));
    await page.reload();
    await page.getByRole("link", { name: "Take up a piece" }).click();
    await page.getByRole("link", { name: "Drop-leaf table" }).click();
    await page.getByRole("button", { name: "Begin looking" }).click();
    await told.waitFor();
    const start = await told.textContent();
    await page.getByRole("listitem").filter({ hasText: "Feet and leg tips" }).getByRole("button").click();
    const sign = page.getByRole("article").filter({ hasText: "Foot ends dark, rounded and chipped" });
    await sign.getByRole("button", { name: "Not there" }).click();
    await page.waitForFunction((old) => document.querySelector(".foot .told")?.textContent !== old, start);
    const noted = await told.textContent();

    site.renew();
    await page.reload();
    await notice.waitFor();
    assert.equal(await newer(), false, "it came unasked");
    await page.waitForFunction((text) => document.querySelector(".foot .told")?.textContent === text, noted);
    const come = page.waitForEvent("load");
    await notice.getByRole("button").click();
    await come;
    await page.waitForFunction((text) => document.querySelector(".foot .told")?.textContent === text, noted);
    assert.equal(await newer(), true, "the old version is still there");
    assert.equal(await notice.count(), 0);
  } finally {
    await context.close();
    site.close();
  }
});
