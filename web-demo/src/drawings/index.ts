// Plates of the forms and sketches of the signs; each is fetched when it is first needed.

import { pictures } from "./signs.js";

const plates = import.meta.glob<string>("./forms/*.svg", { query: "?raw", import: "default" });

/** The two plates of a form. */
export const PLATES = ["front", "inside"] as const;
export type PlateName = (typeof PLATES)[number];

/** A plate's SVG, or nothing where none is drawn. */
export async function plate(form: string, name: PlateName): Promise<string | undefined> {
  return plates[`./forms/${form}.${name}.svg`]?.();
}

/** The parts that a form's plates show for a piece offered as a variant. */
export async function drawnParts(form: string, variant: string): Promise<Set<string>> {
  const drawn = new Set<string>();
  for (const letters of await Promise.all(PLATES.map((name) => plate(form, name)))) {
    const svg = new DOMParser().parseFromString(letters ?? "<svg/>", "image/svg+xml");
    for (const group of svg.querySelectorAll("[data-part]")) {
      const id = group.getAttribute("data-part");
      if (id !== null && isShown(group, variant)) drawn.add(id);
    }
  }
  return drawn;
}

/** Whether a group and all it stands in are there for a variant. */
export function isShown(group: Element, variant: string): boolean {
  for (let at: Element | null = group; at !== null; at = at.parentElement) {
    const only = at.getAttribute("data-variants");
    if (only !== null && !only.split(" ").includes(variant)) return false;
  }
  return true;
}

/** Whether a sign has a sketch. */
export function hasSketch(sign: string): boolean {
  return Object.hasOwn(pictures, sign);
}

/** A sign's sketch, or nothing where none is drawn. */
export async function sketch(sign: string): Promise<string | undefined> {
  const name = pictures[sign];
  if (name === undefined) return undefined;
  const { sketches } = await import("./sketches.js");
  return sketches[`./signs/${name}.svg`];
}
