import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { loadEngine } from "oddment";
import { expect, test } from "vitest";
import { notOriginal, priorWith } from "../../src/case/prior.js";

const text = readFileSync(fileURLToPath(new URL("../../../priors/cases/innocent-holes.toml", import.meta.url)), "utf8");

test("starting odds left where they are change nothing", async () => {
  const engine = await loadEngine();
  const given = engine.readCase(text);
  const { histories, verdicts } = engine.assess(given, { fit: false });
  const same = engine.assess({ ...given, prior: priorWith(histories, notOriginal(histories)) }, { fit: false });
  same.verdicts.forEach(({ probability }, place) => expect(probability).toBeCloseTo(verdicts[place]?.probability ?? -1, 12));
});

test("another share is what the piece then starts with, and the odds are the sweep's", async () => {
  const engine = await loadEngine();
  const given = engine.readCase(text);
  const { histories } = engine.assess(given, { fit: false });
  const { points } = engine.lean(given).sweep;
  for (const share of [0.05, 0.3, 0.6]) {
    const moved = engine.assess({ ...given, prior: priorWith(histories, share) }, { fit: false });
    expect(notOriginal(moved.histories)).toBeCloseTo(share, 12);
    const point = points.find(({ not_original }) => Math.abs(not_original - share) < 1e-9);
    moved.verdicts.forEach(({ probability }, place) => expect(probability).toBeCloseTo(point?.verdicts[place] ?? -1, 9));
  }
});
