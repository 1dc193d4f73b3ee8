// Compiled, never run: the types a user gets, strictly and with nothing skipped.

import { type Assessment, type CaseFile, loadEngine, OddmentError, type StudyReport } from "oddment";
import { schemas } from "oddment/schemas";

const engine = await loadEngine();
const file: CaseFile = engine.readCase(engine.newCase("armchair"));
file.finding?.push({ sign: "some-sign", found: "yes", sure: "fairly-sure" });
const assessment: Assessment = engine.assess(file);
const odds: number = assessment.verdicts[0]?.odds ?? 0;
const report: StudyReport = await engine.study(file, { draws: 100, onProgress: (done, all) => done / all });
const practice = engine.practice("armchair", { seed: 3 });
engine.explain(practice.case, { between: ["one", "other"] });
engine.lean(file, { mix: { married: 1 }, opinions: [{ opinion: { schema: "", name: "somebody" }, weight: 2 }] });
const title: unknown = schemas.case["title"];
try {
  // @ts-expect-error: there is no such option
  engine.next(file, { minuets: 3 });
  // @ts-expect-error: nor such an outcome of being sure
  file.finding?.push({ sign: "some-sign", found: "yes", sure: "certain" });
} catch (error) {
  if (error instanceof OddmentError) console.log(error.code, error.problems[0]?.line, odds, report.draws, title);
}
