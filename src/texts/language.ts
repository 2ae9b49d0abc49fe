/** In which language, units and way of writing figures a sentence is wanted. */
import type { NumberLocale, UnitSystem } from "../quantities/format.ts";

/** Languages with texts of their own; a text missing in one is said in English. */
export const LANGUAGES = ["en", "es", "de"] as const;
export type Language = (typeof LANGUAGES)[number];

/** How a reader is written to. */
export interface Writing {
  readonly units: UnitSystem;
  /** Whose grouping of thousands and decimal sign figures have. */
  readonly locale: NumberLocale;
  readonly language: Language;
}

/** How a reader is written to, as the options of a job ask for it. */
export interface WritingOptions {
  /** Units of the sentences; figures beside them are in inside units either way. Default "farm". */
  readonly units?: UnitSystem;
  /** Default "en". */
  readonly language?: Language;
  /** Whose way of writing figures; as the language writes them where left out. */
  readonly locale?: NumberLocale;
}

/** What is written where nothing was asked for: farm units, English. */
export const FARM_ENGLISH: Writing = writingIn("farm");

export function writingOf({ units = "farm", language, locale }: WritingOptions): Writing {
  return writingIn(units, language, locale);
}

/** Sentences in a language, with figures as that language writes them where nothing else is asked for. */
export function writingIn(
  units: UnitSystem,
  language: Language = "en",
  locale: NumberLocale = language,
): Writing {
  return { units, language, locale };
}
