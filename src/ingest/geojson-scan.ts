/**
 * Fast GeoJSON: walks the bytes of a feature collection once and puts points and properties straight into
 * columns. Only geometry other than plain points, and nested properties, go through JSON.parse.
 */
import type { ColumnBuilder } from "./column-builder.ts";
import type { FeatureSink } from "./feature-sink.ts";
import {
  CLOSE_LIST,
  CLOSE_OBJECT,
  COLON,
  COMMA,
  decodeJsonString,
  JsonBytes,
  JsonSyntaxError,
  OPEN_LIST,
  OPEN_OBJECT,
  QUOTE,
  startsNumber,
} from "./json-bytes.ts";
import { TextDictionary } from "./text-dictionary.ts";

/** What stands beside the features at the top of the file. */
export interface CollectionMembers {
  type: unknown;
  crs: unknown;
  /** False where there is no list of features. */
  hasFeatures: boolean;
}

/**
 * Reads a feature collection into the sink (which must decode text with `decodeJsonString`).
 * A file that ends within a feature gives the whole features before it, with a note.
 * @throws {JsonSyntaxError} where the text is not JSON
 */
export function scanGeoJson(bytes: Uint8Array, sink: FeatureSink): CollectionMembers {
  return new GeoJsonScanner(bytes, sink).scan();
}

class GeoJsonScanner {
  readonly #json: JsonBytes;
  readonly #sink: FeatureSink;
  readonly #names = new TextDictionary(decodeJsonString);
  /** Column of each name code, in the order the names were first met. */
  readonly #columns: ColumnBuilder[] = [];
  /** Raw bytes of the names, in the order of the last feature: most features repeat it. */
  readonly #expected: { name: Uint8Array; column: ColumnBuilder }[] = [];

  constructor(bytes: Uint8Array, sink: FeatureSink) {
    this.#json = new JsonBytes(bytes);
    this.#sink = sink;
  }

  scan(): CollectionMembers {
    const json = this.#json;
    const members: CollectionMembers = { type: undefined, crs: undefined, hasFeatures: false };
    try {
      this.#eachMember((start, end) => {
        const name = decodeJsonString(json.bytes.subarray(start, end));
        if (name === "features" && json.peek() === OPEN_LIST) {
          members.hasFeatures = true;
          this.#readFeatures();
        } else if (name === "type") members.type = json.parseValue();
        else if (name === "crs") members.crs = json.parseValue();
        else json.skipValue();
      });
    } catch (error) {
      if (!(error instanceof JsonSyntaxError && error.cutOff && this.#sink.count > 0)) throw error;
      this.#sink.notes.add({
        reason: "the file ends too early; the whole features before are used, the rest is missing",
        effect: "left out",
        record: this.#sink.fileNumber,
      });
      return { ...members, type: members.type ?? "FeatureCollection" };
    }
    return members;
  }

  /** Walks an object; the callback gets the raw name and must step over the value. */
  #eachMember(take: (nameStart: number, nameEnd: number) => void): void {
    const json = this.#json;
    json.expect(OPEN_OBJECT);
    if (json.peek() === CLOSE_OBJECT) {
      json.at++;
      return;
    }
    for (;;) {
      const start = json.skipString();
      const end = json.at - 1;
      json.expect(COLON);
      take(start, end);
      if (json.peek() === COMMA) json.at++;
      else {
        json.expect(CLOSE_OBJECT);
        return;
      }
    }
  }

  #readFeatures(): void {
    const json = this.#json;
    json.expect(OPEN_LIST);
    if (json.peek() === CLOSE_LIST) {
      json.at++;
      return;
    }
    for (;;) {
      if (json.peek() === OPEN_OBJECT) this.#readFeature();
      else this.#sink.add(json.parseValue());
      if (json.peek() === COMMA) json.at++;
      else {
        json.expect(CLOSE_LIST);
        return;
      }
    }
  }

  #readFeature(): void {
    const json = this.#json;
    const { bytes } = json;
    const begin = json.at;
    let isFeature = false;
    this.#eachMember((start, end) => {
      if (isName(bytes, start, end, TYPE)) {
        if (json.peek() !== QUOTE) {
          json.skipValue();
          return;
        }
        const valueStart = json.skipString();
        isFeature = isName(bytes, valueStart, json.at - 1, FEATURE);
      } else if (isName(bytes, start, end, PROPERTIES) && json.peek() === OPEN_OBJECT) this.#readProperties();
      else if (isName(bytes, start, end, GEOMETRY) && json.peek() === OPEN_OBJECT) this.#readGeometry();
      else if (isName(bytes, start, end, PROPERTIES) || isName(bytes, start, end, GEOMETRY))
        this.#readOdd(start, end);
      else json.skipValue();
    });
    if (isFeature) this.#sink.take();
    else this.#sink.drop(decodeJsonString(bytes.subarray(begin, json.at)));
  }

  /** Properties or a geometry that is no object: null, or something the sink has to judge. */
  #readOdd(start: number, end: number): void {
    const value = this.#json.parseValue();
    if (value === null) return;
    if (isName(this.#json.bytes, start, end, GEOMETRY)) this.#sink.setGeometry(this.#sink.count, value);
    else this.#sink.setProperties(this.#sink.count, value);
  }

  #readProperties(): void {
    const json = this.#json;
    const { bytes } = json;
    const record = this.#sink.count;
    let place = 0;
    this.#eachMember((start, end) => {
      let expected = this.#expected[place];
      if (expected === undefined || !isName(bytes, start, end, expected.name)) {
        expected = { name: bytes.slice(start, end), column: this.#columnOf(start, end) };
        this.#expected[place] = expected;
      }
      place++;
      this.#readValue(expected.column, record);
    });
  }

  #columnOf(start: number, end: number): ColumnBuilder {
    const code = this.#names.codeOfBytes(this.#json.bytes, start, end);
    const column = this.#columns[code] ?? this.#sink.column(this.#names.labels[code]!);
    this.#columns[code] = column;
    return column;
  }

  #readValue(column: ColumnBuilder, record: number): void {
    const json = this.#json;
    const first = json.peek();
    if (startsNumber(first)) {
      const value = json.readNumber();
      if (Number.isNaN(value)) {
        const reason = "NaN or Infinity stands where JSON allows a number or null; read as missing";
        this.#sink.notes.add({
          reason,
          effect: "left out",
          field: column.name,
          record: this.#sink.fileNumber,
        });
      } else column.setNumber(record, value);
    } else if (first === QUOTE) {
      const start = json.skipString();
      const code = column.dictionary.codeOfBytes(json.bytes, start, json.at - 1);
      if (column.dictionary.labels[code]!.trim() !== "") column.setCode(record, code);
    } else column.setJson(record, json.parseValue(), this.#sink.fileNumber, this.#sink.notes);
  }

  #readGeometry(): void {
    const json = this.#json;
    const { bytes } = json;
    const begin = json.at;
    const { store, count } = this.#sink;
    let isPoint = false;
    let x = Number.NaN;
    let y = Number.NaN;
    let plain = false;
    this.#eachMember((start, end) => {
      if (isName(bytes, start, end, TYPE) && json.peek() === QUOTE) {
        const valueStart = json.skipString();
        isPoint = isName(bytes, valueStart, json.at - 1, POINT_TYPE);
      } else if (isName(bytes, start, end, COORDINATES) && json.peek() === OPEN_LIST) {
        const listStart = json.at++;
        if (startsNumber(json.peek())) {
          x = json.readNumber();
          if (json.peek() === COMMA) {
            json.at++;
            if (startsNumber(json.peek())) y = json.readNumber();
          }
          if (json.peek() === COMMA) {
            json.at++;
            if (startsNumber(json.peek())) json.readNumber();
          }
          plain = json.peek() === CLOSE_LIST;
        }
        json.at = plain ? json.at + 1 : listStart;
        if (!plain) json.skipValue();
      } else json.skipValue();
    });
    if (isPoint && plain && !Number.isNaN(x) && !Number.isNaN(y)) {
      store.setPoint(count, x, y);
      return;
    }
    const after = json.at;
    json.at = begin;
    this.#sink.setGeometry(count, json.parseValue());
    json.at = after;
  }
}

const ascii = (text: string) => new TextEncoder().encode(text);
const TYPE = ascii("type");
const FEATURE = ascii("Feature");
const PROPERTIES = ascii("properties");
const GEOMETRY = ascii("geometry");
const COORDINATES = ascii("coordinates");
const POINT_TYPE = ascii("Point");

function isName(bytes: Uint8Array, start: number, end: number, name: Uint8Array): boolean {
  if (end - start !== name.length) return false;
  for (let at = 0; at < name.length; at++) if (bytes[start + at] !== name[at]) return false;
  return true;
}
