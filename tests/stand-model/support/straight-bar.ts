/** A bar that plants straight passes to and fro, logged by row units, by sections or as a whole, and counts on its ground. */

import type { Pass, Passes } from "../../../src/passes/passes.ts";
import type { Spots } from "../../../src/stand/spots.ts";
import type { Field, StandCounts } from "../../../src/vocabulary/field.ts";
import { buildField, type FieldParts } from "../../support/field-builder.ts";

export const ROW_M = 0.762;
export const STEP_M = 2;

export interface BarParts {
  rowUnits: number;
  passes: number;
  lengthM: number;
  /** Row units that one record stands for: 1, those of a section, or all. */
  rowsOfRecord: number;
  parts?: Partial<FieldParts>;
}

/** Passes run north and south by turns, side by side to the east; the middle of pass 1 lies at x = 0. */
export function straightBar({ rowUnits, passes, lengthM, rowsOfRecord, parts = {} }: BarParts): {
  field: Field;
  passes: Passes;
} {
  const x: number[] = [];
  const y: number[] = [];
  const passOf: number[] = [];
  const momentOf: number[] = [];
  const rowUnitOf: number[] = [];
  const alongM: number[] = [];
  let moment = 0;
  for (let pass = 0; pass < passes; pass++) {
    const side = pass % 2 === 0 ? 1 : -1;
    for (let way = STEP_M / 2; way < lengthM; way += STEP_M) {
      for (let first = 1; first <= rowUnits; first += rowsOfRecord) {
        const right = (first + (rowsOfRecord - 1) / 2 - (rowUnits + 1) / 2) * ROW_M;
        x.push(pass * rowUnits * ROW_M + side * right);
        y.push(side === 1 ? way : lengthM - way);
        passOf.push(pass + 1);
        momentOf.push(moment);
        rowUnitOf.push(rowsOfRecord === 1 ? first : 0);
        alongM.push(way);
      }
      moment++;
    }
  }
  const count = x.length;
  const field = buildField({ x, y, ...parts, planter: { rowUnits, rowSpacingM: ROW_M, ...parts.planter } });
  return {
    field,
    passes: {
      passes: Array.from({ length: passes }, (_, k): Pass => {
        const records = passOf.filter((pass) => pass === k + 1).length;
        return {
          number: k + 1,
          logPasses: [],
          headingDeg: k % 2 === 0 ? 0 : 180,
          moments: moment / passes,
          records,
          lengthM,
          areaM2: lengthM * rowUnits * ROW_M,
          headland: false,
          startTime: null,
          date: null,
        };
      }),
      passOf: Int32Array.from(passOf),
      momentOf: Int32Array.from(momentOf),
      momentCount: moment,
      rowUnitOf: Int16Array.from(rowUnitOf),
      rowUnitCount: rowsOfRecord === 1 ? rowUnits : 0,
      alongM: Float64Array.from(alongM),
      headingDeg: Float64Array.from(passOf, (pass) => (pass % 2 === 1 ? 0 : 180)),
      distanceM: new Float64Array(count).fill(STEP_M),
      widthM: new Float64Array(count).fill(rowsOfRecord * ROW_M),
      offsetM: new Float64Array(count),
      method: "invented",
    },
  };
}

export interface OneCount {
  x: number;
  y: number;
  rowsCounted?: number;
  rowLengthM?: number;
  /** Row unit that the count names. */
  rowUnit?: number;
}

/** Gives the field these counts, and the spots as the join hands them on (positions alone). */
export function countedAt(field: Field, counts: readonly OneCount[]): Spots {
  const column = (value: (count: OneCount) => number) => Float64Array.from(counts, value);
  const standCounts: StandCounts = {
    spotCount: counts.length,
    x: column(({ x }) => x),
    y: column(({ y }) => y),
    standPerHa: column(() => 78_000),
    plants: column(() => Number.NaN),
    rowLengthM: column(({ rowLengthM }) => rowLengthM ?? 5.3),
    rowsCounted: column(({ rowsCounted }) => rowsCounted ?? 1),
    rowUnit: Int16Array.from(counts, ({ rowUnit }) => rowUnit ?? 0),
    lateShare: column(() => Number.NaN),
    leafStagesBehind: column(() => Number.NaN),
    method: counts.map(() => null),
  };
  field.standCounts = standCounts;
  return {
    count: counts.length,
    source: Int32Array.from(counts.keys()),
    x: standCounts.x,
    y: standCounts.y,
  } as Partial<Spots> as Spots;
}
