/** Degrees without a sign whose hemisphere stands in a column of its own: "N" or "S", "E" or "W". */
import type { NumberColumn, RawColumn, TextColumn } from "../layer.ts";
import type { NoteBook } from "../note-book.ts";

interface Axis {
  /** Names of the column, letters only, lower case. */
  name: RegExp;
  /** 1 or -1 by the cell's text, lower case. */
  signs: Readonly<Record<string, 1 | -1>>;
}

const LONGITUDE: Axis = {
  name: /^(?:(?:lon|lng|long|longitude)(?:hemisphere|hemi|dir|direction|ref|ew)|ew(?:hemisphere|hemi|indicator|ind)?|eastwest)$/,
  signs: { e: 1, east: 1, w: -1, west: -1 },
};
const LATITUDE: Axis = {
  name: /^(?:(?:lat|latitude)(?:hemisphere|hemi|dir|direction|ref|ns)|ns(?:hemisphere|hemi|indicator|ind)?|northsouth)$/,
  signs: { n: 1, north: 1, s: -1, south: -1 },
};

/** Gives the positions the sign that a column of hemispheres says, and notes it; a sign that stands there already is kept. */
export function signByHemisphere(
  position: { x: NumberColumn; y: NumberColumn },
  columns: readonly RawColumn[],
  notes: NoteBook,
): { x: NumberColumn; y: NumberColumn } {
  return {
    x: signed(position.x, LONGITUDE, columns, notes),
    y: signed(position.y, LATITUDE, columns, notes),
  };
}

function signed(
  degrees: NumberColumn,
  axis: Axis,
  columns: readonly RawColumn[],
  notes: NoteBook,
): NumberColumn {
  const column = columns.find((one): one is TextColumn => one.kind === "text" && isHemisphere(one, axis));
  if (!column) return degrees;
  const signs = column.labels.map((label) => axis.signs[label.trim().toLowerCase()]!);
  let turned = 0;
  const values = degrees.values.map((value, record) => {
    const code = column.codes[record]!;
    if (!(value > 0) || code < 0 || signs[code] === 1) return value;
    turned++;
    return -value;
  });
  if (turned === 0) return degrees;
  notes.add({
    reason: `has no sign; the column "${column.name}" says south or west, so it is counted below 0`,
    effect: "converted",
    field: degrees.name,
    count: turned,
  });
  return { ...degrees, values };
}

function isHemisphere({ name, labels }: TextColumn, axis: Axis): boolean {
  const letters = name.toLowerCase().replaceAll(/[^a-z]/g, "");
  return (
    axis.name.test(letters) &&
    labels.length > 0 &&
    labels.every((label) => Object.hasOwn(axis.signs, label.trim().toLowerCase()))
  );
}
