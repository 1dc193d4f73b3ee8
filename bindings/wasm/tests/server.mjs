// Serves a folder as a careful site would: the right types, and a strict Content-Security-Policy.

import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, normalize } from "node:path";
import { fileURLToPath } from "node:url";

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".wasm": "application/wasm",
};

export const STRICT =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'; worker-src 'self'; " +
  "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** Starts serving; `origin` is where, `close` ends it, `seen` counts what was asked for. */
export async function serve(folder) {
  const seen = new Map();
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url, "http://local").pathname));
    seen.set(path, (seen.get(path) ?? 0) + 1);
    const policy = path.startsWith("/no-wasm/") ? STRICT.replace(" 'wasm-unsafe-eval'", "") : STRICT;
    response.setHeader("content-security-policy", policy);
    response.setHeader("x-content-type-options", "nosniff");
    const reply = (status, type, body) => {
      response.writeHead(status, { "content-type": type });
      response.end(body);
    };
    if (path.endsWith("/blank.html")) return reply(200, TYPES[".html"], "<!doctype html><title>blank</title>");
    // A host that answers every address with its front page.
    if (path.startsWith("/front/")) return reply(200, TYPES[".html"], "<!doctype html><title>front</title>");
    const untyped = path.startsWith("/untyped/");
    const file = fileURLToPath(new URL(`.${path.replace(/^\/(untyped|no-wasm)/, "")}`, folder));
    const found = await stat(file).catch(() => undefined);
    if (!found?.isFile()) return reply(404, "text/plain", "nothing here");
    const type = untyped ? "application/octet-stream" : (TYPES[extname(file)] ?? "application/octet-stream");
    response.writeHead(200, { "content-type": type });
    createReadStream(file).pipe(response);
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  const origin = `http://127.0.0.1:${server.address().port}`;
  return { origin, seen, close: () => server.close() };
}
