/** Row unit by pass: the finest table, too long for the findings document; made on demand. */
import { mean, standardDeviation } from "../../numerics/descriptive.ts";
import type { Passes } from "../../passes/passes.ts";
import { groupBy } from "../../passes/record-groups.ts";
import type { Field } from "../../vocabulary/field.ts";
import { LOG_VARIABLES, PLANTING_VARIABLES } from "../../vocabulary/variables.ts";
import type { ComparisonRow } from "./comparison.ts";
import { plantedRecords } from "./planted-records.ts";
import { departuresFromOthers } from "./row-unit-difference.ts";

/** One row unit on one pass in one variable. */
export interface RowUnitPassRow
  extends Pick<ComparisonRow, "variable" | "unit" | "records" | "mean" | "sd" | "difference"> {
  pass: number;
  rowUnit: number;
}

/**
 * Rows by variable, pass and row unit; one without a value is left away. `difference` is the mean of the record's value
 * less the mean of the other row units at the same moment, null where no other one reported. Empty for logs without
 * row-unit records.
 */
export function rowUnitsByPass(field: Field, passes: Passes): RowUnitPassRow[] {
  const { rowUnitCount } = passes;
  if (rowUnitCount === 0) return [];
  const planted = plantedRecords(field);
  const label = passes.passOf.map((pass, record) =>
    planted[record] === 1 && pass > 0 && passes.rowUnitOf[record]! > 0
      ? (pass - 1) * rowUnitCount + passes.rowUnitOf[record]! - 1
      : -1,
  );
  const groupCount = passes.passes.length * rowUnitCount;
  const groups = groupBy(label, groupCount);
  const rows: RowUnitPassRow[] = [];
  for (const variable of PLANTING_VARIABLES) {
    const values = field.log.values[variable];
    if (!values) continue;
    const departures = departuresFromOthers(values, planted, passes);
    for (let group = 0; group < groupCount; group++) {
      const records = groups.records.subarray(groups.start[group]!, groups.start[group + 1]!);
      const own = Float64Array.from(records, (record) => values[record]!).filter(
        (value) => !Number.isNaN(value),
      );
      if (own.length === 0) continue;
      const off = Float64Array.from(records, (record) => departures[record]!).filter(
        (value) => !Number.isNaN(value),
      );
      rows.push({
        variable,
        unit: LOG_VARIABLES[variable].unit,
        pass: Math.floor(group / rowUnitCount) + 1,
        rowUnit: (group % rowUnitCount) + 1,
        records: own.length,
        mean: mean(own),
        sd: own.length > 1 ? standardDeviation(own) : null,
        difference: off.length > 0 ? mean(off) : null,
      });
    }
  }
  return rows;
}
