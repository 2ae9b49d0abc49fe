/** Figures of the engine's sentences as the reader writes numbers. */
import { describe, expect, it } from "vitest";
import { formatMoney, formatQuantity } from "../../src/quantities/format.ts";
import { localised, withSentences } from "../../web/words/sentences.ts";
import { documentFixture } from "../support/findings-fixture.ts";

describe("a sentence", () => {
  it.each([
    [
      "seeding depth: 1.21 in here, 1.94 in elsewhere (aim 2.00 in)",
      "seeding depth: 1,21 in here, 1,94 in elsewhere (aim 2,00 in)",
    ],
    [
      "plants standing: 31,800 plants/ac, 1,234,567.5 of them.",
      "plants standing: 31.800 plants/ac, 1.234.567,5 of them.",
    ],
    [
      "difference -6.5 points (-13.25 to 2.0); USD 4.50/bu",
      "difference -6,5 points (-13,25 to 2,0); USD 4,50/bu",
    ],
    ["3.5, 4.5 and 5.5.", "3,5, 4,5 and 5,5."],
  ])("%s", (english, german) => {
    expect(localised(english, "de")).toBe(german);
    expect(localised(english, "en")).toBe(english);
  });

  it.each([
    "planted 2026-04-24 at 14:30; Crop Sci. 31:811-815",
    "DOI 10.1007/s11119-020-09775-7",
    "file log.2.csv and plot 1.2.geojson and v1.2.3",
    "ISO 11783-10, unit 17, 24 rows, rows 3-4",
  ])("leaves alone: %s", (text) => expect(localised(text, "de")).toBe(text));

  it("writes a quantity as the page's own figures are written", () => {
    for (const value of [0.35, 51.2, 1234.5, 84_015]) {
      const english = formatQuantity(value, "plants", "farm");
      expect(localised(`${english} here`, "fr")).toBe(
        `${formatQuantity(value, "plants", "farm", "fr")} here`,
      );
    }
    expect(localised(formatMoney(12_340, "dollars"), "de")).toBe(formatMoney(12_340, "dollars", "de"));
  });
});

it("a document keeps its figures, names and files; only its sentences change", () => {
  const document = documentFixture();
  document.inputs[0]!.notes.push({
    reason: "lies 1.5 m off",
    effect: "kept",
    count: 1,
    field: "A 1.5",
    firstRecord: 1,
    value: "1.5",
  });
  const german = withSentences(document, "de");
  expect(withSentences(document, "en")).toBe(document);
  expect(german.inputs[0]!.notes.at(-1)).toMatchObject({
    reason: "lies 1,5 m off",
    field: "A 1.5",
    value: "1.5",
  });
  const [finding] = document.findings;
  expect(german.findings[0]!.words.seen).toEqual(finding!.words.seen.map((line) => localised(line, "de")));
  expect(german.findings[0]!.stand).toEqual(finding!.stand);
  expect(german.findings[0]!.where.geometry).toBe(finding!.where.geometry);
  expect(JSON.stringify(document)).not.toContain("1,5 m");
});
