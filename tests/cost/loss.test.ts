import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CAUSE_DEFINITIONS } from "../../src/causes/evidence/cause-definitions.ts";
import { LOSS_LEVEL, type LossInput, lossOf } from "../../src/cost/loss.ts";
import { ManifestError } from "../../src/errors.ts";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
import { lateLoss } from "../../src/stand/late-plants.ts";
import { standLoss } from "../../src/stand/missing-plants.ts";
import { CORN_ILLINOIS_1994, CORN_IOWA_2010, CORN_IOWA_OLDER } from "../../src/stand/published-tables.ts";
import type { LateLayout } from "../../src/stand/uneven-emergence-1991.ts";
import { standCurveOf } from "../../src/stand/yield-potential.ts";

const perHa = (plantsPerAcre: number): number => plantsPerAcre * ACRES_PER_HECTARE;
const exactly = (estimate: number) => ({ estimate, standardError: 0 });
const prices = { grainPerBushel: 4.5, expectedBushelPerAcre: 200, seedPer1000: 3.75, currency: "USD" };
const base: LossInput = {
  crop: "corn",
  plantedIsoDate: "2026-04-30",
  deficitShare: { estimate: 0.12, standardError: 0.02 },
  targetPerHa: perHa(32_000),
  standElsewherePerHa: perHa(31_000),
  arrangement: "unknown",
  lateShare: null,
  areaHa: 2.1,
  prices,
};
const known = (input: LossInput) => {
  const loss = lossOf(input);
  return { ...loss, yieldShare: loss.yieldShare!, money: loss.money! };
};

describe("loss of a place", () => {
  it("is the stand's loss exactly where nothing is uncertain but the table's reading", () => {
    const loss = known({ ...base, deficitShare: exactly(0.4), arrangement: "even" });
    const expected = standLoss({
      standElsewherePerHa: perHa(31_000),
      standInsidePerHa: perHa(31_000 - 0.4 * 32_000),
      curve: standCurveOf("2026-04-30", CORN_ILLINOIS_1994),
      gapWeight: 0,
    })!;
    for (const key of ["estimate", "low", "high"] as const)
      expect(loss.yieldShare[key]).toBeCloseTo(expected, 12);
    expect(loss.table).toBe(CORN_ILLINOIS_1994);
    expect(loss.mayBeNothing).toBe(false);
  });

  it("with unknown arrangement spans from the even to the gapped reading", () => {
    const input = { ...base, deficitShare: exactly(0.25) };
    const even = known({ ...input, arrangement: "even" }).yieldShare.estimate;
    const gaps = known({ ...input, arrangement: "gaps" }).yieldShare;
    const both = known(input).yieldShare;
    // Of a uniform mixture the 5 and 95 % quantiles lie a twentieth inside its ends; tolerance for the gap's own range.
    expect(both.low).toBeGreaterThan(even);
    expect(both.low).toBeCloseTo(even + 0.05 * (gaps.estimate - even), 2);
    expect(both.high).toBeCloseTo(even + 0.95 * (gaps.estimate - even), 2);
    expect(both.estimate).toBeCloseTo((even + gaps.estimate) / 2, 2);
    expect(gaps.high - gaps.low).toBeGreaterThan(0.005);
  });

  it("covers a normal deficit's own interval at the level it states", () => {
    // Table between 10,000 and 12,000 plants/ac is a straight line (68 to 74 %): the loss is linear in the deficit, so
    // the limits follow from the normal quantile 1.6449. Tolerance: 4,000 draws, about 4 % of the half-width.
    const slope = (6 / 2000) * 32_000;
    const loss = known({
      ...base,
      standElsewherePerHa: perHa(11_900),
      deficitShare: { estimate: 0.03, standardError: 0.006 },
      arrangement: "even",
    });
    const whole = 68 + (6 * 1900) / 2000;
    const shareOf = (deficit: number) => (slope * deficit) / whole;
    expect(LOSS_LEVEL).toBe(0.9);
    const half = shareOf(1.6449 * 0.006);
    expect(Math.abs(loss.yieldShare.estimate - shareOf(0.03))).toBeLessThan(0.06 * half);
    expect(Math.abs(loss.yieldShare.low - (shareOf(0.03) - half))).toBeLessThan(0.08 * half);
    expect(Math.abs(loss.yieldShare.high - (shareOf(0.03) + half))).toBeLessThan(0.08 * half);
  });

  it("combines missing and late plants as independent losses, the late ones against elsewhere", () => {
    const late = { inside: exactly(0.3), elsewhere: exactly(0.05), leafStagesBehind: 2 };
    const deficitShare = exactly(0.4);
    const missingOnly = known({ ...base, deficitShare, arrangement: "even" }).yieldShare.estimate;
    const lateOnly = known({ ...base, deficitShare: null, lateShare: late }).yieldShare;
    const both = known({ ...base, deficitShare, arrangement: "even", lateShare: late }).yieldShare;
    for (const key of ["estimate", "low", "high"] as const)
      expect(both[key]).toBeCloseTo(1 - (1 - missingOnly) * (1 - lateOnly[key]), 9);
    const central = 1 - (1 - lateLoss(0.3, 2).estimate) / (1 - lateLoss(0.05, 2).estimate);
    expect(lateOnly.low).toBeLessThan(central);
    expect(lateOnly.high).toBeGreaterThan(central);
    expect(Math.abs(lateOnly.estimate - central)).toBeLessThan(0.002);
  });

  it("late plants everywhere alike cost this place nothing extra", () => {
    const same = { inside: exactly(0.2), elsewhere: exactly(0.2), leafStagesBehind: 2 };
    expect(known({ ...base, deficitShare: null, lateShare: same }).yieldShare).toMatchObject({
      estimate: 0,
      low: 0,
      high: 0,
    });
  });

  it("prices a place of which nearly all plants are late by how they lie, and says so", () => {
    const of = (layout: LateLayout, share: number) =>
      known({
        ...base,
        deficitShare: null,
        lateShare: { inside: exactly(share), elsewhere: exactly(0), leafStagesBehind: 4, layout },
      });
    // Nafziger, Carter & Graham 1991: 10.4 and 7.9 of 11.8 Mg/ha; the median of a triangular draw lies beside its peak.
    expect(Math.abs(of("ground", 1).yieldShare.estimate - (1 - 10.4 / 11.8))).toBeLessThan(0.005);
    expect(Math.abs(of("rows", 1).yieldShare.estimate - (1 - 7.9 / 11.8))).toBeLessThan(0.012);
    expect(of("rows", 1).notes.join()).toContain("nearly all plants of the row came up late");
    expect(of("ground", 1).notes.join()).toContain("evenly late stands");
    for (const layout of ["mixed", "rows", "ground"] as const) {
      expect(of(layout, 0.7).yieldShare).toEqual(of("mixed", 0.7).yieldShare);
      expect(of(layout, 0.7).notes.join()).not.toContain("nearly all");
    }
  });

  it("never shows less than nothing without saying so", () => {
    const loss = known({ ...base, deficitShare: { estimate: 0.01, standardError: 0.08 } });
    expect(loss.yieldShare.low).toBe(0);
    expect(loss.mayBeNothing).toBe(true);
    expect(loss.notes.join()).toContain("may have cost no yield");
    const more = known({ ...base, standElsewherePerHa: perHa(20_000), deficitShare: exactly(-0.1) });
    expect(more.yieldShare).toMatchObject({ estimate: 0, low: 0, high: 0 });
    expect(more.mayBeNothing).toBe(true);
  });

  it("orders its limits, stays within 0 and 1, repeats itself, and grows with the deficit", () => {
    const arbitrary = fc.record({
      estimate: fc.double({ min: -0.1, max: 1, noNaN: true }),
      standardError: fc.double({ min: 0, max: 0.2, noNaN: true }),
      arrangement: fc.constantFrom("even" as const, "gaps" as const, "unknown" as const),
      late: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
      stages: fc.option(fc.double({ min: 0, max: 6, noNaN: true })),
      stand: fc.integer({ min: 15_000, max: 30_000 }),
    });
    fc.assert(
      fc.property(arbitrary, ({ estimate, standardError, arrangement, late, stages, stand }) => {
        const input: LossInput = {
          ...base,
          deficitShare: { estimate, standardError },
          standElsewherePerHa: perHa(stand),
          arrangement,
          lateShare:
            late === null
              ? null
              : {
                  inside: { estimate: late, standardError },
                  elsewhere: exactly(0.05),
                  leafStagesBehind: stages,
                },
        };
        const loss = known(input);
        const { low, high } = loss.yieldShare;
        expect(low).toBeGreaterThanOrEqual(0);
        expect(loss.yieldShare.estimate).toBeGreaterThanOrEqual(low);
        expect(high).toBeGreaterThanOrEqual(loss.yieldShare.estimate);
        expect(high).toBeLessThanOrEqual(1);
        expect(lossOf(input)).toEqual(lossOf(input));
        // The table falls again beyond 32,000 plants/ac: only from no deficit on is more deficit always worse.
        const deficit = Math.max(0, estimate);
        const sure = known({ ...input, deficitShare: exactly(deficit) });
        const worse = known({ ...input, deficitShare: exactly(deficit + 0.05) });
        for (const key of ["estimate", "low", "high"] as const)
          expect(worse.yieldShare[key]).toBeGreaterThanOrEqual(sure.yieldShare[key] - 1e-9);
      }),
      { numRuns: 60 },
    );
  });

  it("costs everything where nothing was planted", () => {
    const loss = known({
      ...base,
      deficitShare: exactly(1),
      arrangement: CAUSE_DEFINITIONS["not-planted"].arrangement,
    });
    expect(loss.yieldShare.estimate).toBeCloseTo(1, 9);
  });

  it("money is area x yield x share x price, in acres and bushels", () => {
    const { yieldShare, money } = known(base);
    const whole = 2.1 * 2.4710538146716536 * 200 * 4.5;
    for (const key of ["estimate", "low", "high"] as const)
      expect(money[key]).toBeCloseTo(whole * yieldShare[key], 6);
    expect(money).toMatchObject({ currency: "USD", level: 0.9 });
    expect(lossOf({ ...base, prices: { ...prices, grainPerBushel: null } }).money).toBeNull();
    expect(lossOf({ ...base, prices: { ...prices, expectedBushelPerAcre: null } }).money).toBeNull();
  });

  it("says what it lacked, and prices nothing it cannot", () => {
    expect(lossOf({ ...base, crop: "other" })).toMatchObject({ yieldShare: null, money: null, table: null });
    const nothing = lossOf({ ...base, deficitShare: null });
    expect(nothing.yieldShare).toBeNull();
    expect(nothing.notes.join()).toContain("not priced");
    const noStand = lossOf({ ...base, targetPerHa: null, standElsewherePerHa: null });
    expect(noStand.yieldShare).toBeNull();
    const noDate = known({ ...base, plantedIsoDate: null });
    expect(noDate.notes.join()).toContain("04-25");
    const onlyTarget = known({ ...base, standElsewherePerHa: Number.NaN });
    expect(onlyTarget.notes.join()).toContain("the target stands in");
    expect(known({ ...base, plantedIsoDate: "2026-06-20" }).notes.join()).toContain("date lies outside");
    const soybean = lossOf({
      ...base,
      crop: "soybean",
      deficitShare: null,
      lateShare: { inside: exactly(0.3), elsewhere: exactly(0), leafStagesBehind: 2 },
    });
    expect(soybean.yieldShare).toBeNull();
    expect(soybean.notes.join()).toContain("corn only");
    const farBehind = known({
      ...base,
      lateShare: { inside: exactly(0.3), elsewhere: exactly(0), leafStagesBehind: 6 },
    });
    expect(farBehind.notes.join()).toContain("further behind");
  });

  it("goes by another table when asked, and not at all where that table cannot be read", () => {
    const input: LossInput = { ...base, deficitShare: exactly(0.4), arrangement: "even" };
    const usual = known(input);
    const older = known({ ...input, table: CORN_IOWA_OLDER });
    expect(older.table).toBe(CORN_IOWA_OLDER);
    expect(older.yieldShare.estimate).toBeGreaterThan(usual.yieldShare.estimate);
    const unread = lossOf({ ...input, table: CORN_IOWA_2010, plantedIsoDate: "2026-06-05" });
    expect(unread).toMatchObject({ yieldShare: null, money: null });
    expect(unread.notes.join()).toContain("could not be read");
  });

  it("refuses a date that is none", () => {
    expect(() => lossOf({ ...base, plantedIsoDate: "May 1" })).toThrow(ManifestError);
  });
});
