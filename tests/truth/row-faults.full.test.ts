/**
 * How often a departing row unit is found, and how often a healthy field raises any alarm, on simulated logs of 16 and
 * 24 rows with heavy-tailed readings, half of them with curved passes, the sound units differing by a normal law and
 * by a Laplace law.
 *
 * The limits of `src/rows/row-unit-bands.ts` were settled on the seeds from 10,000, 20,000, 30,000 and 40,000 on; the
 * ones here (from 50,000 and 60,000 on) were not looked at before.
 */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { NEWTONS_PER_POUND_FORCE } from "../../src/quantities/units.ts";
import { findRowFaults } from "../../src/rows/row-faults.ts";
import { studySize } from "../support/study-size.ts";
import { type LogShape, type PutFault, simulateLog } from "./simulator.ts";

const FIELDS = studySize(200, 40);
const FIRST_SEED = { faulty: 50_000, healthy: 60_000 } as const;

/** 0.20 in, 35 lbf, 1.5 points: the smallest departures that have to be found. */
const SHIFTS = {
  seedingDepth: 5.08,
  downForceMargin: 35 * NEWTONS_PER_POUND_FORCE,
  singulation: 0.015,
} as const;

function shapeOf(seed: number, unitLaw: "normal" | "laplace"): LogShape {
  return {
    rowUnits: seed % 2 === 0 ? 16 : 24,
    passes: 20 + (seed % 3) * 6,
    lengthM: 160,
    bendM: seed % 4 < 2 ? 0 : 6,
    unitLaw,
  };
}

/** A fault of four passes or more on any row. */
function faultOf(seed: number, shape: LogShape): PutFault {
  const random = seededRandom(seed * 7919 + 13);
  const variable = (["seedingDepth", "downForceMargin", "singulation"] as const)[seed % 3]!;
  const length = Math.min(shape.passes, [4, 4, 5, 8, 14, shape.passes][Math.floor(random() * 6)]!);
  const from = 1 + Math.floor(random() * (shape.passes - length + 1));
  const side = variable === "singulation" ? -1 : random() < 0.5 ? -1 : 1;
  return {
    rowUnit: 1 + Math.floor(random() * shape.rowUnits),
    variable,
    from,
    to: from + length - 1,
    shift: side * SHIFTS[variable],
  };
}

/** Skips and singulation are two sides of one fault. */
const SAME_FAULT: Record<PutFault["variable"], readonly string[]> = {
  seedingDepth: ["seedingDepth"],
  downForceMargin: ["downForceMargin"],
  singulation: ["singulation", "misses"],
};

describe.each(["normal", "laplace"] as const)("sound units differ by a %s law", (unitLaw) => {
  it(`units off by 0.20 in, 35 lbf or 1.5 points over four passes or more are found in 95 % of ${FIELDS} fields`, () => {
    const missed: string[] = [];
    let alarmsElsewhere = 0;
    for (let k = 0; k < FIELDS; k++) {
      const seed = FIRST_SEED.faulty + k;
      const shape = shapeOf(seed, unitLaw);
      const fault = faultOf(seed, shape);
      const { field, drivenPass } = simulateLog(shape, seed, [fault]);
      const passes = findPasses(field);
      expect(passes.passes).toHaveLength(shape.passes);
      const { sets, units } = findRowFaults(field, passes);
      const touched = new Set<number>();
      for (let i = 0; i < drivenPass.length; i++) {
        if (drivenPass[i]! >= fault.from && drivenPass[i]! <= fault.to) touched.add(passes.passOf[i]!);
      }
      const hit = units.some(
        (call) =>
          call.rowUnit === fault.rowUnit &&
          SAME_FAULT[fault.variable].includes(call.variable) &&
          call.passes.some((pass) => touched.has(pass)),
      );
      if (!hit) missed.push(`${fault.variable} ${fault.to - fault.from + 1} of ${shape.passes}`);
      if (sets.length > 0 || units.some((call) => call.rowUnit !== fault.rowUnit)) alarmsElsewhere++;
    }
    console.info(
      `${unitLaw}: found ${FIELDS - missed.length} of ${FIELDS}; missed`,
      missed,
      `; other rows called in ${alarmsElsewhere}`,
    );
    expect(missed.length / FIELDS).toBeLessThanOrEqual(0.05);
    expect(alarmsElsewhere / FIELDS).toBeLessThanOrEqual(0.05);
  });

  it(`at most 5 % of ${FIELDS} healthy fields raise any alarm`, () => {
    let alarms = 0;
    for (let k = 0; k < FIELDS; k++) {
      const seed = FIRST_SEED.healthy + k;
      const { field } = simulateLog(shapeOf(seed, unitLaw), seed);
      const { sets, units } = findRowFaults(field, findPasses(field));
      if (sets.length + units.length > 0) alarms++;
    }
    console.info(`${unitLaw}: alarms on ${alarms} of ${FIELDS} healthy fields`);
    expect(alarms / FIELDS).toBeLessThanOrEqual(0.05);
  });
});
