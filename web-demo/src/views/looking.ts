// How far a piece has been looked at, part by part.

import type { FormDescription } from "oddment";
import { NO_ACCESS, NOT_LOOKED, type FullCase } from "../case/edit.js";
import { looks, type Form, type Look } from "../case/form.js";
import type { LetteredPart } from "../common/Plate.svelte";
import { words } from "../words/index.js";

/** What became of a look. */
export type Outcome = "found" | "not-there" | "no-access" | "not-looked";

/** What a report says: found at some level, not there, could not be looked at. */
export function outcomeOf(levels: readonly string[], found: string): Outcome {
  if (found === NOT_LOOKED) return "not-looked";
  if (found === NO_ACCESS) return "no-access";
  return found === levels[0] ? "not-there" : "found";
}

/** What became of a look, on any visit: the latest report counts. */
export function outcome(state: FullCase, look: Look): Outcome {
  if (look.kind === "measure") {
    return state.reading.some(({ measure }) => measure === look.measure.id) ? "found" : "not-looked";
  }
  const last = state.finding.findLast(
    ({ sign, part, found }) => sign === look.sign.id && part === look.part && found !== NOT_LOOKED,
  );
  return last === undefined ? "not-looked" : outcomeOf(look.sign.levels, last.found);
}

/** A part with what became of it. */
export interface PartState extends LetteredPart {
  all: number;
  looked: number;
  seen: number;
}

function letter(place: number): string {
  return String.fromCharCode(65 + place);
}

/** The parts of a piece that have something to look at, lettered in the pack's order. */
export function partStates(form: Form, state: FullCase): PartState[] {
  const parts: FormDescription["parts"] = form.described.parts;
  return parts
    .map(({ id, name }) => {
      const here = looks(form, state.piece.variant, id);
      const outcomes = here.map((look) => outcome(state, look));
      const looked = outcomes.filter((known) => known !== "not-looked").length;
      const seen = here.filter(
        (look, place) => look.kind === "sign" && outcomes[place] === "found",
      ).length;
      return { id, name, all: here.length, looked, seen };
    })
    .filter(({ all }) => all > 0)
    .map((part, place) => ({
      ...part,
      letter: letter(place),
      state: part.looked === 0 ? "none" : part.looked < part.all ? "some" : "all",
      found: part.seen > 0,
    }));
}

/** A visit as it is called: its number, day and who looked. */
export function visitName(state: FullCase, id: string): string {
  const place = state.visit.findIndex((visit) => visit.id === id);
  const visit = state.visit[place];
  return words.piece.visitName(place + 1, visit?.date ?? undefined, visit?.by ?? undefined);
}
