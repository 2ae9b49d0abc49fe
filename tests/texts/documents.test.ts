/** One analysis written for several readers: the words differ, what is known does not. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Analysis } from "../../src/findings/analysis.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { buildDocument } from "../../src/report/build-document.ts";
import { LANGUAGES, type WritingOptions } from "../../src/texts/language.ts";
import { textsOf } from "../../src/texts/texts-of.ts";
import { analysed } from "../support/light-field.ts";
import { SMALL_MANIFEST } from "../support/small-field.ts";

let analysis: Analysis;
const written = (asked: WritingOptions): FindingsDocument => buildDocument({ ...analysis.parts, ...asked });

/** Keys whose texts are written for the reader; every other text is a code, a name or a note. */
const WORDED = new Set(["words", "text", "sentence", "notJudged", "written"]);

/** The document without what is written for a reader. */
function withoutWords(document: FindingsDocument): unknown {
  return JSON.parse(JSON.stringify(document, (key, value) => (WORDED.has(key) ? undefined : value)));
}

beforeAll(async () => {
  analysis = await analysed({}, SMALL_MANIFEST);
});

describe("the findings in other languages", () => {
  it("have the same figures and codes", () => {
    const english = written({ language: "en" });
    expect(english.written).toBeUndefined();
    for (const language of LANGUAGES) {
      const other = written({ language });
      expect(withoutWords(other)).toEqual(withoutWords(english));
      if (language !== "en") expect(other.written).toEqual({ language, locale: language });
    }
  });

  it("say headings, cautions, checks and advice in the language", () => {
    const english = written({ language: "en" });
    for (const language of ["es", "de"] as const) {
      expect(written({ language }).summary.sentence).not.toMatch(/\b(short|places?|of the)\b/);
      const { causeTitles, cautions } = textsOf(language);
      written({ language }).findings.forEach(({ cause, words, remedy }, k) => {
        const same = english.findings[k]!;
        expect(words.title).toContain(causeTitles[cause]);
        expect([cautions.machine, cautions.dig, `${cautions.dig} ${cautions.stand}`]).toContain(
          words.caution,
        );
        for (const part of ["check", "place", "otherwise"] as const)
          expect(words[part]).not.toBe(same.words[part]);
        expect(remedy.text).not.toBe(same.remedy.text);
      });
    }
  });

  it("write figures as the reader does, in any language", () => {
    const seen = (asked: WritingOptions) =>
      written(asked)
        .findings.flatMap(({ words }) => words.seen)
        .join(" ");
    expect(seen({})).toMatch(/\d\.\d\d in\b/);
    expect(seen({ language: "de" })).toMatch(/\d,\d\d in\b/);
    expect(seen({ language: "de" })).not.toMatch(/\d\.\d\d in\b/);
    expect(seen({ language: "de", locale: "en" })).toMatch(/\d\.\d\d in\b/);
    expect(seen({ locale: "de" })).toMatch(/gauge-wheel load|seeding depth/);
    expect(seen({ locale: "de" })).toMatch(/\d,\d\d in\b/);
  });
});
