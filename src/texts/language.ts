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

/** Sentences in a language, with figures as that language writes them where nothing else is asked for. */
export function writingIn(
  units: UnitSystem,
  language: Language = "en",
  locale: NumberLocale = language,
): Writing {
  return { units, language, locale };
}
