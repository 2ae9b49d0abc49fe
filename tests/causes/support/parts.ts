/** Small parts for the tests of the causes: digs, masks, passes of an invented bar. */
import type { Factor } from "../../../src/cells/predicted-loss.ts";
import { FACTORS } from "../../../src/cells/predicted-loss.ts";
import type { Pass, Passes } from "../../../src/passes/passes.ts";
import type { Digs } from "../../../src/vocabulary/field.ts";

/** Predicted losses, zero but for those given. */
export function losses(parts: Partial<Record<Factor, number>> = {}): Record<Factor, number> {
  return {
    ...(Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Record<Factor, number>),
    ...parts,
  };
}

export interface OneDig {
  x?: number;
  y?: number;
  rowUnit?: number;
  depthMm?: number;
  smear?: Digs["smear"][number];
  furrow?: Digs["furrow"][number];
  moisture?: Digs["moisture"][number];
  seedState?: Digs["seedState"][number];
}

export function digsOf(list: readonly OneDig[]): Digs {
  return {
    digCount: list.length,
    x: Float64Array.from(list, (dig) => dig.x ?? 0),
    y: Float64Array.from(list, (dig) => dig.y ?? 0),
    rowUnit: Int16Array.from(list, (dig) => dig.rowUnit ?? 0),
    depthMm: Float64Array.from(list, (dig) => dig.depthMm ?? Number.NaN),
    smear: list.map((dig) => dig.smear ?? null),
    furrow: list.map((dig) => dig.furrow ?? null),
    moisture: list.map((dig) => dig.moisture ?? null),
    seedState: list.map((dig) => dig.seedState ?? null),
  };
}

export interface PlacedRecord {
  pass: number;
  alongM?: number;
  rowUnit?: number;
  headingDeg?: number;
  distanceM?: number;
  widthM?: number;
}

/** Passes as the stage before would hand them on, for records given one by one. */
export function passesOf(records: readonly PlacedRecord[], rowUnitCount = 0): Passes {
  const count = Math.max(0, ...records.map((record) => record.pass));
  return {
    passes: Array.from(
      { length: count },
      (_, k): Pass => ({
        number: k + 1,
        logPasses: [],
        headingDeg: 0,
        moments: 0,
        records: records.filter((record) => record.pass === k + 1).length,
        lengthM: 0,
        areaM2: 0,
        headland: false,
        startTime: null,
        date: null,
      }),
    ),
    passOf: Int32Array.from(records, (record) => record.pass),
    momentOf: Int32Array.from(records, (_, i) => i),
    momentCount: records.length,
    rowUnitOf: Int16Array.from(records, (record) => record.rowUnit ?? 0),
    rowUnitCount,
    alongM: Float64Array.from(records, (record) => record.alongM ?? 0),
    headingDeg: Float64Array.from(records, (record) => record.headingDeg ?? 0),
    distanceM: Float64Array.from(records, (record) => record.distanceM ?? 2),
    widthM: Float64Array.from(records, (record) => record.widthM ?? 0.762),
    offsetM: new Float64Array(records.length),
    method: "given",
  };
}

/** Shoelace area of a ring, positive counter-clockwise. */
export function shoelace(ring: readonly [number, number][]): number {
  let twice = 0;
  for (let i = 1; i < ring.length; i++)
    twice += ring[i - 1]![0] * ring[i]![1] - ring[i]![0] * ring[i - 1]![1];
  return twice / 2;
}
