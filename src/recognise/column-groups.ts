/** Columns taken together: one column, or one column per row unit ("Depth_1" to "Depth_24"). */
import { ManifestError } from "../errors.ts";
import type { RawColumn, RawLayer } from "../ingest/layer.ts";
import type { ColumnChoice } from "../manifest/manifest-schema.ts";
import { nearestWord } from "../numerics/nearest-name.ts";

export interface ColumnGroup {
  /** One column, or one per row unit from the left. */
  columns: RawColumn[];
  /** Name for messages: the column's, or "Depth_1 … Depth_24". */
  label: string;
  /** Name without the number of the row unit, for recognition. */
  stem: string;
}

/** Fewer numbered columns than this are not taken as row units unless the bar has just as many. */
const FEWEST_ROW_UNITS = 4;

/** Rows counted side by side are fewer than row units. */
const FEWEST_ROWS_COUNTED = 2;

/** Groups the columns of a layer, in the order of their first column. */
export function groupColumns(
  layer: RawLayer,
  { role, rowUnits = null }: { role: string; rowUnits?: number | null },
): ColumnGroup[] {
  const fewest = role === "standCounts" ? FEWEST_ROWS_COUNTED : FEWEST_ROW_UNITS;
  const families = new Map<string, Map<number, RawColumn>>();
  for (const column of layer.columns) {
    const parts = numberedName(column.name);
    if (!parts) continue;
    const family = families.get(parts.template) ?? new Map<number, RawColumn>();
    if (!family.has(parts.number)) family.set(parts.number, column);
    families.set(parts.template, family);
  }
  const taken = new Map<RawColumn, ColumnGroup>();
  for (const [template, family] of families) {
    const columns = Array.from({ length: family.size }, (_, index) => family.get(index + 1));
    if (columns.some((column) => column === undefined)) continue;
    if (family.size < fewest && family.size !== rowUnits) continue;
    const group = groupOf(columns as RawColumn[], template.replace("#", " ").trim());
    for (const column of group.columns) taken.set(column, group);
  }
  const groups = layer.columns.map((column) => taken.get(column) ?? groupOf([column], column.name));
  return [...new Set(groups)];
}

function numberedName(name: string): { template: string; number: number } | null {
  const runs = name.match(/\d+/g);
  if (runs?.length !== 1) return null;
  return { template: name.replace(/\d+/, "#"), number: Number(runs[0]) };
}

function groupOf(columns: RawColumn[], stem: string): ColumnGroup {
  const first = columns[0]!.name;
  const label = columns.length === 1 ? first : `${first} … ${columns.at(-1)!.name}`;
  return { columns, label, stem };
}

/** A choice of the manifest in one form. */
export interface ChosenColumns {
  group: ColumnGroup;
  unit: string | null;
  source: "set" | "sensed" | "dug" | null;
}

/**
 * Finds the columns a manifest names for a variable; null where it says that no column is it.
 * @throws {ManifestError} for a column the file does not have; the nearest name is given.
 */
export function chosenColumns(layer: RawLayer, choice: ColumnChoice, field: string): ChosenColumns | null {
  if (choice === null) return null;
  const object = typeof choice === "string" || Array.isArray(choice) ? { column: choice } : choice;
  const names = typeof object.column === "string" ? [object.column] : object.column;
  const columns = names.map((name) => columnNamed(layer, name, field));
  const whole = { unit: null, source: null, ...definedOnly(object) };
  return { group: groupOf(columns, columns[0]!.name), unit: whole.unit, source: whole.source };
}

function definedOnly(object: { unit?: string | undefined; source?: "set" | "sensed" | "dug" | undefined }) {
  return {
    ...(object.unit ? { unit: object.unit } : {}),
    ...(object.source ? { source: object.source } : {}),
  };
}

/**
 * The column of that name.
 * @throws {ManifestError} when the file has none; the nearest name is given.
 */
function columnNamed(layer: RawLayer, name: string, field: string): RawColumn {
  const column = layer.columns.find((one) => one.name === name);
  if (column) return column;
  const names = layer.columns.map((one) => one.name);
  const nearest = nearestWord(name, names);
  throw new ManifestError(
    `${field} names the column "${name}", which ${layer.file} does not have; ${
      nearest === null
        ? "the file has no columns"
        : `the nearest is "${nearest}" (its columns: ${names.join(", ")})`
    }`,
    { file: layer.file, field, value: name, accepted: names.join(", ") },
  );
}
