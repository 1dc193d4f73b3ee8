// Changes to a case. Every one gives a new case and leaves the old as it is, so that all can be taken back.

import type { CaseFile, FindingFile, PieceFile, ReadingFile, StakesFile, Sureness, VisitFile } from "oddment";
import { applies, hasPart, type Form } from "./form.js";

/** What may be said of a sign besides its levels. */
export const NO_ACCESS = "no-access";
export const NOT_LOOKED = "not-looked";

/** A case whose findings all name their part and visit, and which has a visit. */
export interface FullCase extends Omit<CaseFile, "finding" | "reading" | "visit"> {
  finding: FullFinding[];
  reading: FullReading[];
  visit: VisitFile[];
}
/** A finding that names its part, its visit and how sure it is. */
export interface FullFinding extends Omit<FindingFile, "part" | "visit" | "sure"> {
  part: string;
  visit: string;
  sure: Sureness;
}
/** A reading that names its visit. */
export interface FullReading extends Omit<ReadingFile, "visit"> {
  visit: string;
}

/** A case on which nothing was looked at yet. */
export function freshCase(piece: PieceFile, date: string): FullCase {
  return { schema: "oddment/case/1", piece, visit: [{ id: "visit-1", date }], finding: [], reading: [] };
}

/** Fills in what a case leaves to be understood; says nothing new. */
export function fill(given: CaseFile, form: Form): FullCase {
  const visit: VisitFile[] = given.visit && given.visit.length > 0 ? given.visit : [{ id: "visit-1" }];
  const first = visit[0]?.id ?? "visit-1";
  const finding = (given.finding ?? [])
    // Not looked is how everything starts: it need not be written down, but what was noted with it must stay.
    .filter(({ found, note }) => found !== NOT_LOOKED || note != null)
    .map((finding) => ({
      ...finding,
      part: finding.part ?? form.signs.get(finding.sign)?.parts[0] ?? "",
      visit: finding.visit ?? first,
      sure: finding.sure ?? "sure",
    }));
  const reading = (given.reading ?? []).map((reading) => ({ ...reading, visit: reading.visit ?? first }));
  return { ...given, visit, finding, reading };
}

/** What a visit says of a sign at a part, at its last look. */
export function findingAt(given: FullCase, sign: string, part: string, visit: string): FullFinding | undefined {
  return given.finding.findLast((known) => known.sign === sign && known.part === part && known.visit === visit);
}

/** All readings of a measure at a visit. */
export function readingOf(given: FullCase, measure: string, visit: string): FullReading | undefined {
  return given.reading.find((known) => known.measure === measure && known.visit === visit);
}

/** Notes a finding, in place of what the same visit said of it before. */
export function withFinding(given: FullCase, finding: FullFinding): FullCase {
  const { sign, part, visit, look } = finding;
  const same = (known: FullFinding) =>
    known.sign === sign && known.part === part && known.visit === visit && (known.look ?? 1) === (look ?? 1);
  const place = given.finding.findIndex(same);
  if (place < 0) return { ...given, finding: [...given.finding, finding] };
  return { ...given, finding: given.finding.with(place, finding) };
}

/** Takes one finding away: with no other, the sign is back to not looked. */
export function withoutFinding(given: FullCase, finding: FullFinding): FullCase {
  return { ...given, finding: given.finding.filter((known) => known !== finding) };
}

/** Notes a reading, in place of what the same visit measured before. */
export function withReading(given: FullCase, reading: FullReading): FullCase {
  const place = given.reading.findIndex(
    (known) => known.measure === reading.measure && known.visit === reading.visit,
  );
  if (place < 0) return { ...given, reading: [...given.reading, reading] };
  return { ...given, reading: given.reading.with(place, reading) };
}

/** Takes a reading away. */
export function withoutReading(given: FullCase, measure: string, visit: string): FullCase {
  const kept = given.reading.filter((known) => known.measure !== measure || known.visit !== visit);
  return { ...given, reading: kept };
}

/** The same findings on a piece that is claimed to be something else; drops what such a piece cannot have. */
export function withPiece(given: FullCase, piece: PieceFile, form: Form): FullCase {
  const has = (entry: { variants: string[] | null } | undefined) =>
    entry !== undefined && applies(entry, piece.variant);
  return {
    ...given,
    piece,
    finding: given.finding.filter(({ sign, part }) => has(form.signs.get(sign)) && hasPart(form, piece.variant, part)),
    reading: given.reading.filter(({ measure }) => has(form.measures.get(measure))),
  };
}

/** What a change of piece would drop. */
export function droppedBy(given: FullCase, piece: PieceFile, form: Form): number {
  const kept = withPiece(given, piece, form);
  return given.finding.length + given.reading.length - kept.finding.length - kept.reading.length;
}

/** Begins a further visit; gives the case and the visit's id. */
export function withNewVisit(given: FullCase, date: string): [FullCase, string] {
  const taken = new Set(given.visit.map(({ id }) => id));
  let number = given.visit.length + 1;
  while (taken.has(`visit-${String(number)}`)) number += 1;
  const id = `visit-${String(number)}`;
  return [{ ...given, visit: [...given.visit, { id, date }] }, id];
}

/** Says something else of a visit. */
export function withVisit(given: FullCase, visit: VisitFile): FullCase {
  return { ...given, visit: given.visit.map((known) => (known.id === visit.id ? visit : known)) };
}

/** What is known for certain of an incident: happened, did not, or (undefined) not known. */
export function withKnown(given: FullCase, incident: string, happened: boolean | undefined): FullCase {
  const { [incident]: _, ...rest } = given.known ?? {};
  return { ...given, known: happened === undefined ? rest : { ...rest, [incident]: happened } };
}

/** Another value for a number of the pack, or (undefined) the pack's own. */
export function withNumber(given: FullCase, id: string, value: number | undefined): FullCase {
  const { [id]: _, ...rest } = given.numbers ?? {};
  return { ...given, numbers: value === undefined ? rest : { ...rest, [id]: value } };
}

/** Another figures at stake, or none. */
export function withStakes(given: FullCase, stakes: StakesFile | undefined): FullCase {
  const { stakes: _, ...rest } = given;
  return stakes === undefined ? rest : { ...rest, stakes };
}

/** The same case without some of its findings and readings, by their place among all, findings first. */
export function without(given: FullCase, struck: ReadonlySet<number>): FullCase {
  const count = given.finding.length;
  return {
    ...given,
    finding: given.finding.filter((_, place) => !struck.has(place)),
    reading: given.reading.filter((_, place) => !struck.has(count + place)),
  };
}

/** Whether a finding is evidence: found or not there, but not what was not or could not be looked at. */
export function weighs({ found }: { found: string }): boolean {
  return found !== NOT_LOOKED && found !== NO_ACCESS;
}

/** How many findings and readings are evidence. */
export function noted(given: FullCase): number {
  return given.finding.filter(weighs).length + given.reading.length;
}

/** Findings and readings that are evidence, in the order in which the engine tells them. */
export function evidence<F extends { found: string }, R>(given: {
  finding?: readonly F[] | undefined;
  reading?: readonly R[] | undefined;
}): ({ place: number; finding: F } | { place: number; reading: R })[] {
  const finding = given.finding ?? [];
  return [
    ...finding.map((one, place) => ({ place, finding: one })).filter((entry) => weighs(entry.finding)),
    ...(given.reading ?? []).map((one, place) => ({ place: finding.length + place, reading: one })),
  ];
}
