import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
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
} from "../../src/stand/counts.ts";

describe("stand from counts", () => {
  it("a plant on a thousandth of an acre stands for a thousand an acre, whatever the row spacing", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.15, max: 1.2, noNaN: true }),
        fc.integer({ min: 0, max: 80 }),
        (rowSpacingM, plants) => {
          const rowLengthM = thousandthAcreRowLengthM(rowSpacingM);
          const stand = standOfRowPerHa({ plants, rowLengthM, rowSpacingM });
          expect(stand / ACRES_PER_HECTARE).toBeCloseTo(1000 * plants, 6);
        },
      ),
    );
  });

  it("counting four rows at once is the mean of four single counts", () => {
    const one = { rowLengthM: 5.31, rowSpacingM: 0.762 };
    const counts = [31, 28, 33, 30];
    const single = counts.map((plants) => standOfRowPerHa({ plants, ...one }));
    const together = standOfRowPerHa({ plants: 122, ...one, rowsCounted: 4 });
    expect(together).toBeCloseTo(single.reduce((sum, stand) => sum + stand, 0) / 4, 9);
  });

  it("a hoop of one square metre counts tens of thousands", () => {
    expect(hoopFactorPerHa(2 / Math.sqrt(Math.PI))).toBeCloseTo(10_000, 9);
    expect(standOfHoopPerHa(40, 2 / Math.sqrt(Math.PI), 5)).toBeCloseTo(80_000, 6);
  });

  it.each([
    () => standOfRowPerHa({ plants: 30, rowLengthM: 0, rowSpacingM: 0.762 }),
    () => standOfRowPerHa({ plants: -1, rowLengthM: 5, rowSpacingM: 0.762 }),
    () => standOfRowPerHa({ plants: Number.NaN, rowLengthM: 5, rowSpacingM: 0.762 }),
    () => hoopFactorPerHa(Number.NaN),
    () => thousandthAcreRowLengthM(-0.762),
  ])("refuses impossible figures (%#)", (call) => {
    expect(call).toThrow(RangeError);
  });
});

describe("precision", () => {
  const counted = fc
    .tuple(fc.integer({ min: 1, max: 400 }), fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([all, share]) => ({ all, counted: Math.round(all * share) }));

  it("intervals hold the share, and the exact one reaches further out than the score one on the far side", () => {
    fc.assert(
      fc.property(counted, ({ all, counted: seen }) => {
        for (const interval of [wilsonInterval(seen, all), clopperPearsonInterval(seen, all)]) {
          expect(interval.low).toBeGreaterThanOrEqual(0);
          expect(interval.high).toBeLessThanOrEqual(1);
          expect(interval.low).toBeLessThanOrEqual(interval.share + 1e-12);
          expect(interval.high).toBeGreaterThanOrEqual(interval.share - 1e-12);
        }
        const exact = clopperPearsonInterval(seen, all);
        const score = wilsonInterval(seen, all);
        expect(exact.high - exact.low).toBeGreaterThan(score.high - score.low - 0.02);
      }),
      { numRuns: 200 },
    );
  });

  it("are mirrored when late and timely plants change places", () => {
    fc.assert(
      fc.property(counted, ({ all, counted: seen }) => {
        for (const interval of [wilsonInterval, clopperPearsonInterval]) {
          const one = interval(seen, all, 0.9);
          const other = interval(all - seen, all, 0.9);
          expect(one.low).toBeCloseTo(1 - other.high, 8);
          expect(one.high).toBeCloseTo(1 - other.low, 8);
        }
      }),
      { numRuns: 100 },
    );
  });

  it("the exact interval covers at least its level", () => {
    // All outcomes of 30 plants, weighed by the binomial law at six shares.
    for (const share of [0.05, 0.3, 0.5, 0.8, 0.93, 0.99]) {
      let covered = 0;
      let probability = (1 - share) ** 30;
      for (let seen = 0; seen <= 30; seen++) {
        const { low, high } = clopperPearsonInterval(seen, 30, 0.9);
        if (low <= share && share <= high) covered += probability;
        probability *= ((30 - seen) / (seen + 1)) * (share / (1 - share));
      }
      expect(covered).toBeGreaterThanOrEqual(0.9);
    }
  });

  it("refuses counts that do not fit", () => {
    expect(() => wilsonInterval(5, 4)).toThrow(RangeError);
    expect(() => wilsonInterval(0, 0)).toThrow(RangeError);
    expect(() => clopperPearsonInterval(1, 2, 1)).toThrow(RangeError);
    expect(() => precisionOfMeanStand(0.1, 1)).toThrow(RangeError);
  });
});
