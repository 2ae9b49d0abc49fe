/** Texts in several languages: the own one first, English where it is missing. */
import { describe, expect, it } from "vitest";
import { LANGUAGES } from "../../src/texts/language.ts";
import { textsOf } from "../../src/texts/texts-of.ts";
import { missingTexts, withFallback } from "../../src/texts/with-fallback.ts";

describe("texts", () => {
  it("are said in English where a language has none of its own", () => {
    const english = {
      greeting: { morning: "good morning", night: "good night" },
      farewell: { plain: "goodbye" },
    };
    const german = { greeting: { morning: "guten Morgen" } };
    expect(withFallback(english, german)).toEqual({
      greeting: { morning: "guten Morgen", night: "good night" },
      farewell: { plain: "goodbye" },
    });
    expect(missingTexts(english, german)).toEqual(["greeting.night", "farewell.plain"]);
  });

  it("name things one after another in each language", () => {
    const said = LANGUAGES.map((language) => textsOf(language).lists.all(["a", "b", "i"]));
    expect(said).toEqual(["a, b and i", "a, b e i", "a, b und i"]);
  });
});
