/** The fixed contrasts on small fields of known truth: each way of being short is found as itself, a sound field is silent. */
import { describe, expect, it } from "vitest";
import type { ContrastKind, ContrastResult } from "../../src/stand-model/contrast.ts";
import { contrastTests } from "../../src/stand-model/contrasts-of.ts";
import { type CountedFieldParts, countedField, type TrueSpot } from "./support/counted-field.ts";

const days = (pass: number): string => (pass <= 14 ? "2026-04-24" : "2026-04-29");
const lots = (pass: number): string => (pass % 4 < 2 ? "A" : "B");

function contrastsOf(parts: Omit<CountedFieldParts, "counts">, counts = 100): ContrastResult[] {
  return contrastTests(countedField({ counts, ...parts })).map(({ result }) => result);
}

const listed = (results: readonly ContrastResult[]): string[] =>
  results.filter(({ verdict }) => verdict === "short" || verdict === "could-be").map(({ name }) => name);

describe("a sound field", () => {
  it.each([1, 2, 3])("is silent, and says what was tested (field %i)", (seed) => {
    const results = contrastsOf({ seed, soils: true, dateOf: days, lotOf: lots });
    expect(listed(results)).toEqual([]);
    expect([...new Set(results.map(({ kind }) => kind))]).toEqual<ContrastKind[]>([
      "field",
      "soil-zone",
      "planting-day",
      "seed-lot",
      "change-point",
      "bar-half",
      "section",
      "direction",
      "trend",
    ]);
    for (const { verdict, shortShare, probability, pValue } of results) {
      expect(verdict).toBe("tested");
      expect(probability).toBeLessThan(0.5);
      expect(pValue).toBeGreaterThan(0.05);
      expect(shortShare!.low).toBeLessThan(shortShare!.estimate);
      expect(shortShare!.estimate).toBeLessThan(shortShare!.high);
    }
  });

  it("is not tested where a side has fewer than five counts", () => {
    const results = contrastsOf(
      { seed: 4, soils: true, dateOf: (pass) => (pass === 1 ? "2026-04-24" : "2026-04-25") },
      60,
    );
    const first = results.find(({ name }) => name === "planted 2026-04-24")!;
    expect(first).toMatchObject({ verdict: "too-few", shortShare: null, pValue: null, probability: 0 });
    // Neither is the other day, which has nothing to be held against.
    expect(results.find(({ name }) => name === "planted 2026-04-25")!.verdict).toBe("too-few");
  });
});

describe("a part of the field 15 points short", () => {
  const SHORT = 0.15;
  const cases: [string, Omit<CountedFieldParts, "counts" | "seed">, string, number][] = [
    ["one of two soils", { lossAt: ({ soil }) => (soil === "Clay" ? SHORT : 0) }, "Clay", SHORT],
    [
      "the left half of the bar",
      { lossAt: ({ row }) => (row <= 8 ? SHORT : 0) },
      "the left half of the bar",
      SHORT,
    ],
    [
      "one of two days",
      { dateOf: days, lossAt: ({ pass }) => (pass > 14 ? SHORT : 0) },
      "planted 2026-04-29",
      SHORT,
    ],
    [
      "one of two lots",
      { lotOf: lots, lossAt: ({ pass }) => (lots(pass) === "A" ? SHORT : 0) },
      "seed lot A",
      SHORT,
    ],
    [
      "all from one pass on",
      { lossAt: ({ pass }: TrueSpot) => (pass > 14 ? SHORT : 0) },
      "what was planted from pass 15 on",
      SHORT,
    ],
    ["the whole field, 20 points", { dateOf: days, lossAt: () => 0.2 }, "the whole field", 0.2],
  ];

  it.each(cases)("%s: is the one contrast that is short", (_, parts, name, loss) => {
    const results = contrastsOf({ seed: 1, soils: true, ...parts });
    expect(listed(results)).toEqual([name]);
    const found = results.find((result) => result.name === name)!;
    expect(found.verdict).toBe("short");
    expect(found.probability).toBeGreaterThan(0.9);
    expect(found.pValue).toBeLessThan(0.001);
    expect(found.shortShare!.level).toBe(0.9);
    expect(found.shortShare!.low).toBeLessThan(loss);
    expect(found.shortShare!.high).toBeGreaterThan(loss - 0.005);
    expect(found.shortShare!.high - found.shortShare!.low).toBeLessThan(0.14);
  });

  it("is found with a third of the counts too", () => {
    const results = contrastsOf(
      { seed: 5, soils: true, lossAt: ({ soil }) => (soil === "Clay" ? 0.2 : 0) },
      36,
    );
    expect(listed(results)).toEqual(["Clay"]);
  });
});

describe("half a bar that is short, counted densely", () => {
  const HALF = 0.12;
  const name = "the left half of the bar";

  it.each([0.3, 2])("is one loss of its true size with positions %f m off", (positionSdM) => {
    // Four rows are counted, two to either side; the border lies between the rows 8 and 9.
    const shareLeft = (row: number): number => Math.min(1, Math.max(0, (10.5 - row) / 4));
    const results = contrastsOf({ seed: 3, positionSdM, lossAt: ({ row }) => HALF * shareLeft(row) }, 750);
    expect(listed(results)).toEqual([name]);
    const { shortShare, verdict } = results.find((result) => result.name === name)!;
    expect(verdict).toBe("short");
    expect(shortShare!.low).toBeLessThan(HALF);
    expect(shortShare!.high).toBeGreaterThan(HALF);
    expect(Math.abs(shortShare!.estimate - HALF)).toBeLessThan(0.02);
  });
});

it("the same counts give the same contrasts", () => {
  const parts = { seed: 6, soils: true, lossAt: ({ pass }: TrueSpot) => (pass > 12 ? 0.06 : 0) };
  expect(contrastsOf(parts, 50)).toEqual(contrastsOf(parts, 50));
});
