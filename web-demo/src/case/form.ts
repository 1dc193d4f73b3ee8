// Reading what a form's pack says: everything by id, and what applies to a variant.

import type {
  CheckDescription,
  FormDescription,
  MeasureDescription,
  SignDescription,
  HistoryDescription,
  IncidentDescription,
} from "oddment";

/** A form with its entries by id. */
export interface Form {
  id: string;
  name: string;
  described: FormDescription;
  signs: Map<string, SignDescription>;
  measures: Map<string, MeasureDescription>;
  checks: Map<string, CheckDescription>;
  histories: Map<string, HistoryDescription>;
  incidents: Map<string, IncidentDescription>;
  cautions: Map<string, string>;
  parts: Map<string, string>;
  /** The only variants that have each part, where not all do. */
  partVariants: Map<string, readonly string[]>;
}

function byId<Entry extends { id: string }>(entries: readonly Entry[]): Map<string, Entry> {
  return new Map(entries.map((entry) => [entry.id, entry]));
}

/** Makes everything of a form findable. */
export function indexForm(described: FormDescription): Form {
  return {
    id: described.pack.id,
    name: described.pack.name,
    described,
    signs: byId(described.signs),
    measures: byId(described.measures),
    checks: byId(described.checks),
    histories: byId(described.histories),
    incidents: byId(described.incidents),
    cautions: new Map(described.cautions.map(({ id, text }) => [id, text])),
    parts: new Map(described.parts.map(({ id, name }) => [id, name])),
    partVariants: new Map(described.parts.flatMap(({ id, variants }) => (variants ? [[id, variants]] : []))),
  };
}

/** Whether pieces offered as a variant have something to look for. */
export function applies(entry: { variants: string[] | null }, variant: string): boolean {
  return entry.variants === null || entry.variants.includes(variant);
}

/** Whether pieces offered as a variant have a part. */
export function hasPart(form: Form, variant: string, part: string): boolean {
  return form.partVariants.get(part)?.includes(variant) ?? true;
}

/** Something that can be looked at: a sign at a part, or a measure. */
export type Look =
  | { kind: "sign"; sign: SignDescription; part: string }
  | { kind: "measure"; measure: MeasureDescription; part: string };

/** What can be looked at on a piece offered as a variant, in the pack's order; at one part only, if named. */
export function looks(form: Form, variant: string, part?: string): Look[] {
  const all: Look[] = [];
  for (const sign of form.described.signs) {
    if (!applies(sign, variant)) continue;
    for (const at of sign.parts) {
      if (!hasPart(form, variant, at)) continue;
      if (part === undefined || at === part) all.push({ kind: "sign", sign, part: at });
    }
  }
  for (const measure of form.described.measures) {
    if (!applies(measure, variant)) continue;
    if (part === undefined || measure.part === part) all.push({ kind: "measure", measure, part: measure.part });
  }
  return all;
}

/** Looks that one check answers together, checks with least trouble first. */
export function byCheck(form: Form, some: readonly Look[]): { check: CheckDescription; looks: Look[] }[] {
  const of = (look: Look) => (look.kind === "sign" ? look.sign.check : look.measure.check);
  return form.described.checks
    .map((check) => ({ check, looks: some.filter((look) => of(look) === check.id) }))
    .filter((entry) => entry.looks.length > 0);
}

/** The name of what is looked at. */
export function lookName(look: Look): string {
  return look.kind === "sign" ? look.sign.name : look.measure.name;
}

/** Tells one look from all others. */
export function lookKey(look: Look): string {
  return look.kind === "sign" ? `${look.sign.id}@${look.part}` : look.measure.id;
}
