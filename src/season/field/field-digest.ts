/**
 * What is kept in memory of each field while a season is put together: everything that the season's sentences, tests and
 * sums need, and nothing that only the tables list. A field's extract takes tens of kilobytes, its digest a tenth of that.
 */

import { type FieldDriving, fieldDriving } from "./field-driving.ts";
import type { ExtractedFinding, ExtractedUnit, FieldExtract } from "./field-extract.ts";
import { type LotDifference, lotDifferences } from "./lot-differences.ts";
import { type PrescribedZone, prescribedZones } from "./prescribed-zones.ts";
import { type SoilDifference, soilDifferences } from "./soil-differences.ts";
import { UNIT_VARIABLES, type UnitVariable } from "./unit-variables.ts";

type KeptOfExtract =
  | "name"
  | "season"
  | "planted"
  | "areaHa"
  | "sentence"
  | "money"
  | "rowUnits"
  | "machines"
  | "wanted"
  | "outline";

export type DigestedFinding = Pick<
  ExtractedFinding,
  "kind" | "cause" | "basis" | "title" | "areaHa" | "rowUnits" | "money"
>;

export interface FieldDigest extends Pick<FieldExtract, KeptOfExtract> {
  findings: DigestedFinding[];
  units: UnitColumns;
  driving: FieldDriving;
  soils: SoilDifference[];
  lots: LotDifference[];
  prescribed: PrescribedZone[];
}

/** Departures of the row units ({@link ExtractedUnit}) as columns, an entry each. */
export interface UnitColumns {
  /** Index into `UNIT_VARIABLES`. */
  variable: Uint8Array;
  rowUnit: Uint16Array;
  departure: Float64Array;
  /** NaN where it is not known. */
  variance: Float64Array;
}

export function digestField(extract: FieldExtract): FieldDigest {
  const { name, season, planted, areaHa, sentence, money, rowUnits, machines, wanted, outline } = extract;
  return {
    ...{ name, season, planted, areaHa, sentence, money, rowUnits, machines, wanted, outline },
    findings: extract.findings.map((finding) => {
      const { kind, cause, basis, title, money: loss } = finding;
      return { kind, cause, basis, title, areaHa: finding.areaHa, rowUnits: finding.rowUnits, money: loss };
    }),
    units: columnsOf(extract.units),
    driving: fieldDriving(extract),
    soils: soilDifferences(extract),
    lots: lotDifferences(extract),
    prescribed: prescribedZones(extract),
  };
}

function columnsOf(units: readonly ExtractedUnit[]): UnitColumns {
  const columns: UnitColumns = {
    variable: new Uint8Array(units.length),
    rowUnit: new Uint16Array(units.length),
    departure: new Float64Array(units.length),
    variance: new Float64Array(units.length),
  };
  units.forEach(({ variable, rowUnit, departure, variance }, k) => {
    columns.variable[k] = UNIT_VARIABLES.indexOf(variable);
    columns.rowUnit[k] = rowUnit;
    columns.departure[k] = departure;
    columns.variance[k] = variance ?? Number.NaN;
  });
  return columns;
}

export interface UnitEntry {
  rowUnit: number;
  departure: number;
  variance: number;
}

/** The units of one variable whose error is known. */
export function unitsOfVariable(
  { variable, rowUnit, departure, variance }: UnitColumns,
  wanted: UnitVariable,
): UnitEntry[] {
  const code = UNIT_VARIABLES.indexOf(wanted);
  const entries: UnitEntry[] = [];
  for (let k = 0; k < variable.length; k++) {
    if (variable[k] !== code || Number.isNaN(variance[k])) continue;
    entries.push({ rowUnit: rowUnit[k]!, departure: departure[k]!, variance: variance[k]! });
  }
  return entries;
}
