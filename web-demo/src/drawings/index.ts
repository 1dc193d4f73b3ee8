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
