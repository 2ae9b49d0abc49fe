/** Last year's figures, from the findings of an analysis. */
import { findingsInText } from "../findings/read-findings.ts";
import type { Field } from "../vocabulary/field.ts";
import { CHECK_VARIABLES, type LastYear } from "./check-result.ts";

/**
 * Means over all passes, weighed by their records, and the rows that departed.
 * @param file name for messages
 * @throws {FileUnusableError} where the text is not a findings.json of this program
 */
export function lastYearOf(text: string, file: string): LastYear {
  const document = findingsInText(text, file);
  const means: LastYear["means"] = {};
  for (const variable of CHECK_VARIABLES) {
    const rows = document.comparison.filter(
      (row) =>
        row.variable === variable &&
        row.pass !== null &&
        row.soilZone === null &&
        row.rowUnit === null &&
        row.records > 0 &&
        Number.isFinite(row.mean),
    );
    const records = rows.reduce((sum, row) => sum + row.records, 0);
    if (records > 0) means[variable] = rows.reduce((sum, row) => sum + row.mean * row.records, 0) / records;
  }
  return {
    field: String(document.field.name),
    season: typeof document.field.season === "number" ? document.field.season : null,
    crop: String(document.field.crop),
    means,
    rows: (document.summary.departingRows ?? []).map(({ rowUnits, variable }) => ({ rowUnits, variable })),
  };
}

/** Why last year's figures may say nothing of this log: they are of another field, another crop, or of this very season. */
export function lastYearDoubts(
  lastYear: LastYear,
  { name, crop, season }: Pick<Field, "name" | "crop" | "season">,
): string[] {
  const doubts: string[] = [];
  const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();
  if (!same(lastYear.field, name))
    doubts.push(`they are of "${lastYear.field}", this log is called "${name}"`);
  if (lastYear.crop !== crop) doubts.push(`they are of ${lastYear.crop}, this is taken for ${crop}`);
  if (season !== null && lastYear.season !== null && lastYear.season >= season)
    doubts.push(`they are of ${lastYear.season}, which is not before ${season}`);
  return doubts;
}
