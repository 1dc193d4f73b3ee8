// The examples of docs/javascript.md, written out as files: each code block that begins with the name of
// its file.

import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

/** Where each example is looked at once it is there, and where its build goes. */
export const examples = {
  page: { page: "index.html" },
  worker: { page: "index.html" },
  vite: { page: "dist/index.html", built: "dist/" },
  webpack: { page: "dist/index.html", built: "dist/" },
  node: {},
};

/** Writes all files named in a text; gives back their names. */
export function write(text, folder) {
  const names = [];
  for (const [, name, code] of text.matchAll(/^`([\w./-]+)`\n\n```\w+\n([^]*?)^```$/gm)) {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, code);
    names.push(name);
  }
  return names;
}
