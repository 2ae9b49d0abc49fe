/** Published counting factors and binomial intervals. Source and tolerance stand beside each figure. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ACRES_PER_HECTARE, METRES_PER_FOOT, MM_PER_INCH } from "../../src/quantities/units.ts";
import {
  clopperPearsonInterval,
  precisionOfMeanStand,
  wilsonInterval,
} from "../../src/stand/count-precision.ts";
import {
  hoopFactorPerHa,
  standOfHoopPerHa,
  standOfRowPerHa,
  thousandthAcreRowLengthM,
  WHEEL_METHOD_PLANTS,
} from "../../src/stand/counts.ts";

const inchesToM = (inches: number): number => (inches * MM_PER_INCH) / 1000;
const perAcre = (perHa: number): number => perHa / ACRES_PER_HECTARE;

describe("row length of a thousandth of an acre", () => {
  // Feet to three decimals are 522.72 / inches; the printed feet and inches are those of Univ. of Wisconsin (page L004),
  // Univ. of Tennessee (2011) and Univ. of Missouri where `printed` is true. Printed lengths are rounded to the inch.
  const rows = [
    { inches: 7.5, feet: 69.696, printedFeet: null },
    { inches: 10, feet: 52.272, printedFeet: 52 + 3 / 12 },
    { inches: 15, feet: 34.848, printedFeet: 34 + 10 / 12 },
    { inches: 18, feet: 29.04, printedFeet: null },
    { inches: 19, feet: 27.512, printedFeet: 27 + 6 / 12 },
    { inches: 20, feet: 26.136, printedFeet: 26 + 2 / 12 },
    { inches: 22, feet: 23.76, printedFeet: 23 + 9 / 12 },
    { inches: 24, feet: 21.78, printedFeet: null },
    { inches: 28, feet: 18.669, printedFeet: null },
    { inches: 30, feet: 17.424, printedFeet: 17 + 5 / 12 },
    { inches: 32, feet: 16.335, printedFeet: null },
    { inches: 34, feet: 15.374, printedFeet: null },
    { inches: 36, feet: 14.52, printedFeet: 14 + 6 / 12 },
    { inches: 38, feet: 13.756, printedFeet: 13 + 9 / 12 },
    { inches: 40, feet: 13.068, printedFeet: 13 + 1 / 12 },
  ];
  it.each(rows)("is $feet ft in $inches in rows", ({ inches, feet, printedFeet }) => {
    const found = thousandthAcreRowLengthM(inchesToM(inches)) / METRES_PER_FOOT;
    expect(Math.abs(found - feet)).toBeLessThanOrEqual(0.0005);
    if (printedFeet !== null) expect(Math.abs(found - printedFeet)).toBeLessThanOrEqual(0.5 / 12);
  });
});

describe("hoop", () => {
  // Purdue Univ. field guide; its printed factors lie 0.05 % off the exact geometry: tolerance 0.1 %.
  it.each([
    [18, 24_662],
    [21, 18_119],
    [24, 13_872],
    [27, 10_961],
    [30, 8_878],
    [33, 7_337],
    [36, 6_165],
  ])("of %f in has the printed factor %f", (inches, printed) => {
    expect(Math.abs(perAcre(hoopFactorPerHa(inchesToM(inches))) / printed - 1)).toBeLessThan(0.001);
  });

  // Worked examples of the same source: 18 x 8,878 and 13 x 13,872.
  it("gives the worked examples", () => {
    expect(Math.abs(perAcre(standOfHoopPerHa(18, inchesToM(30))) / 159_804 - 1)).toBeLessThan(0.001);
    expect(Math.abs(perAcre(standOfHoopPerHa(13, inchesToM(24))) / 180_336 - 1)).toBeLessThan(0.001);
  });
});

describe("measuring wheel", () => {
  // Univ. of Illinois method, 150 plants; plants/ac = 78,408,000 / (row spacing in x ft), computed from the acre.
  it.each([
    [30, 2_613_600],
    [15, 5_227_200],
    [20, 3_920_400],
    [36, 2_178_000],
  ])("in %f in rows gives %f / ft", (inches, numerator) => {
    const feet = 87.3;
    const stand = standOfRowPerHa({
      plants: WHEEL_METHOD_PLANTS,
      rowLengthM: feet * METRES_PER_FOOT,
      rowSpacingM: inchesToM(inches),
    });
    expect(perAcre(stand)).toBeCloseTo(numerator / feet, 6);
  });
});

describe("precision of a mean stand", () => {
  // t(0.975, n - 1) x CV / sqrt n, percent, computed from t tables; tolerance half of the last digit.
  const counts = [3, 5, 7, 10, 15, 20];
  it.each([
    [0.05, [12.4, 6.2, 4.6, 3.6, 2.8, 2.3]],
    [0.1, [24.8, 12.4, 9.2, 7.2, 5.5, 4.7]],
    [0.15, [37.3, 18.6, 13.9, 10.7, 8.3, 7.0]],
  ])("at CV %f", (cv, percents) => {
    percents.forEach((percent, index) => {
      expect(Math.abs(100 * precisionOfMeanStand(cv, counts[index]!) - percent)).toBeLessThanOrEqual(0.0501);
    });
  });
});

describe("binomial intervals, 95 %", () => {
  // R 4.2.2 binom.test and prop.test(correct = FALSE); tolerance 1e-9.
  const cases = [
    {
      counted: 29,
      all: 34,
      exact: [0.689434269604875, 0.950471544743823],
      score: [0.698719435045478, 0.935505585552175],
    },
    {
      counted: 31,
      all: 34,
      exact: [0.763224725713062, 0.98142049655916],
      score: [0.770395134371911, 0.969534056325351],
    },
    {
      counted: 118,
      all: 136,
      exact: [0.798911849416546, 0.919634883389029],
      score: [0.800481634612665, 0.914613880289113],
    },
  ];
  it.each(cases)("of $counted in $all", ({ counted, all, exact, score }) => {
    const found = clopperPearsonInterval(counted, all);
    expect(found.low).toBeCloseTo(exact[0]!, 9);
    expect(found.high).toBeCloseTo(exact[1]!, 9);
    const wilson = wilsonInterval(counted, all);
    expect(wilson.low).toBeCloseTo(score[0]!, 9);
    expect(wilson.high).toBeCloseTo(score[1]!, 9);
  });

  const folder = process.env.EVENSTAND_REFERENCE;
  it.skipIf(!folder)("agree with the reference file itself", () => {
    const file = JSON.parse(
      readFileSync(join(folder!, "reference/statistics/quantile_fdr_robust.json"), "utf8"),
    );
    const { x, n, clopper, wilson } = file.binom as {
      x: number[];
      n: number[];
      clopper: number[][];
      wilson: number[][];
    };
    x.forEach((counted, index) => {
      const exact = clopperPearsonInterval(counted, n[index]!);
      const score = wilsonInterval(counted, n[index]!);
      expect([exact.low, exact.high, score.low, score.high]).toEqual(
        [...clopper[index]!, ...wilson[index]!].map((value) => expect.closeTo(value, 9)),
      );
    });
  });
});
