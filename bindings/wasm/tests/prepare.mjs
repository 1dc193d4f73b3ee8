// Sets up the folder it is in for the tests: the packed package installed, the examples written out.

import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { write } from "./examples.mjs";

const [documentation, example] = process.argv.slice(2);
const here = fileURLToPath(new URL("./examples/", import.meta.url));
const names = write(readFileSync(documentation, "utf8"), here);
for (const folder of ["page", "worker", "vite", "webpack", "node"]) {
  if (!names.some((name) => name.startsWith(`${folder}/`))) throw new Error(`no example for ${folder}`);
  copyFileSync(example, `${here}${folder}/table.toml`);
}
// The one page that no example is about.
mkdirSync(`${here}webpack/dist`, { recursive: true });
const page = '<!doctype html>\n<title>A table</title>\n<script defer src="main.js"></script>\n<body></body>\n';
writeFileSync(`${here}webpack/dist/index.html`, page);
console.log(`examples: ${names.join(", ")}`);
