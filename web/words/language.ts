/** In which language the page speaks: the browser's where its texts are whole, or as chosen. */
import { computed, effect, signal } from "@preact/signals";
import { LANGUAGES, type Language } from "../../src/texts/language.ts";

export const LANGUAGE_CHOICES = ["auto", ...LANGUAGES] as const;
export type LanguageChoice = (typeof LANGUAGE_CHOICES)[number];

/** Languages by their own names, which are the same in every language. */
export const OWN_NAMES: Readonly<Record<Language, string>> = { en: "English", es: "Español", de: "Deutsch" };

export const languageChoice = signal<LanguageChoice>("auto");
/** Languages in which no sentence is left in English. The others are spoken where the reader chooses them, not unasked. */
const WHOLE: readonly Language[] = ["en"];

/** What automatic is: the browser's language where it is one of those, in a report the one it was written in. */
export const automaticLanguage = signal<Language>("en");

/** The language the page speaks. */
export const language = computed<Language>(() =>
  languageChoice.value === "auto" ? automaticLanguage.value : languageChoice.value,
);

/** A language tag as one of our languages; English for all others. */
export function languageOf(tag: string): Language {
  const [first] = tag.toLowerCase().split(/[-_]/);
  return LANGUAGES.find((each) => each === first) ?? "en";
}

/** Takes the browser's language for automatic, now and whenever it changes. */
export function followDeviceLanguage(): void {
  const take = () => {
    const device = languageOf(navigator.language);
    automaticLanguage.value = WHOLE.includes(device) ? device : "en";
  };
  addEventListener("languagechange", take);
  take();
}

/** Says in the document which language it is in, so that it is read aloud and hyphenated as such. */
export function nameLanguage(): void {
  effect(() => {
    document.documentElement.lang = language.value;
  });
}
