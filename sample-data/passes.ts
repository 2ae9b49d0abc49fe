/** The outline of the invented field and the passes planted on it, in field metres (see frame.ts). */
import type { Position } from "./frame.ts";
import { BAR_WIDTH_M, HEADLAND_LAPS, type PlantingDay, ROW_SPACING_M, ROW_UNITS } from "./scenario.ts";

const HEADLAND_M = HEADLAND_LAPS * BAR_WIDTH_M;
const LONG_PASSES = 22;
const SHORT_PASSES = 10;
const LONG_PASS_M = 624.3;
const SHORT_PASS_M = 355.4;
const DAY_ONE_LONG_PASSES = 13;
/** First of the fast passes among the short ones, 0-based, and how many: near the end of day two, not the last. */
const FIRST_FAST_SHORT_PASS = 5;
const FAST_PASSES = 4;

const width = (LONG_PASSES + SHORT_PASSES) * BAR_WIDTH_M + 2 * HEADLAND_M;
const stepU = LONG_PASSES * BAR_WIDTH_M + 2 * HEADLAND_M;
const height = LONG_PASS_M + 2 * HEADLAND_M;
const stepV = SHORT_PASS_M + 2 * HEADLAND_M;

/** Corners of the field counter-clockwise from the south-west: a rectangle without its north-east corner. */
export const OUTLINE: readonly Position[] = [
  [0, 0],
  [width, 0],
  [width, stepV],
  [stepU, stepV],
  [stepU, height],
  [0, height],
];

export interface PlantedPass {
  /** 1..n in order of planting. */
  number: number;
  day: PlantingDay;
  headland: boolean;
  fast: boolean;
  /** Middle of the bar at the start, unit vector of travel, length. */
  start: Position;
  direction: Position;
  lengthM: number;
}

/** Every pass in order of planting: laps round the edge first, then back and forth from west to east. */
export const PASSES = layPasses(FIRST_FAST_SHORT_PASS);

/** The passes with the fast ones from another short pass on, 0-based. */
export function layPasses(firstFast: number): readonly PlantedPass[] {
  return [...headlandPasses(), ...interiorPasses(firstFast)].map((pass, index) => ({
    ...pass,
    number: index + 1,
  }));
}

type UnnumberedPass = Omit<PlantedPass, "number">;

/**
 * A lap is one straight pass a side, counter-clockwise, the field's edge on the right. Each pass takes the
 * corner at its end and leaves the corner at its start to the pass before: nothing is planted twice.
 */
function headlandPasses(): UnnumberedPass[] {
  const passes: UnnumberedPass[] = [];
  for (let lap = 0; lap < HEADLAND_LAPS; lap++) {
    const outer = lap * BAR_WIDTH_M;
    const inner = outer + BAR_WIDTH_M;
    const middle = (outer + inner) / 2;
    const runs: [Position, Position][] = [
      [
        [outer, middle],
        [width - outer, middle],
      ],
      [
        [width - middle, inner],
        [width - middle, stepV - outer],
      ],
      [
        [width - inner, stepV - middle],
        [stepU - inner, stepV - middle],
      ],
      [
        [stepU - middle, stepV - outer],
        [stepU - middle, height - outer],
      ],
      [
        [stepU - inner, height - middle],
        [outer, height - middle],
      ],
      [
        [middle, height - inner],
        [middle, inner],
      ],
    ];
    for (const [from, to] of runs) passes.push(run(from, to, { day: 1, headland: true, fast: false }));
  }
  return passes;
}

function interiorPasses(firstFast: number): UnnumberedPass[] {
  return Array.from({ length: LONG_PASSES + SHORT_PASSES }, (_, index) => {
    const u = HEADLAND_M + (index + 0.5) * BAR_WIDTH_M;
    const south: Position = [u, HEADLAND_M];
    const north: Position = [u, (index < LONG_PASSES ? height : stepV) - HEADLAND_M];
    const day: PlantingDay = index < DAY_ONE_LONG_PASSES ? 1 : 2;
    const short = index - LONG_PASSES;
    const fast = short >= firstFast && short < firstFast + FAST_PASSES;
    const northward = index % 2 === 0;
    return run(northward ? south : north, northward ? north : south, { day, headland: false, fast });
  });
}

function run(
  from: Position,
  to: Position,
  kind: Pick<PlantedPass, "day" | "headland" | "fast">,
): UnnumberedPass {
  const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return {
    ...kind,
    start: from,
    direction: [(to[0] - from[0]) / lengthM, (to[1] - from[1]) / lengthM],
    lengthM,
  };
}

/** Position on a pass: metres from its start, metres to the right of the middle of the bar. */
export function positionOn(pass: PlantedPass, alongM: number, rightM: number): Position {
  const [du, dv] = pass.direction;
  return [pass.start[0] + alongM * du + rightM * dv, pass.start[1] + alongM * dv - rightM * du];
}

/** Offset of a row unit (1..24 from the left) to the right of the middle of the bar, metres. */
export function rowOffsetM(rowUnit: number): number {
  return (rowUnit - (ROW_UNITS + 1) / 2) * ROW_SPACING_M;
}

/** The pass that planted a position, and where on it; null outside the field. */
export function passAt(
  [u, v]: Position,
  passes: readonly PlantedPass[] = PASSES,
): { pass: PlantedPass; alongM: number; rightM: number } | null {
  for (const pass of passes) {
    const [du, dv] = pass.direction;
    const east = u - pass.start[0];
    const north = v - pass.start[1];
    const alongM = east * du + north * dv;
    const rightM = east * dv - north * du;
    if (alongM >= 0 && alongM < pass.lengthM && Math.abs(rightM) <= BAR_WIDTH_M / 2) {
      return { pass, alongM, rightM };
    }
  }
  return null;
}

/** Outline of the ground of a pass, counter-clockwise, closed. */
export function passOutline(pass: PlantedPass): Position[] {
  const half = BAR_WIDTH_M / 2;
  const corners: [number, number][] = [
    [0, half],
    [pass.lengthM, half],
    [pass.lengthM, -half],
    [0, -half],
    [0, half],
  ];
  return corners.map(([along, right]) => positionOn(pass, along, right));
}
