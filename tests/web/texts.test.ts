/** The page's texts: which languages it speaks, and what a translation still leaves to English. */
import { afterEach, describe, expect, it } from "vitest";
import { missingTexts } from "../../src/texts/with-fallback.ts";
import { asShown } from "../../web/words/as-shown.ts";
import { language, languageChoice, languageOf } from "../../web/words/language.ts";
import { numberLocale } from "../../web/words/numbers.ts";
import { GERMAN } from "../../web/words/texts/de/german.ts";
import { ENGLISH } from "../../web/words/texts/en/english.ts";
import { SPANISH } from "../../web/words/texts/es/spanish.ts";
import { texts } from "../../web/words/texts/texts.ts";

afterEach(() => {
  languageChoice.value = "auto";
});

describe("the page's language", () => {
  it("is the browser's where it is one of ours, else English", () => {
    expect(["de-AT", "es", "ES-mx", "en-US", "fr-CH", "est", ""].map(languageOf)).toEqual([
      "de",
      "es",
      "es",
      "en",
      "en",
      "en",
      "en",
    ]);
  });

  it("once chosen rules texts, numbers and dates", () => {
    expect([language.value, numberLocale.value, texts.value.settings.title]).toEqual([
      "en",
      "en",
      "Settings",
    ]);
    languageChoice.value = "de";
    expect([language.value, numberLocale.value, texts.value.settings.title]).toEqual([
      "de",
      "de",
      "Einstellungen",
    ]);
    expect(asShown("2026-05-02")).toMatch(/^2\.\sMai\s2026$/);
    languageChoice.value = "es";
    expect(texts.value.settings.title).toBe("Ajustes");
    expect(asShown("2026-05-02")).toMatch(/^2\smay\s2026$/);
  });
});

describe("the translations", () => {
  it("leave nothing to English", () => {
    expect({ es: missingTexts(ENGLISH, SPANISH), de: missingTexts(ENGLISH, GERMAN) }).toEqual({
      es: [],
      de: [],
    });
  });

  it("take the same parts as the English sentence", () => {
    const lengths = (of: object): [string, number][] =>
      Object.entries(of).flatMap(([topic, said]) =>
        Object.entries(said as object).flatMap(([name, text]): [string, number][] =>
          typeof text === "function" ? [[`${topic}.${name}`, text.length]] : [],
        ),
      );
    const english = Object.fromEntries(lengths(ENGLISH));
    for (const translation of [SPANISH, GERMAN])
      for (const [name, length] of lengths(translation))
        expect([name, length]).toEqual([name, english[name]]);
  });
});
