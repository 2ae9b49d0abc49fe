/** What was counted at each spot, and on how much ground. */
import type { LayerReading } from "../recognise/layer-reading.ts";
import { groundInName } from "../recognise/units/ground-in-name.ts";
import type { PlanterSetup } from "../vocabulary/field.ts";

export interface CountedGround {
  /** Plants counted, all rows together; null where the file has none. */
  plants: Float64Array | null;
  latePlants: Float64Array | null;
  /** Length of row, m, and rows side by side; NaN where not known. */
  rowLengthM: Float64Array;
  rowsCounted: Float64Array;
  /** Ground counted, m2; NaN where not known. */
  areaM2: Float64Array;
}

/**
 * Reads plants and ground of the placed records. Counts with one column per row are added up, and the rows with a
 * count are the rows counted; a name such as "plants per 17'5\"" gives the length. The ground is row length x rows x
 * row spacing, or the hoop's circle.
 */
export function countedGround(
  reading: LayerReading,
  placed: Int32Array,
  planter: PlanterSetup,
): CountedGround {
  const unknown = () => new Float64Array(placed.length).fill(Number.NaN);
  const plants = sumOf(reading, "plants", placed);
  const named = groundInName(reading.found("plants")?.group.label ?? "");
  const length = withDefault(reading.numbers("rowLength", placed), named?.rowLengthM ?? null, placed.length);
  const rows = reading.numbers("rowsCounted", placed) ?? plants?.parts ?? null;
  const spacing = reading.numbers("rowSpacing", placed);
  const diameter = reading.numbers("hoopDiameter", placed);
  let assumed = 0;
  const spacingAt = (index: number) => {
    const own = spacing?.[index] ?? Number.NaN;
    return Number.isNaN(own) ? (planter.rowSpacingM ?? Number.NaN) : own;
  };
  const rowsAt = (index: number) => {
    const side = rows?.[index] ?? Number.NaN;
    return Number.isNaN(side) ? 1 : side;
  };
  const areaM2 = Float64Array.from(placed, (_, index) => {
    const hoop = diameter?.[index] ?? Number.NaN;
    if (hoop > 0) return (Math.PI / 4) * hoop * hoop;
    if (named && named.areaM2 !== null) return named.areaM2 * rowsAt(index);
    if (length && Number.isNaN(spacing?.[index] ?? Number.NaN)) assumed += 1;
    return (length?.[index] ?? Number.NaN) * rowsAt(index) * spacingAt(index);
  });
  if (assumed > 0 && planter.rowSpacingM !== null) {
    reading.notes.add({
      reason: `no row spacing at the spot; planter.rowSpacing of the manifest is taken (${planter.rowSpacingM.toFixed(3)} m)`,
      effect: "assumed",
      count: assumed,
    });
  }
  const byArea = named?.areaM2 ?? null;
  return {
    plants: plants?.total ?? null,
    latePlants: sumOf(reading, "latePlants", placed)?.total ?? null,
    rowLengthM:
      byArea === null ? (length ?? unknown()) : unknown().map((_, index) => byArea / spacingAt(index)),
    rowsCounted: rows ?? (length || byArea !== null ? unknown().fill(1) : unknown()),
    areaM2,
  };
}

/** Values with a default where they are missing; null where there is neither. */
function withDefault(values: Float64Array | null, usual: number | null, count: number): Float64Array | null {
  if (usual === null) return values;
  return values?.map((value) => (Number.isNaN(value) ? usual : value)) ?? new Float64Array(count).fill(usual);
}

/** The sum over the columns of a variable, and how many of them have a value; `parts` is null for one column. */
function sumOf(
  reading: LayerReading,
  variable: string,
  placed: Int32Array,
): { total: Float64Array; parts: Float64Array | null } | null {
  const columns = reading.found(variable)?.numbers.length ?? 0;
  const first = reading.numbers(variable, placed);
  if (!first || columns <= 1) return first ? { total: first, parts: null } : null;
  const total = new Float64Array(placed.length).fill(Number.NaN);
  const parts = new Float64Array(placed.length).fill(Number.NaN);
  for (let column = 0; column < columns; column++) {
    for (const [index, value] of reading.numbers(variable, placed, column)!.entries()) {
      if (Number.isNaN(value)) continue;
      total[index] = (total[index] || 0) + value;
      parts[index] = (parts[index] || 0) + 1;
    }
  }
  return { total, parts };
}
