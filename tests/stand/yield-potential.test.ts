import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
import { lateLoss } from "../../src/stand/late-plants.ts";
import { recoveredByNeighbours, standLoss } from "../../src/stand/missing-plants.ts";
import {
  CORN_ILLINOIS_1994,
  CORN_IOWA_2010,
  SOYBEAN_EXTENSION,
  STAND_DATE_TABLES,
} from "../../src/stand/published-tables.ts";
import { standCurveOf, standDateTableFor, yieldShareOf } from "../../src/stand/yield-potential.ts";

const perHa = (plantsPerAcre: number): number => plantsPerAcre * ACRES_PER_HECTARE;
const shares = fc.double({ min: 0, max: 1, noNaN: true });

describe("tables", () => {
  it.each(STAND_DATE_TABLES)("$id is a full grid in ascending order", (table) => {
    expect(table.percent).toHaveLength(table.dates.length);
    for (const row of table.percent) expect(row).toHaveLength(table.thousandPlantsPerAcre.length);
    expect([...table.dates].sort()).toEqual(table.dates);
    expect([...table.thousandPlantsPerAcre].sort((a, b) => a - b)).toEqual(table.thousandPlantsPerAcre);
    expect(table.source).toMatch(/Univ\./);
  });

  it("one stands for each crop, none for others", () => {
    expect(standDateTableFor("corn")).toBe(CORN_ILLINOIS_1994);
    expect(standDateTableFor("soybean")).toBe(SOYBEAN_EXTENSION);
    expect(standDateTableFor("other")).toBeNull();
  });
});

describe("yield share", () => {
  it("lies between the values around it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10_000, max: 36_000, noNaN: true }),
        fc.integer({ min: 0, max: 60 }),
        (plantsPerAcre, day) => {
          const date = new Date(Date.UTC(2026, 3, 10 + day)).toISOString().slice(0, 10);
          const found = yieldShareOf(perHa(plantsPerAcre), date);
          expect(found.standClamped || found.dateClamped).toBe(false);
          expect(found.share).toBeGreaterThanOrEqual(0.36);
          expect(found.share).toBeLessThanOrEqual(1);
        },
      ),
    );
  });

  it("is the edge value outside the table, and says which side was left", () => {
    expect(yieldShareOf(perHa(6_000), "2026-04-30")).toMatchObject({
      standClamped: true,
      dateClamped: false,
    });
    expect(yieldShareOf(perHa(6_000), "2026-04-30").share).toBeCloseTo(0.68, 12);
    const early = yieldShareOf(perHa(30_000), "2026-03-20");
    expect(early).toMatchObject({ standClamped: false, dateClamped: true });
    expect(early.share).toBeCloseTo(0.94, 12);
    expect(yieldShareOf(perHa(40_000), "2026-07-01").share).toBeCloseTo(0.65, 12);
  });

  it("is null, not guessed, where the source could not be read", () => {
    expect(yieldShareOf(perHa(27_000), "2026-05-28", CORN_IOWA_2010).share).toBeNull();
    expect(yieldShareOf(perHa(30_000), "2026-05-31", CORN_IOWA_2010).share).toBeCloseTo(0.69, 12);
  });

  it("refuses what is no stand or no date", () => {
    expect(() => yieldShareOf(-1, "2026-05-01")).toThrow(RangeError);
    expect(() => yieldShareOf(Number.NaN, "2026-05-01")).toThrow(RangeError);
    expect(() => yieldShareOf(70_000, "May 1")).toThrow(ManifestError);
  });
});

describe("late plants", () => {
  it("cost more the more there are and the further behind, within the range, and less than missing plants", () => {
    const stages = fc.option(fc.double({ min: 0, max: 6, noNaN: true }));
    fc.assert(
      fc.property(shares, stages, shares, (share, behind, more) => {
        const loss = lateLoss(share, behind);
        expect(loss.low).toBeLessThanOrEqual(loss.estimate);
        expect(loss.estimate).toBeLessThanOrEqual(loss.high);
        // 0.53: the least a missing plant costs (at 18,000 plants/ac, its neighbours recover most).
        expect(loss.high).toBeLessThanOrEqual(0.53 * share + 1e-12);
        const higher = lateLoss(share + (1 - share) * more, behind === null ? null : behind + more);
        for (const key of ["low", "estimate", "high"] as const)
          expect(higher[key]).toBeGreaterThanOrEqual(loss[key] - 1e-12);
      }),
    );
  });

  it("cost nothing when none is late or none is behind", () => {
    expect(lateLoss(0, 3)).toMatchObject({ estimate: 0, low: 0, high: 0 });
    expect(lateLoss(0.4, 0)).toMatchObject({ estimate: 0, low: 0, high: 0 });
  });

  it("show a wider range where nobody counted the leaves, and say where the studies end", () => {
    const known = lateLoss(0.25, 2);
    const unknown = lateLoss(0.25, null);
    expect(unknown.estimate).toBe(known.estimate);
    expect(unknown.low).toBeLessThan(known.low);
    expect(unknown.high).toBeGreaterThan(known.high);
    expect(lateLoss(0.25, 4).beyondStudies).toBe(false);
    expect(lateLoss(0.25, 5)).toEqual({ ...lateLoss(0.25, 4), beyondStudies: true });
  });

  it("cost the same whatever lies late up to three quarters; beyond, a whole row more and late ground less", () => {
    const stages = fc.option(fc.double({ min: 0.1, max: 6, noNaN: true }));
    fc.assert(
      fc.property(shares, stages, (share, behind) => {
        const [mixed, rows, ground] = (["mixed", "rows", "ground"] as const).map((layout) =>
          lateLoss(share, behind, layout),
        );
        for (const key of ["low", "estimate", "high"] as const) {
          if (share <= 0.75) {
            expect(rows![key]).toBe(mixed![key]);
            expect(ground![key]).toBe(mixed![key]);
          } else {
            expect(ground![key]).toBeLessThan(mixed![key] + 1e-12);
            expect(ground![key]).toBeLessThanOrEqual(rows![key]);
          }
        }
        expect(ground!.estimate).toBeGreaterThanOrEqual(0);
      }),
    );
    expect(lateLoss(1, 4, "rows").estimate).toBeGreaterThan(lateLoss(1, 4, "mixed").estimate);
  });

  it("refuse shares and stages out of range", () => {
    expect(() => lateLoss(1.01, 2)).toThrow(RangeError);
    expect(() => lateLoss(0.2, -1)).toThrow(RangeError);
    expect(() => lateLoss(Number.NaN, 2)).toThrow(RangeError);
  });
});

describe("missing plants", () => {
  const loss = (elsewhere: number, inside: number, gapWeight: number, table = CORN_ILLINOIS_1994) =>
    standLoss({
      curve: standCurveOf("2026-04-30", table),
      standElsewherePerHa: perHa(elsewhere),
      standInsidePerHa: perHa(inside),
      gapWeight,
    })!;

  it("evenly thinner at a normal stand cost nothing, in gaps four fifths of themselves", () => {
    expect(loss(32_000, 28_000, 0)).toBeCloseTo(0, 9);
    expect(loss(32_000, 28_000, 1)).toBeGreaterThan(0.1);
  });

  it("cost nothing when none is missing, everything when all are", () => {
    for (const table of [CORN_ILLINOIS_1994, SOYBEAN_EXTENSION]) {
      for (const weight of [0, 0.5, 1]) {
        expect(loss(32_000, 32_000, weight, table)).toBeCloseTo(0, 12);
        expect(loss(110_000, 0, weight, table)).toBeCloseTo(1, 12);
      }
    }
  });

  it("cost no less the more are missing, and gaps never more than the plants themselves", () => {
    const stand = fc.double({ min: 15_000, max: 30_000, noNaN: true });
    fc.assert(
      fc.property(stand, shares, shares, shares, (elsewhere, missing, more, weight) => {
        const fewer = missing + (1 - missing) * more;
        const one = loss(elsewhere, elsewhere * (1 - missing), weight);
        const other = loss(elsewhere, elsewhere * (1 - fewer), weight);
        expect(other).toBeGreaterThanOrEqual(one - 1e-9);
        expect(loss(elsewhere, elsewhere * (1 - missing), 1)).toBeLessThanOrEqual(missing + 1e-9);
      }),
    );
  });

  it("a thicker stand goes by the table alone", () => {
    expect(loss(20_000, 24_000, 1)).toBe(loss(20_000, 24_000, 0));
    expect(loss(20_000, 24_000, 1)).toBeLessThan(0);
  });

  it("neighbours recover between a fifth and a half", () => {
    expect(recoveredByNeighbours(perHa(24_000))).toBeCloseTo(0.33, 9);
    expect(recoveredByNeighbours(perHa(12_000))).toBe(0.47);
    expect(recoveredByNeighbours(perHa(36_000))).toBeCloseTo(0.19, 12);
  });
});
