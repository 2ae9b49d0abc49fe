import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { CONTRAST_KINDS, CONTRAST_VERDICTS, type ContrastResult } from "../../src/stand-model/contrast.ts";
import { contrastLines, contrastWords } from "../../src/words/contrast-words.ts";

function contrast(changes: Partial<ContrastResult> = {}): ContrastResult {
  return {
    kind: "soil-zone",
    name: "silty clay",
    against: "the rest of the field",
    counts: 22,
    shortShare: { estimate: 0.21, low: 0.14, high: 0.27, level: 0.9 },
    probability: 0.98,
    pValue: 0.001,
    verdict: "short",
    ...changes,
  };
}

const said = (contrasts: ContrastResult[]) =>
  contrastLines(contrasts.map((one) => ({ ...one, words: contrastWords(one) })));

describe("a contrast in words", () => {
  it("found: how short, of what, with interval and counts", () => {
    expect(contrastWords(contrast())).toBe(
      "Silty clay is 21 % short of the rest of the field (14 to 27; 22 counts)",
    );
    expect(
      contrastWords(contrast({ kind: "track-rows", name: "track rows 5, 6", against: "plain rows" })),
    ).toBe("Track rows 5, 6 are 21 % short of plain rows (14 to 27; 22 counts)");
  });

  it("found, but less than nine in ten: with its probability", () => {
    expect(contrastWords(contrast({ probability: 0.74 }))).toBe(
      "Silty clay is 21 % short of the rest of the field (14 to 27; 22 counts), probability 74 %",
    );
  });

  it("likely but not settled: could be, with its probability", () => {
    const shortShare = { estimate: 0.08, low: -0.004, high: 0.15, level: 0.9 };
    expect(contrastWords(contrast({ verdict: "could-be", probability: 0.72, shortShare }))).toBe(
      "Could be: silty clay, 8 % short of the rest of the field (0 to 15; 22 counts), probability 72 %",
    );
  });

  it("tested and too few each stand in one line, kinds with several names by name", () => {
    const lines = said([
      contrast({ kind: "direction", name: "planted north", against: "planted south", verdict: "tested" }),
      contrast({ name: "silt loam", verdict: "tested" }),
      contrast({ name: "sandy loam", verdict: "tested" }),
      contrast({
        kind: "end-rows",
        name: "the end rows",
        against: "the middle",
        counts: 1,
        verdict: "too-few",
      }),
      contrast(),
    ]);
    expect(lines).toEqual([
      "Silty clay is 21 % short of the rest of the field (14 to 27; 22 counts).",
      "Tested in the counts and found even: soil zones (silt loam, sandy loam); direction of travel.",
      "Too few counts to test: end rows against the middle.",
    ]);
  });

  it("nothing tested, nothing said", () => {
    expect(contrastLines([])).toEqual([]);
  });
});

it("the schema lists the same kinds and verdicts", () => {
  const schema = JSON.parse(
    readFileSync(new URL("../../docs/findings.schema.json", import.meta.url), "utf8"),
  );
  const { kind, verdict } = schema.properties.summary.properties.contrasts.items.properties;
  expect(kind.enum).toEqual([...CONTRAST_KINDS]);
  expect(verdict.enum).toEqual([...CONTRAST_VERDICTS]);
});
