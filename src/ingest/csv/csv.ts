/** CSV files to layers: a header row, columns of numbers or text, positions found by the column names. */
import { FileUnusableError } from "../../errors.ts";
import { ColumnBuilder } from "../column-builder.ts";
import { type ByteSource, wholeOf } from "../containers/byte-window.ts";
import { WGS84_DEFINITION } from "../crs/crs.ts";
import { crsFromExtent, crsFromManifest } from "../crs/crs-recognition.ts";
import { GeometryStore } from "../geometry-store.ts";
import type { RawColumn, RawLayer } from "../layer.ts";
import { MOST_COLUMNS } from "../most-columns.ts";
import { NoteBook } from "../note-book.ts";
import type { ReadOptions } from "../read-options.ts";
import { emptyLayer } from "../refusals.ts";
import { settleGeometry } from "../settle.ts";
import { uniqueName } from "../shapefile/dbf-header.ts";
import { numberOfText } from "../values/decimal-text.ts";
import { type Delimiter, eachRow, findDelimiter } from "./delimited-text.ts";
import { signByHemisphere } from "./hemispheres.ts";

/** Pairs of normalised names (letters only, lower case), tried in this order. */
const POSITION_NAMES: readonly { x: RegExp; y: RegExp; degrees: boolean }[] = [
  {
    x: /^(?:lon|lng|long|longitude)(?:deg|degrees|wgs)?$/,
    y: /^(?:lat|latitude)(?:deg|degrees|wgs)?$/,
    degrees: true,
  },
  { x: /^easting(?:m|metres|meters)?$/, y: /^northing(?:m|metres|meters)?$/, degrees: false },
  { x: /^x(?:coord|coordinate)?$/, y: /^y(?:coord|coordinate)?$/, degrees: false },
];
const ACCEPTED_POSITIONS =
  "columns named longitude and latitude (or lon/lat, lng/lat, easting/northing, x/y)";

/** Room for records before the columns first grow. */
const FIRST_CAPACITY = 1024;

/** Cells that mean "no value"; common practice, no source. */
const MISSING = /^(?:|n\/?a|#n\/a|nan|null)$/i;
const DECIMAL_COMMA = /^[-+]?\d+,\d+$/;
const THOUSANDS = /^[-+]?\d{1,3}(?:,\d{3})+(?:\.\d+)?$/;

/**
 * Reads delimited text: comma, semicolon or tab; a byte order mark is passed over; with semicolon or tab a
 * comma may be the decimal sign.
 * @throws {FileUnusableError} when there is no header, no row, or no position where one is needed.
 */
export async function readCsv(source: ByteSource, file: string, options: ReadOptions): Promise<RawLayer> {
  const notes = new NoteBook();
  const text = decodeText(wholeOf(source), file, notes);
  const { columns: builders, rowCount } = readCells(text, file, notes);
  if (rowCount === 0 && options.expect !== "anything") throw emptyLayer(file, options.role);
  const columns = builders.map((builder) => builder.finish(rowCount, notes, false));
  const found = options.expect === "table" ? null : findPositions(columns, file, options);
  const position = found?.degrees ? { ...found, ...signByHemisphere(found, columns, notes) } : found;
  const store = new GeometryStore(rowCount);
  if (position) {
    for (let record = 0; record < rowCount; record++) {
      const x = position.x.values[record]!;
      const y = position.y.values[record]!;
      if (!Number.isNaN(x) || !Number.isNaN(y)) store.setPoint(record, x, y);
    }
  }
  store.finish(rowCount);
  const settled = settleGeometry(store, {
    file,
    role: options.role,
    expect: options.expect,
    notes,
    fileRecord: null,
    noteWinding: true,
    crsOf: (extent) => {
      if (options.crs !== undefined) return crsFromManifest(options.crs, file);
      if (!position?.degrees) return crsFromExtent(extent, file, notes, options.near);
      return { basis: "file", name: "WGS 84, degrees (by the column names)", definition: WGS84_DEFINITION };
    },
  });
  return { file, recordCount: rowCount, ...settled, columns, notes: notes.notes() };
}

/** JavaScript texts cannot be longer; in bytes, for text of one byte a letter. */
const LONGEST_TEXT_BYTES = 2 ** 29 - 32;

function decodeText(bytes: Uint8Array, file: string, notes: NoteBook): string {
  if (bytes.length > LONGEST_TEXT_BYTES) {
    const accepted = `delimited text of up to ${LONGEST_TEXT_BYTES} bytes, or the same as a shapefile or GeoJSON`;
    const value = `${bytes.length} bytes`;
    throw new FileUnusableError(`${file}: holds ${value} of text; accepted is ${accepted}`, {
      file,
      value,
      accepted,
    });
  }
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  const start = bytes.subarray(0, 4096);
  const zeros = start.reduce((count, byte) => count + (byte === 0 ? 1 : 0), 0);
  // One in a thousand may be a slip; more are no text.
  if (zeros > start.length / 1000) {
    const accepted = "delimited text in UTF-8";
    throw new FileUnusableError(`${file}: holds NUL bytes, so it is no plain text; accepted is ${accepted}`, {
      file,
      value: "NUL byte",
      accepted,
    });
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    notes.add({ reason: "the text is not UTF-8; it is read as windows-1252", effect: "assumed" });
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

function tooManyColumns(file: string): FileUnusableError {
  const accepted = `a header of at most ${MOST_COLUMNS} columns`;
  return new FileUnusableError(
    `${file}: its header names more than ${MOST_COLUMNS} columns; accepted is ${accepted}`,
    {
      file,
      field: "header",
      value: `more than ${MOST_COLUMNS} columns`,
      accepted,
    },
  );
}

function readCells(
  text: string,
  file: string,
  notes: NoteBook,
): { columns: ColumnBuilder[]; rowCount: number } {
  const delimiter = findDelimiter(text);
  const columns: ColumnBuilder[] = [];
  let rowCount = 0;
  const strayQuotes = eachRow(text, delimiter, (cells, rowNumber) => {
    if (rowNumber === 1) {
      if (cells.length > MOST_COLUMNS) throw tooManyColumns(file);
      const taken = new Set<string>();
      for (const [index, cell] of cells.entries()) {
        const name = uniqueName(cell === "" ? `column ${index + 1}` : cell, taken, notes);
        columns.push(new ColumnBuilder(name, FIRST_CAPACITY));
      }
      return;
    }
    const record = rowCount++;
    if (cells.length !== columns.length) noteWidth(cells, columns.length, record, notes);
    const filled = Math.min(cells.length, columns.length);
    for (let index = 0; index < filled; index++)
      setCell(columns[index]!, record, cells[index]!, delimiter, notes);
  });
  if (strayQuotes > 0) {
    notes.add({
      reason: 'a " at the beginning of a cell is not closed in its row; it is passed over',
      effect: "kept",
      count: strayQuotes,
    });
  }
  if (columns.length === 0) {
    const accepted = "a header row of column names, then one row a record";
    throw new FileUnusableError(`${file}: has no header row; accepted is ${accepted}`, {
      file,
      field: "header",
      value: "nothing",
      accepted,
    });
  }
  return { columns, rowCount };
}

function noteWidth(cells: readonly string[], expected: number, record: number, notes: NoteBook): void {
  if (cells.length > expected && cells.slice(expected).every((cell) => cell === "")) return;
  const fewer = cells.length < expected;
  notes.add({
    reason: fewer
      ? `the row has fewer cells than the header's ${expected}; the last columns are missing`
      : `the row has more cells than the header's ${expected}; those beyond are not used`,
    effect: fewer ? "kept" : "left out",
    record: record + 1,
    value: String(cells.length),
  });
}

function setCell(
  column: ColumnBuilder,
  record: number,
  cell: string,
  delimiter: Delimiter,
  notes: NoteBook,
): void {
  if (MISSING.test(cell)) return;
  const value = numberOfText(cell);
  if (!Number.isNaN(value)) {
    // Written in another way than JavaScript does ("2.50"), it must stay as it stands should the column be text.
    if (String(value) === cell) column.setNumber(record, value);
    else column.setText(record, cell);
    return;
  }
  const commaIsDecimal = delimiter !== "," && DECIMAL_COMMA.test(cell);
  if (commaIsDecimal || THOUSANDS.test(cell)) {
    const plain = commaIsDecimal ? cell.replace(",", ".") : cell.replaceAll(",", "");
    column.setText(record, plain);
    notes.add({
      reason: `the comma in the number is read as a ${commaIsDecimal ? "decimal point" : "thousands separator"}`,
      effect: "converted",
      field: column.name,
      record: record + 1,
      value: cell,
    });
    return;
  }
  column.setText(record, cell);
}

type NumberColumnOf = Extract<RawColumn, { kind: "number" }>;

interface Positions {
  x: NumberColumnOf;
  y: NumberColumnOf;
  degrees: boolean;
}

function findPositions(columns: RawColumn[], file: string, options: ReadOptions): Positions | null {
  if (options.expect === "polygon") {
    const accepted = "a GeoJSON file or a shapefile with polygons";
    throw new FileUnusableError(
      `${file}: a CSV file holds no polygons; accepted for ${options.role} is ${accepted}`,
      {
        file,
        field: "geometry",
        value: "CSV",
        accepted,
      },
    );
  }
  if (options.position) return namedPositions(columns, file, options.position);
  const normalised = columns.map((column) => column.name.toLowerCase().replaceAll(/[^a-z]/g, ""));
  for (const names of POSITION_NAMES) {
    const x = columns[normalised.findIndex((name) => names.x.test(name))];
    const y = columns[normalised.findIndex((name) => names.y.test(name))];
    if (!x || !y) continue;
    return { x: numberColumn(x, file), y: numberColumn(y, file), degrees: names.degrees };
  }
  if (options.expect === "anything") return null;
  const value = columns.map((column) => column.name).join(", ");
  throw new FileUnusableError(
    `${file}: no position columns for ${options.role} among ${value}; accepted are ${ACCEPTED_POSITIONS}`,
    { file, field: "header", value, accepted: ACCEPTED_POSITIONS },
  );
}

/** The position columns the user named; degrees where every value could be one. */
function namedPositions(
  columns: readonly RawColumn[],
  file: string,
  names: readonly [string, string],
): Positions {
  const [x, y] = names.map((name) => {
    const column = columns.find((each) => each.name === name);
    if (column) return numberColumn(column, file);
    const accepted = columns.map((each) => each.name).join(", ");
    throw new FileUnusableError(`${file}: has no column "${name}"; accepted are ${accepted}`, {
      file,
      field: "position",
      value: name,
      accepted,
    });
  }) as [NumberColumnOf, NumberColumnOf];
  const within = (values: Float64Array, most: number) =>
    values.every((value) => Number.isNaN(value) || Math.abs(value) <= most);
  return { x, y, degrees: within(x.values, 180) && within(y.values, 90) };
}

function numberColumn(column: RawColumn, file: string): NumberColumnOf {
  if (column.kind === "number") return column;
  const word = column.labels.find((label) => Number.isNaN(numberOfText(label))) ?? "";
  throw new FileUnusableError(
    `${file}: the position column "${column.name}" holds text such as "${word}"; accepted are decimal numbers`,
    { file, field: column.name, value: word, accepted: "decimal numbers" },
  );
}
