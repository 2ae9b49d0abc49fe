/** The comparison tables: pass by soil zone, row unit by soil zone, soil zone, each variable of the log. */
import { ValueBins } from "../../numerics/value-bins.ts";
import type { Passes } from "../../passes/passes.ts";
import type { Field } from "../../vocabulary/field.ts";
import { LOG_VARIABLES, PLANTING_VARIABLES } from "../../vocabulary/variables.ts";
import { accelerations } from "../acceleration.ts";
import { halfSquaredSteps } from "../depth-spread.ts";
import type { ComparisonRow } from "./comparison.ts";
import { groupFigures } from "./group-figures.ts";
import { layOut, layOutWhole } from "./ordered-records.ts";
import { type Difference, LEVEL, NO_DIFFERENCE } from "./pass-difference.ts";
import { type RunSums, sumRuns, sumsOf } from "./run-sums.ts";
import { PassDifferences, rowUnitDifferences } from "./table-differences.ts";
import { type Layout, type TableRow, tableLayout } from "./table-layout.ts";
import { type TargetLimits, targetLimits } from "./target-limits.ts";

/**
 * Builds all rows. Every record with a value counts unless `working` is 0; pass rows need a record to be on a
 * pass, zone rows to be in a zone. Rows, in this order for each variable: soil zone over all; pass over all zones
 * (soil zone null), then pass by soil zone; row unit over all, then row unit by soil zone. A row without a
 * value is left away.
 *
 * Differences at the level 0.95: a pass against the other passes of its zone (see `differencesOfPasses`),
 * a row unit against the other units at the same moments (see `differenceOfRowUnit`); soil-zone rows have none.
 */
export function compareAll(field: Field, passes: Passes, zoneOfRecord: Int32Array): ComparisonRow[] {
  const { log } = field;
  const names = field.soilZones?.names ?? [];
  const layout = tableLayout(field, passes, zoneOfRecord);
  const { byPass, byRowUnit } = layout;
  const passDifferences = new PassDifferences(layout, passes);
  const rows: ComparisonRow[] = [];
  for (const [variable, values, unit] of measuresOf(field, passes)) {
    const column: Column = {
      values,
      bins: new ValueBins(values),
      limits: targetLimits(field, variable),
      isLoad: variable === "downForceMargin",
      halfSquares:
        variable === "seedingDepth" && log.depthSource !== "set" ? halfSquaredSteps(values, passes) : null,
    };
    const put = (table: Table, groups: readonly TableRow[], differences: readonly Difference[]): void => {
      groups.forEach(({ pass, zone, rowUnit, runs, stretches }, index) => {
        const order = column.bins.figures(table.values, table.codes, stretches);
        if (!order) return;
        rows.push({
          pass,
          soilZone: zone === null ? null : names[zone]!,
          rowUnit,
          variable,
          unit,
          ...groupFigures(variable, sumsOf(table.sums, runs), order),
          ...(differences[index] ?? NO_DIFFERENCE),
          level: LEVEL,
          headland: pass === null ? null : passes.passes[pass - 1]!.headland,
        });
      });
    };
    const ofPasses = tableOf(column, byPass);
    const betweenPasses = passDifferences.of(values, ofPasses.sums);
    put(ofPasses, byPass.zones, []);
    put(ofPasses, byPass.passes, betweenPasses.passes);
    put(ofPasses, byPass.passesByZone, betweenPasses.passesByZone);
    if (byRowUnit.rowUnits.length === 0) continue;
    const ofUnits = tableOf(column, byRowUnit);
    const betweenUnits = rowUnitDifferences(layout, ofUnits.values, values, passes);
    put(ofUnits, byRowUnit.rowUnits, betweenUnits.rowUnits);
    put(ofUnits, byRowUnit.rowUnitsByZone, betweenUnits.rowUnitsByZone);
  }
  return rows;
}

/** What is compared: the planting variables of the log, and the acceleration after the speed it comes from. */
function measuresOf(
  field: Field,
  passes: Passes,
): (readonly [variable: ComparisonRow["variable"], values: Float64Array, unit: string])[] {
  const ofLog = PLANTING_VARIABLES.flatMap((variable) => {
    const values = field.log.values[variable];
    return values ? [[variable, values, LOG_VARIABLES[variable].unit] as const] : [];
  });
  const acceleration = accelerations(field, passes);
  return acceleration ? [...ofLog, ["acceleration", acceleration, "m/s2"]] : ofLog;
}

/** A variable of the log: one entry a record. */
interface Column {
  values: Float64Array;
  bins: ValueBins;
  limits: TargetLimits | null;
  isLoad: boolean;
  halfSquares: Float64Array | null;
}

/** The same as laid out for some tables. */
interface Table {
  values: Float64Array;
  codes: Uint16Array;
  sums: RunSums;
}

/** Lays a column out in the room that the layout has for it. */
function tableOf(column: Column, { ordered, areaM2, room }: Layout): Table {
  const { limits } = column;
  const values = layOut(column.values, ordered, room.values);
  const own = (of: Float64Array): Float64Array => layOut(of, ordered, new Float64Array(values.length));
  const sums = sumRuns(ordered, {
    values,
    limits:
      limits && (limits.step === 0 ? limits : { low: own(limits.low), high: own(limits.high), step: 1 }),
    areaM2,
    isLoad: column.isLoad,
    halfSquares: column.halfSquares && own(column.halfSquares),
  });
  return { values, codes: layOutWhole(column.bins.codes, ordered, room.codes), sums };
}
