/** The sentences of the library in a language. */
import { GERMAN } from "./de/german.ts";
import { ENGLISH } from "./en/english.ts";
import { SPANISH } from "./es/spanish.ts";
import type { Language } from "./language.ts";
import { withFallback } from "./with-fallback.ts";

export type Texts = typeof ENGLISH;

const TEXTS: Record<Language, Texts> = {
  en: ENGLISH,
  es: withFallback(ENGLISH, SPANISH),
  de: withFallback(ENGLISH, GERMAN),
};

/** Every sentence in the language; in English where it has none of its own. */
export function textsOf(language: Language): Texts {
  return TEXTS[language];
}
