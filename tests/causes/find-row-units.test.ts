import { describe, expect, it } from "vitest";
import type { Attribution, Deficit } from "../../src/causes/evidence/attribution.ts";
import { attributeRowUnit, rowUnitCases } from "../../src/causes/find/find-row-units.ts";
import { recordDoses } from "../../src/cells/predicted-loss.ts";
import { findRowUnitFaults } from "../../src/rows/row-unit-faults.ts";
import type { Cause } from "../../src/vocabulary/causes.ts";
import { type BarFault, simulateBar } from "../cluster/support/bar-simulator.ts";
import { digsOf, type OneDig } from "./support/parts.ts";

const SHAPE = { units: 12, passes: 10, moments: 60 };

function judge(fault: BarFault, counted: Deficit | null = null, dug: OneDig[] = [], knowsRow = true) {
  const { field, passes } = simulateBar(SHAPE, 7, [fault]);
  field.digs = dug.length > 0 ? digsOf(dug) : null;
  const doses = recordDoses(field, passes, new Int32Array(field.log.recordCount).fill(-1));
  const cases = rowUnitCases(field, passes, doses, findRowUnitFaults(field, passes));
  expect(cases).toHaveLength(1);
  const rowCase = cases[0]!;
  const attribution = attributeRowUnit(field, passes, rowCase, counted, [...dug.keys()], knowsRow);
  return { field, passes, rowCase, attribution };
}

function probabilityOf({ cause, probability, alternatives }: Attribution, wanted: Cause): number {
  return cause === wanted
    ? probability
    : (alternatives.find((entry) => entry.cause === wanted)?.probability ?? 0);
}

const misses: BarFault = { rowUnit: 5, variable: "misses", from: 1, to: 10, shift: 0.07 };
const shallow: BarFault = { rowUnit: 9, variable: "seedingDepth", from: 1, to: 10, shift: -18 };
const full: Deficit = { estimate: 0.002, standardError: 0.015 };

describe("a row unit that departs", () => {
  it("is marked on its own records, the others of the same passes beside it", () => {
    const { rowCase, passes } = judge({ ...shallow, from: 3, to: 8 });
    for (let i = 0; i < rowCase.inside.length; i++) {
      const touched = passes.passOf[i]! >= 3 && passes.passOf[i]! <= 8;
      const own = passes.rowUnitOf[i] === 9;
      expect(rowCase.inside[i]).toBe(touched && own ? 1 : 0);
      expect(rowCase.others[i]).toBe(touched && !own ? 1 : 0);
    }
  });

  it("its predicted loss is what its own readings cost beyond the others'", () => {
    const { rowCase } = judge(misses);
    // A skip is a missing plant: 7 points of skips are 7 points of stand.
    expect(rowCase.predicted.misses).toBeGreaterThan(0.06);
    expect(rowCase.predicted.misses).toBeLessThan(0.08);
    expect(rowCase.totalPredicted).toBeCloseTo(
      Object.values(rowCase.predicted).reduce((sum, value) => sum + value, 0),
      12,
    );
  });

  it("with counts in its row that are short as predicted, the real cause is named", () => {
    for (const [fault, cause] of [
      [misses, "misses"],
      [shallow, "too-shallow"],
    ] as const) {
      const predicted = judge(fault).rowCase.totalPredicted;
      const { attribution } = judge(fault, { estimate: predicted, standardError: 0.012 });
      expect(attribution.cause).toBe(cause);
    }
  });

  it("with a full row by the counts, the sensor is named", () => {
    expect(judge(misses, full).attribution.cause).toBe("sensor-fault");
  });

  it("with a full row by counts that may have been made in the next one, the sensor is not", () => {
    for (const fault of [misses, shallow]) {
      // Odds of the sensor against the unit itself.
      const [none, unnamed, named] = [
        judge(fault).attribution,
        judge(fault, full, [], false).attribution,
        judge(fault, full).attribution,
      ].map(
        (attribution) =>
          probabilityOf(attribution, "sensor-fault") /
          probabilityOf(attribution, fault === misses ? "misses" : "too-shallow"),
      );
      // At most twice what the log alone leaves for skips, eight times for depth; small probabilities are rounded.
      expect(unnamed! / none!).toBeGreaterThan(1.8);
      expect(unnamed! / none!).toBeLessThan(fault === misses ? 2.1 : 8.2);
      expect(named).toBeGreaterThanOrEqual(unnamed!);
    }
    expect(judge(misses, full, [], false).attribution.cause).not.toBe("sensor-fault");
  });

  it("a short row speaks against the sensor whether or not the counts name it", () => {
    const short: Deficit = { estimate: 0.07, standardError: 0.012 };
    expect(judge(misses, short, [], false).attribution.cause).toBe("misses");
  });

  it("seed sensors are doubted sooner than depth sensors", () => {
    expect(probabilityOf(judge(misses).attribution, "sensor-fault")).toBeGreaterThan(
      probabilityOf(judge({ ...shallow, from: 3 }).attribution, "sensor-fault"),
    );
  });

  it("a depth reading that is off by as much on every pass may as well be the sensor's zero", () => {
    const { attribution } = judge(shallow);
    const sensor = probabilityOf(attribution, "sensor-fault");
    expect(sensor).toBeGreaterThan(0.4);
    expect(sensor).toBeGreaterThan(probabilityOf(judge({ ...shallow, from: 3 }).attribution, "sensor-fault"));
  });

  it("a departure that ends between two passes looks more like a wiped sensor", () => {
    const lasting = judge(misses).attribution;
    const healed = judge({ ...misses, to: 6 }).attribution;
    expect(probabilityOf(healed, "sensor-fault")).toBeGreaterThan(probabilityOf(lasting, "sensor-fault"));
    expect(healed.cause).toBe("sensor-fault");
  });

  it("digs at the logged depth bear the sensor out, digs at the others' depth prove it wrong", () => {
    const none = probabilityOf(judge(shallow).attribution, "too-shallow");
    const borneOut = judge(shallow, null, [{ depthMm: 31 }, { depthMm: 33 }, { depthMm: 32 }]).attribution;
    expect(borneOut.cause).toBe("too-shallow");
    expect(borneOut.probability).toBeGreaterThan(none);
    const wrong = judge(shallow, null, [{ depthMm: 49 }, { depthMm: 51 }, { depthMm: 50 }]).attribution;
    expect(wrong.cause).toBe("sensor-fault");
  });

  it.each([
    [{ rowUnit: 3, variable: "downForceMargin", from: 1, to: 10, shift: -380 }, "lost-ground-contact"],
    [{ rowUnit: 3, variable: "downForceMargin", from: 1, to: 10, shift: 1300 }, "excess-down-force"],
    [{ rowUnit: 3, variable: "seedingDepth", from: 3, to: 10, shift: 20 }, "too-deep"],
  ] as const)("variable and direction name the cause: %o", (fault, cause) => {
    const { attribution } = judge(fault);
    expect(probabilityOf(attribution, cause)).toBeGreaterThan(0.5);
    const sum = attribution.alternatives.reduce(
      (total, entry) => total + entry.probability,
      attribution.probability,
    );
    expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
  });

  it("a sound bar has no case", () => {
    const { field, passes } = simulateBar(SHAPE, 11);
    const doses = recordDoses(field, passes, new Int32Array(field.log.recordCount).fill(-1));
    expect(rowUnitCases(field, passes, doses, findRowUnitFaults(field, passes))).toEqual([]);
  });
});
