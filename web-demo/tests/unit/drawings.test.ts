import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { loadEngine, type FormDescription } from "oddment";
import { beforeAll, describe, expect, test } from "vitest";
import { pictures } from "../../src/drawings/signs.js";

const folder = fileURLToPath(new URL("../../src/drawings/", import.meta.url));
const read = (path: string) => readFileSync(`${folder}${path}`, "utf8");
const ids = readdirSync(`${folder}forms`).map((file) => file.replace(/\.(front|inside)\.svg$/, ""));
let forms: FormDescription[];

beforeAll(async () => {
  const engine = await loadEngine();
  forms = engine.forms().map(({ id }) => engine.describe(id));
});

/** Opening tags with their attributes. */
function tags(svg: string): { name: string; attributes: Map<string, string> }[] {
  return [...svg.matchAll(/<([a-z]+)((?:\s+[\w:-]+="[^"]*")*)\s*\/?>/g)].map(([, name = "", rest = ""]) => ({
    name,
    attributes: new Map([...rest.matchAll(/([\w:-]+)="([^"]*)"/g)].map(([, key = "", value = ""]) => [key, value])),
  }));
}

describe("the plates", () => {
  test("are two for every form, and no others", () => {
    expect([...new Set(ids)].sort()).toEqual(forms.map(({ pack }) => pack.id).sort());
    expect(readdirSync(`${folder}forms`)).toHaveLength(2 * forms.length);
  });

  test("name only parts and variants of their form, and every part but the whole and the papers", () => {
    for (const { pack, parts, variants } of forms) {
      const all = ["front", "inside"].flatMap((plate) => tags(read(`forms/${pack.id}.${plate}.svg`)));
      const drawn = new Set(all.flatMap(({ attributes }) => attributes.get("data-part") ?? []));
      const known = parts.map(({ id }) => id);
      for (const id of drawn) expect(known, pack.id).toContain(id);
      for (const id of known) if (id !== "whole" && id !== "papers") expect(drawn, pack.id).toContain(id);
      for (const { attributes } of all) {
        for (const variant of attributes.get("data-variants")?.split(" ") ?? []) {
          expect(variants.map(({ id }) => id), pack.id).toContain(variant);
        }
      }
    }
  });

  test("have room for their letters", () => {
    for (const id of new Set(ids)) {
      for (const plate of ["front", "inside"]) {
        for (const { attributes } of tags(read(`forms/${id}.${plate}.svg`))) {
          const label = attributes.get("data-label");
          if (label === undefined) continue;
          const [x = -1, y = -1] = label.split(",").map(Number);
          expect(x, `${id} ${label}`).toBeGreaterThanOrEqual(11);
          expect(x, `${id} ${label}`).toBeLessThanOrEqual(389);
          expect(y, `${id} ${label}`).toBeGreaterThanOrEqual(11);
          expect(y, `${id} ${label}`).toBeLessThanOrEqual(309);
        }
      }
    }
  });
});

describe("all drawings", () => {
  test("are plain shapes that a strict page lets through", () => {
    const files = ["forms", "signs"].flatMap((kind) => readdirSync(`${folder}${kind}`).map((file) => `${kind}/${file}`));
    for (const file of files) {
      const svg = read(file);
      expect(svg, file).not.toMatch(/<(script|style|text|image|foreignObject|use|animate)|\son\w+=|\sstyle=|\shref=|url\(/);
      for (const { name, attributes } of tags(svg)) {
        expect(["svg", "g", "path", "line", "polyline", "polygon", "rect", "circle", "ellipse"], file).toContain(name);
        for (const one of attributes.get("class")?.split(" ") ?? []) {
          expect(["wood", "dash", "solid", "touch", "shade"], file).toContain(one);
        }
      }
    }
  });
});

describe("the sketches", () => {
  test("belong to signs or measures that are there, and every one is used", () => {
    const known = new Set(forms.flatMap(({ signs, measures }) => [...signs, ...measures].map(({ id }) => id)));
    for (const id of Object.keys(pictures)) expect(known).toContain(id);
    const files = readdirSync(`${folder}signs`).map((file) => file.replace(/\.svg$/, ""));
    expect([...new Set(Object.values(pictures))].sort()).toEqual(files.sort());
  });
});
