import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import {
  keepPlace,
  keepScore,
  keepStep,
  listCases,
  listScores,
  loadCase,
  removeCase,
  restoreCase,
  type Kept,
} from "../../src/bench/store.js";
import { freshCase } from "../../src/case/edit.js";

const state = freshCase({ form: "armchair", variant: "dining", period: "x", region: "y" }, "2026-01-31");
const kept = (id: string, changed: number, at = 0): Kept => ({ id, form: "armchair", title: id, begun: 1, changed, at });
const step = (id: string, number: number) => ({ case: id, number, said: `step ${String(number)}`, state });

test("a case comes back with its steps in order and its place among them", async () => {
  for (const number of [0, 1, 2]) await keepStep(kept("one", number, number), step("one", number));
  await keepPlace(kept("one", 3, 1));
  const found = await loadCase("one");
  expect(found?.kept.at).toBe(1);
  expect(found?.steps.map(({ number }) => number)).toEqual([0, 1, 2]);
});

test("a new step takes the place of those that were taken back", async () => {
  for (const number of [0, 1, 2, 3]) await keepStep(kept("two", number, number), step("two", number));
  await keepStep(kept("two", 9, 2), { ...step("two", 2), said: "another way" });
  const found = await loadCase("two");
  expect(found?.steps.map(({ said }) => said)).toEqual(["step 0", "step 1", "another way"]);
});

test("the shelf has the last changed first", async () => {
  await keepStep(kept("old", 10), step("old", 0));
  await keepStep(kept("new", 20), step("new", 0));
  const ids = (await listCases()).map(({ id }) => id);
  expect(ids.indexOf("new")).toBeLessThan(ids.indexOf("old"));
});

test("what is taken off can be put back whole", async () => {
  for (const number of [0, 1]) await keepStep(kept("off", 30, number), step("off", number));
  const removed = await removeCase("off");
  expect(await loadCase("off")).toBeUndefined();
  if (removed !== undefined) await restoreCase(removed);
  expect((await loadCase("off"))?.steps).toHaveLength(2);
});

test("steps beyond the most are dropped from the oldest", async () => {
  for (let number = 0; number <= 505; number += 1) await keepStep(kept("long", number, number), step("long", number));
  const steps = (await loadCase("long"))?.steps ?? [];
  expect(steps).toHaveLength(500);
  expect(steps.at(-1)?.number).toBe(505);
});

test("scores are kept in their order", async () => {
  const score = { when: 1, of: "practice/armchair", guesses: 3, own: 0.2, engine: 0.1, start: 0.4 };
  await keepScore(score);
  await keepScore({ ...score, when: 2 });
  expect((await listScores()).map(({ when }) => when)).toEqual([1, 2]);
});
