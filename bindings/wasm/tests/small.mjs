// A small invented pack with its library and a case, as texts.

import { readFileSync } from "node:fs";

const read = (name) => readFileSync(new URL(`./small/${name}.toml`, import.meta.url), "utf8");

export const small = { pack: read("pack"), library: read("library"), case: read("case") };
