// What the package exports, whatever the platform.

export { Engine } from "./engine.js";
export type {
  AssessOptions,
  CaseInput,
  DecideOptions,
  ExplainOptions,
  FormChoice,
  LeanOptions,
  LibraryInput,
  NextOptions,
  OpinionInput,
  PackChoice,
  PackInput,
  ReportOptions,
  StudyOptions,
} from "./engine.js";
export { OddmentError, type OddmentErrorParts } from "./error.js";
export type { LoadOptions, ModuleSource } from "./load.js";
export type * from "./types.js";
