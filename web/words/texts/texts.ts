/** What the page says, in the language it speaks. */
import { computed } from "@preact/signals";
import type { Language } from "../../../src/texts/language.ts";
import { withFallback } from "../../../src/texts/with-fallback.ts";
import { language } from "../language.ts";
import { GERMAN } from "./de/german.ts";
import { ENGLISH } from "./en/english.ts";
import { SPANISH } from "./es/spanish.ts";

type PageTexts = typeof ENGLISH;

const TEXTS: Readonly<Record<Language, PageTexts>> = {
  en: ENGLISH,
  es: withFallback(ENGLISH, SPANISH),
  de: withFallback(ENGLISH, GERMAN),
};

/** Read while something is drawn, so that it is drawn anew when another language is chosen. */
export const texts = computed<PageTexts>(() => TEXTS[language.value]);
