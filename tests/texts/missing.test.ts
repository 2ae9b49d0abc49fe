/** What a language still says in English: a new text that nobody has translated is noticed here. */
import { describe, expect, it } from "vitest";
import { GERMAN } from "../../src/texts/de/german.ts";
import { ENGLISH } from "../../src/texts/en/english.ts";
import { SPANISH } from "../../src/texts/es/spanish.ts";
import { missingTexts, type Topics, type Translation } from "../../src/texts/with-fallback.ts";

/** "topic.text" left to English on purpose: none today. */
const LEFT_TO_ENGLISH = { Spanish: [], German: [] };

/** Names that are spelt alike in English and the other language. */
const SPELT_ALIKE = ["findings.isTitleLowered"];

const translations: [keyof typeof LEFT_TO_ENGLISH, Translation<Topics>][] = [
  ["Spanish", SPANISH],
  ["German", GERMAN],
];

describe.each(translations)("%s", (name, translation) => {
  it("lacks no text but those left to English on purpose", () => {
    expect(missingTexts(ENGLISH, translation)).toEqual(LEFT_TO_ENGLISH[name]);
  });

  it("repeats no English text", () => {
    const repeated = Object.entries<Readonly<Record<string, unknown>>>(ENGLISH).flatMap(([topic, texts]) =>
      Object.entries(texts)
        .filter(([text, said]) => typeof said !== "function" && translation[topic]?.[text] === said)
        .map(([text]) => `${topic}.${text}`),
    );
    expect(repeated.filter((text) => !SPELT_ALIKE.includes(text))).toEqual([]);
  });

  it("says with every function what it was given", () => {
    const given = { rows: "ROWS", from: "FROM", to: "TO" };
    for (const [text, said] of Object.entries<unknown>({ ...translation.remedies })) {
      if (typeof said !== "function") continue;
      const english = (ENGLISH.remedies as Record<string, unknown>)[text] as (one: unknown) => string;
      const parts = /ROWS|FROM|TO/g;
      const asked = english(given).includes("[object") ? "TO" : given;
      const inEnglish = english(asked).match(parts)?.toSorted();
      expect((said as (one: unknown) => string)(asked).match(parts)?.toSorted(), text).toEqual(inEnglish);
    }
  });
});
