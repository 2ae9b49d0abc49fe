/**
 * The attribute table of a shapefile: dBASE III bytes from columns. Only the two field types that every
 * reader agrees on are written: N (decimal text) and C (UTF-8 text, named in the .cpg file).
 */

/** A column of numbers; NaN (or an infinity) is written blank, which readers give back as "no value". */
interface DbfNumberField {
  kind: "number";
  /** 1 to 10 letters, digits or underscores, starting with a letter; unique in the table, whatever the case. */
  name: string;
  /** Characters a value may take, sign and decimal point included, 1..18. */
  width: number;
  /** Digits after the decimal point, 0..width-2. */
  decimals: number;
  /** One entry a record. */
  values: ArrayLike<number>;
}

/** A column of text. */
interface DbfTextField {
  kind: "text";
  /** As for a number field. */
  name: string;
  /** Bytes of UTF-8 a value may take, 1..254. */
  width: number;
  /** One entry a record. */
  values: ArrayLike<string>;
}

export type DbfField = DbfNumberField | DbfTextField;

const FIELD_NAME = /^[A-Za-z][A-Za-z0-9_]{0,9}$/;
const HEADER_BYTES = 32;
const DESCRIPTOR_BYTES = 32;
const SPACE = 0x20;
const LIVE_RECORD = SPACE;
const END_OF_HEADER = 0x0d;
const END_OF_FILE = 0x1a;

/**
 * Writes the table. The date of the last change in its header is always 1 January 1980, so that the same
 * columns give the same bytes on any day.
 * @throws {RangeError} when a name is unusable or used twice, a width is out of range, a column is of the
 *   wrong length or a value does not fit its width (a value is never cut or replaced by asterisks).
 */
export function writeDbfTable(recordCount: number, fields: readonly DbfField[]): Uint8Array {
  checkFields(recordCount, fields);
  const headerLength = HEADER_BYTES + DESCRIPTOR_BYTES * fields.length + 1;
  const recordLength = 1 + fields.reduce((sum, field) => sum + field.width, 0);
  const bytes = new Uint8Array(headerLength + recordLength * recordCount + 1).fill(SPACE, headerLength);
  writeHeader(bytes, recordCount, headerLength, recordLength, fields);
  for (let record = 0; record < recordCount; record++)
    bytes[headerLength + record * recordLength] = LIVE_RECORD;
  let offset = headerLength + 1;
  for (const field of fields) {
    if (field.kind === "number") writeNumbers(bytes, offset, recordLength, recordCount, field);
    else writeTexts(bytes, offset, recordLength, recordCount, field);
    offset += field.width;
  }
  bytes[bytes.length - 1] = END_OF_FILE;
  return bytes;
}

function checkFields(recordCount: number, fields: readonly DbfField[]): void {
  if (fields.length === 0) throw new RangeError("a shapefile table needs at least one field");
  if (fields.length > 255)
    throw new RangeError(`a shapefile table holds at most 255 fields, not ${fields.length}`);
  const seen = new Set<string>();
  for (const field of fields) {
    const { name, width } = field;
    if (!FIELD_NAME.test(name)) {
      throw new RangeError(
        `field name "${name}" is unusable: 1 to 10 letters, digits or underscores, starting with a letter`,
      );
    }
    if (seen.has(name.toUpperCase())) throw new RangeError(`field name "${name}" is used twice`);
    seen.add(name.toUpperCase());
    const widest = field.kind === "number" ? 18 : 254;
    if (!Number.isInteger(width) || width < 1 || width > widest) {
      throw new RangeError(`field ${name} has width ${width}; a ${field.kind} field takes 1 to ${widest}`);
    }
    if (field.kind === "number") {
      const { decimals } = field;
      if (!Number.isInteger(decimals) || decimals < 0 || (decimals > 0 && decimals > width - 2)) {
        throw new RangeError(`field ${name} of width ${width} cannot have ${decimals} decimals`);
      }
    }
    if (field.values.length !== recordCount) {
      throw new RangeError(`field ${name} has ${field.values.length} values for ${recordCount} records`);
    }
  }
}

function writeHeader(
  bytes: Uint8Array,
  recordCount: number,
  headerLength: number,
  recordLength: number,
  fields: readonly DbfField[],
): void {
  const view = new DataView(bytes.buffer);
  // dBASE III without memo; last changed in year 1900 + 80, month 1, day 1.
  bytes.set([0x03, 80, 1, 1]);
  view.setUint32(4, recordCount, true);
  view.setUint16(8, headerLength, true);
  view.setUint16(10, recordLength, true);
  fields.forEach((field, index) => {
    const at = HEADER_BYTES + DESCRIPTOR_BYTES * index;
    for (let letter = 0; letter < field.name.length; letter++)
      bytes[at + letter] = field.name.charCodeAt(letter);
    bytes[at + 11] = (field.kind === "number" ? "N" : "C").charCodeAt(0);
    bytes[at + 16] = field.width;
    bytes[at + 17] = field.kind === "number" ? field.decimals : 0;
  });
  bytes[headerLength - 1] = END_OF_HEADER;
}

function writeNumbers(
  bytes: Uint8Array,
  start: number,
  stride: number,
  recordCount: number,
  field: DbfNumberField,
): void {
  for (let record = 0; record < recordCount; record++) {
    const value = field.values[record] as number;
    if (!Number.isFinite(value)) continue;
    const rounded = value.toFixed(field.decimals);
    // A small negative rounds to "-0", which is no other number than 0.
    const text = Number(rounded) === 0 && rounded.startsWith("-") ? rounded.slice(1) : rounded;
    if (text.length > field.width) throw valueTooWide(field, text, record);
    const at = start + record * stride + field.width - text.length;
    for (let letter = 0; letter < text.length; letter++) bytes[at + letter] = text.charCodeAt(letter);
  }
}

function writeTexts(
  bytes: Uint8Array,
  start: number,
  stride: number,
  recordCount: number,
  field: DbfTextField,
): void {
  const encoder = new TextEncoder();
  let previous: string | null = null;
  let encoded = new Uint8Array(0);
  for (let record = 0; record < recordCount; record++) {
    const text = field.values[record] as string;
    if (text !== previous) {
      encoded = encoder.encode(text);
      previous = text;
      if (encoded.length > field.width) throw valueTooWide(field, text, record);
    }
    bytes.set(encoded, start + record * stride);
  }
}

function valueTooWide(field: DbfField, text: string, record: number): RangeError {
  return new RangeError(
    `value "${text}" of record ${record + 1} does not fit field ${field.name} of width ${field.width}`,
  );
}
