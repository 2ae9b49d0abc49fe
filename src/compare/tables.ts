/** The comparison tables: pass by soil zone, row unit by soil zone, soil zone, each variable of the log. */
import type { Field } from "../field/field.ts";
import { LOG_VARIABLES, PLANTING_VARIABLES } from "../field/variables.ts";
import type { Passes } from "../passes/passes.ts";
import { groupBy } from "../passes/record-groups.ts";
import type { ComparisonRow } from "./comparison.ts";
import { depthSteps } from "./depth-spread.ts";
import { groupFigures } from "./group-figures.ts";
import {
  type Difference,
  differencesOfPasses,
  LEVEL,
  NO_DIFFERENCE,
  type PassMean,
  passMean,
} from "./pass-difference.ts";
import { departuresFromOthers, differenceOfRowUnit } from "./row-unit-difference.ts";
import { targetLimits } from "./target-limits.ts";

/** One table: which row each record belongs to, and what the rows stand for. */
interface Grouping {
  kind: "zone" | "pass" | "row-unit";
  rows: { pass: number | null; zone: number | null; rowUnit: number | null }[];
  /** Records of each row in order of planting. */
  start: Int32Array;
  records: Int32Array;
}

/**
 * Builds all rows. Every record with a value counts unless `working` is 0; pass rows need a record to be on a
 * pass, zone rows to be in a zone. Rows, in this order for each variable: soil zone over all; pass over all zones
 * (soil zone null), then pass by soil zone; row unit over all, then row unit by soil zone. A row without a
 * value is left away.
 *
 * Differences at the level 0.95: a pass against the other passes of its zone (see {@link differencesOfPasses}),
 * a row unit against the other units at the same moments (see {@link differenceOfRowUnit}); soil-zone rows have none.
 */
export function compareAll(field: Field, passes: Passes, zoneOfRecord: Int32Array): ComparisonRow[] {
  const { log } = field;
  const zones = field.soilZones?.names ?? [];
  const planted = plantedRecords(field);
  const order = groupBy(passes.instantOf, passes.instantCount).records;
  const groupings = groupingsOf(passes, zoneOfRecord, zones.length, planted, order);
  const work = new Float64Array(log.recordCount);
  const rows: ComparisonRow[] = [];
  for (const variable of PLANTING_VARIABLES) {
    const values = log.values[variable];
    if (!values) continue;
    const limits = targetLimits(field, variable);
    const departures = passes.rowUnitCount > 0 ? departuresFromOthers(values, planted, passes) : null;
    for (const grouping of groupings) {
      const differences = differencesOf(grouping, values, departures, passes);
      const spreads = spreadsAlongRow(field, variable, grouping, passes);
      grouping.rows.forEach((row, index) => {
        const records = recordsOf(grouping, index);
        const figures = groupFigures(variable, values, records, passes, limits, work);
        if (!figures) return;
        rows.push({
          pass: row.pass,
          soilZone: row.zone === null ? null : zones[row.zone]!,
          rowUnit: row.rowUnit,
          variable,
          unit: LOG_VARIABLES[variable].unit,
          ...figures,
          ...differences[index]!,
          level: LEVEL,
          spreadAlongRow: spreads[index]!,
          headland: row.pass === null ? null : passes.passes[row.pass - 1]!.headland,
        });
      });
    }
  }
  return rows;
}

/** 1 for records that count: all but those with `working` 0. */
export function plantedRecords(field: Field): Uint8Array {
  const working = field.log.values.working;
  return Uint8Array.from({ length: field.log.recordCount }, (_, record) => (working?.[record] === 0 ? 0 : 1));
}

function recordsOf(grouping: Grouping, row: number): Int32Array {
  return grouping.records.subarray(grouping.start[row]!, grouping.start[row + 1]!);
}

function groupingsOf(
  passes: Passes,
  zoneOfRecord: Int32Array,
  zoneCount: number,
  planted: Uint8Array,
  order: Int32Array,
): Grouping[] {
  const zone = (record: number): number => zoneOfRecord[record]!;
  const pass = (record: number): number => passes.passOf[record]! - 1;
  const unit = (record: number): number => passes.rowUnitOf[record]! - 1;
  const everywhere = (): number => 0;
  const group = (
    kind: Grouping["kind"],
    outer: (record: number) => number,
    outerCount: number,
    inner: (record: number) => number,
    innerCount: number,
    row: (outer: number, inner: number) => Grouping["rows"][number],
  ): Grouping => {
    // Group of the record at each place of the order of planting, so that groups come out in that order.
    const label = Int32Array.from(order, (record) =>
      planted[record] === 1 && outer(record) >= 0 && inner(record) >= 0
        ? outer(record) * innerCount + inner(record)
        : -1,
    );
    const { start, records } = groupBy(label, outerCount * innerCount);
    return {
      kind,
      rows: Array.from({ length: outerCount * innerCount }, (_, index) =>
        row(Math.floor(index / innerCount), index % innerCount),
      ),
      start,
      records: records.map((place) => order[place]!),
    };
  };
  const { rowUnitCount } = passes;
  const passCount = passes.passes.length;
  return [
    group("zone", zone, zoneCount, everywhere, 1, (z) => ({ pass: null, zone: z, rowUnit: null })),
    group("pass", everywhere, 1, pass, passCount, (_, p) => ({ pass: p + 1, zone: null, rowUnit: null })),
    group("pass", zone, zoneCount, pass, passCount, (z, p) => ({ pass: p + 1, zone: z, rowUnit: null })),
    group("row-unit", everywhere, 1, unit, rowUnitCount, (_, u) => ({
      pass: null,
      zone: null,
      rowUnit: u + 1,
    })),
    group("row-unit", zone, zoneCount, unit, rowUnitCount, (z, u) => ({
      pass: null,
      zone: z,
      rowUnit: u + 1,
    })),
  ];
}

/** Fewer steps along the row than this say nothing of its spread. */
const FEWEST_STEPS = 4;

/** SD of depth along the row for each row of a table, mm; null for other variables and where it cannot be told. */
function spreadsAlongRow(
  field: Field,
  variable: ComparisonRow["variable"],
  grouping: Grouping,
  passes: Passes,
): (number | null)[] {
  const nothing = grouping.rows.map(() => null);
  if (variable !== "seedingDepth" || field.log.depthSource === "set") return nothing;
  const labelOf = new Int32Array(field.log.recordCount).fill(-1);
  grouping.rows.forEach((_, row) => {
    for (const record of recordsOf(grouping, row)) labelOf[record] = row;
  });
  const { halfSquares, steps } = depthSteps(field.log.values.seedingDepth!, labelOf, passes, nothing.length);
  return nothing.map((_, row) =>
    steps[row]! >= FEWEST_STEPS ? Math.sqrt(halfSquares[row]! / steps[row]!) : null,
  );
}

/** Differences of all rows of a table, null figures where it has none. */
function differencesOf(
  grouping: Grouping,
  values: Float64Array,
  departures: Float64Array | null,
  passes: Passes,
): Difference[] {
  const all: Difference[] = grouping.rows.map(() => NO_DIFFERENCE);
  if (grouping.kind === "row-unit" && departures) {
    return all.map((_, row) => differenceOfRowUnit(departures, recordsOf(grouping, row), passes));
  }
  if (grouping.kind !== "pass") return all;
  const byZone = new Map<number | null, { row: number; mean: PassMean }[]>();
  grouping.rows.forEach(({ zone }, row) => {
    const mean = passMean(values, recordsOf(grouping, row), passes);
    if (!mean) return;
    const list = byZone.get(zone) ?? [];
    list.push({ row, mean });
    byZone.set(zone, list);
  });
  for (const list of byZone.values()) {
    const differences = differencesOfPasses(list.map(({ mean }) => mean));
    list.forEach(({ row }, place) => {
      all[row] = differences[place]!;
    });
  }
  return all;
}
