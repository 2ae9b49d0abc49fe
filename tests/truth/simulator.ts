/**
 * Small invented row-unit logs with known faults, for counting how often they are found. The laws are others than
 * those of the invented sample field: readings with heavy tails (Student's t, 3 degrees), passes that bend, bars of 16
 * and 24 rows. Sound units differ by a normal law or by a Laplace law of the same SD, whose tails are heavier. The log
 * goes through the finding of passes like any other.
 */

import { normal, seededRandom } from "../../src/numerics/random.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { buildField } from "../support/field-builder.ts";

export interface PutFault {
  rowUnit: number;
  variable: "seedingDepth" | "downForceMargin" | "singulation";
  /** Numbers of passes in order of planting, 1-based, inclusive. */
  from: number;
  to: number;
  /** mm, N, share. */
  shift: number;
}

export interface SimulatedLog {
  field: Field;
  /** Pass of each record as it was driven, 1-based. */
  drivenPass: Int32Array;
}

export interface LogShape {
  rowUnits: number;
  passes: number;
  lengthM: number;
  /** Passes bend to and fro by this much, m; 0 for straight ones. */
  bendM: number;
  /** Law of the standing differences between sound units; normal when left out. */
  unitLaw?: "normal" | "laplace";
}

const ROW_SPACING_M = 0.762;
/** One reading each two metres, as of one a second at 4.5 mph. */
const STEP_M = 2;
/** Two thirds of the way are the first soil zone. */
const BORDER_SHARE = 2 / 3;

/** Level, spread between sound units, noise of one reading, spread of the ground that all units share, step to the second zone. */
const LAWS = {
  seedingDepth: { level: 51, unit: 0.9, noise: 4, ground: 2.5, zone: -3 },
  downForceMargin: { level: 470, unit: 24, noise: 130, ground: 80, zone: -90 },
} as const;

/** A log of one field; the same seed gives the same log. */
export function simulateLog(shape: LogShape, seed: number, faults: readonly PutFault[] = []): SimulatedLog {
  const random = seededRandom(seed);
  const columns = {
    x: [] as number[],
    y: [] as number[],
    time: [] as number[],
    rowUnit: [] as number[],
    seedingDepth: [] as number[],
    downForceMargin: [] as number[],
    singulation: [] as number[],
    misses: [] as number[],
    multiples: [] as number[],
    population: [] as number[],
  };
  const drivenPass: number[] = [];
  const standing = shape.unitLaw === "laplace" ? laplace : normal;
  const units = Array.from({ length: shape.rowUnits }, () => ({
    seedingDepth: LAWS.seedingDepth.unit * standing(random),
    downForceMargin: LAWS.downForceMargin.unit * standing(random),
    misses: 0.0012 * standing(random),
  }));
  const barM = shape.rowUnits * ROW_SPACING_M;
  const moments = Math.round(shape.lengthM / STEP_M);
  const bendTurns = 0.5 + 0.8 * random();
  let seconds = 1_777_000_000;
  for (let pass = 1; pass <= shape.passes; pass++) {
    const up = pass % 2 === 1;
    const ground = { seedingDepth: 0, downForceMargin: 0, misses: 0 };
    for (let moment = 0; moment < moments; moment++) {
      seconds++;
      const y = (up ? moment + 0.5 : moments - moment - 0.5) * STEP_M;
      const phase = (2 * Math.PI * bendTurns * y) / shape.lengthM;
      const x = pass * barM + shape.bendM * Math.sin(phase);
      const slope = ((shape.bendM * 2 * Math.PI * bendTurns) / shape.lengthM) * Math.cos(phase);
      const way = Math.hypot(1, slope) * (up ? 1 : -1);
      const [east, north] = [slope / way, 1 / way];
      ground.seedingDepth = drift(ground.seedingDepth, LAWS.seedingDepth.ground, random);
      ground.downForceMargin = drift(ground.downForceMargin, LAWS.downForceMargin.ground, random);
      ground.misses = drift(ground.misses, 0.003, random);
      const inSecond = y > BORDER_SHARE * shape.lengthM ? 1 : 0;
      units.forEach((unit, index) => {
        const rowUnit = index + 1;
        const put = (variable: PutFault["variable"]): number =>
          faults.reduce(
            (sum, fault) =>
              fault.rowUnit === rowUnit &&
              fault.variable === variable &&
              pass >= fault.from &&
              pass <= fault.to
                ? sum + fault.shift
                : sum,
            0,
          );
        const right = (rowUnit - (shape.rowUnits + 1) / 2) * ROW_SPACING_M;
        columns.x.push(x + north * right);
        columns.y.push(y - east * right);
        columns.time.push(seconds);
        columns.rowUnit.push(rowUnit);
        const reading = (variable: "seedingDepth" | "downForceMargin"): number => {
          const law = LAWS[variable];
          const off = ground[variable] + unit[variable] + put(variable) + law.noise * heavyTailed(random);
          return law.level + law.zone * inSecond + off;
        };
        columns.seedingDepth.push(reading("seedingDepth"));
        columns.downForceMargin.push(reading("downForceMargin"));
        const misses = share(
          0.02 + ground.misses + unit.misses - put("singulation") + 0.012 * heavyTailed(random),
        );
        const multiples = share(0.008 + 0.006 * heavyTailed(random));
        columns.misses.push(misses);
        columns.multiples.push(multiples);
        columns.singulation.push(1 - misses - multiples);
        columns.population.push(84_000 * (1 - misses + multiples));
        drivenPass.push(pass);
      });
    }
    seconds += 45;
  }
  const { x, y, ...values } = columns;
  const field = buildField({
    x,
    y,
    layout: "row-unit",
    hasClockTime: true,
    planter: { rowUnits: shape.rowUnits, rowSpacingM: ROW_SPACING_M },
    targets: { seedingDepthMm: 50.8, downForceMarginN: [267, 712] },
    values,
  });
  return { field, drivenPass: Int32Array.from(drivenPass) };
}

/** Student's t with 3 degrees of freedom, scaled to an SD of 1. */
export function heavyTailed(random: () => number): number {
  const squares = normal(random) ** 2 + normal(random) ** 2 + normal(random) ** 2;
  return normal(random) / Math.sqrt(squares);
}

/** Laplace law of SD 1. */
export function laplace(random: () => number): number {
  const size = -Math.log(1 - random()) / Math.SQRT2;
  return random() < 0.5 ? -size : size;
}

/** Next value of what drifts along the pass with the given SD; neighbours are alike by 0.9. */
function drift(value: number, sd: number, random: () => number): number {
  return 0.9 * value + Math.sqrt(1 - 0.81) * sd * normal(random);
}

export function share(value: number): number {
  return Math.min(1, Math.max(0, value));
}
