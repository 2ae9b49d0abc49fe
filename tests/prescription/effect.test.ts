/** Plants and money of a prescription. */
import { describe, expect, it } from "vitest";
import { lossOf } from "../../src/cost/loss.ts";
import { prescriptionEffect } from "../../src/prescription/effect.ts";
import type { Field } from "../../src/vocabulary/field.ts";

const LEVEL = 0.9;
const PRICES = { grainPerBushel: 4.5, expectedBushelPerAcre: 200, seedPer1000: null, currency: "USD" };
const field = {
  crop: "corn",
  planted: "2026-04-24",
  targets: { populationPerHa: 84_000 },
  log: { values: {} },
  prices: PRICES,
} as unknown as Field;

function decided(soilZone: string, areaHa: number, gain: [number, number, number] | null) {
  const gainShare = gain && { estimate: gain[0], low: gain[1], high: gain[2], level: LEVEL };
  return { soilZone, areaHa, gainShare };
}

describe("the effect of a prescription", () => {
  it("is the mean of the zones by area, with the ends of the intervals added up", () => {
    const effect = prescriptionEffect(
      [decided("clay", 10, [0.03, 0.01, 0.05]), decided("loam", 30, [0.0, -0.01, 0.01])],
      field,
    );
    expect(effect.gainShare!.estimate).toBeCloseTo(0.0075, 12);
    expect(effect.gainShare!.low).toBeCloseTo(-0.005, 12);
    expect(effect.gainShare!.high).toBeCloseTo(0.02, 12);
    expect(effect.plants).toBeCloseTo(0.0075 * 40 * 84_000, 6);
    const zones = effect.zones.map(({ money }) => money!);
    expect(effect.money!.estimate).toBeCloseTo(zones[0]!.estimate + zones[1]!.estimate, 9);
  });

  it("prices a sure gain as the loss it takes away", () => {
    const { money } = prescriptionEffect([decided("clay", 10, [0.06, 0.05, 0.07])], field).zones[0]!;
    const loss = lossOf({
      crop: "corn",
      plantedIsoDate: "2026-04-24",
      deficitShare: { estimate: 0.06, standardError: 0.02 / (2 * 1.6448536269514722) },
      targetPerHa: 84_000,
      standElsewherePerHa: null,
      arrangement: "unknown",
      lateShare: null,
      areaHa: 10,
      prices: PRICES,
    });
    expect(money).toEqual({ ...loss.money! });
    expect(money!.estimate).toBeGreaterThan(0);
  });

  it("turns round with the sign: a change for the worse costs what the opposite one brings", () => {
    const money = (gain: [number, number, number]) =>
      prescriptionEffect([decided("clay", 10, gain)], field).money!;
    const better = money([0.03, -0.01, 0.07]);
    const worse = money([-0.03, -0.07, 0.01]);
    expect(better.low).toBeLessThan(0);
    expect(worse.estimate).toBeCloseTo(-better.estimate, 9);
    expect(worse.low).toBeCloseTo(-better.high, 9);
    expect(worse.high).toBeCloseTo(-better.low, 9);
  });

  it("knows no money without prices and nothing without a gain", () => {
    const poor = { ...field, prices: { ...PRICES, grainPerBushel: null } };
    expect(prescriptionEffect([decided("clay", 10, [0.03, 0.01, 0.05])], poor).money).toBeNull();
    const none = prescriptionEffect([decided("clay", 10, null)], field);
    expect([none.gainShare, none.money, none.plants]).toEqual([null, null, null]);
  });
});
