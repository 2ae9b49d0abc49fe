/** Evenstand as a library: from the files of a field to its findings. Pure: no files, no page, no clock. */
export { type AnalyseOptions, type Analysis, analyseField, STAGES, type Stage } from "./analyse.ts";
export {
  ChoiceNeededError,
  EvenstandError,
  FileUnusableError,
  isEvenstandError,
  ManifestError,
  type Note,
  NothingToAnalyseError,
} from "./errors.ts";
