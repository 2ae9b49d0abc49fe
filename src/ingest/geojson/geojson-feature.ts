/** One feature at the cursor, straight into columns and geometry. */
import type { ColumnBuilder } from "../column-builder.ts";
import type { FeatureSink } from "../feature-sink.ts";
import { TextDictionary } from "../values/text-dictionary.ts";
import { isCheckedMember, memberTrouble } from "./geojson-members.ts";
import {
  CLOSE_LIST,
  COMMA,
  decodeJsonString,
  eachMember,
  isName,
  type JsonBytes,
  OPEN_LIST,
  OPEN_OBJECT,
  QUOTE,
} from "./json-bytes.ts";

/** A word of JSON that stands for a value: read so that a slip of one letter costs one value. */
const WORDS: Readonly<Record<string, number>> = { true: 1, false: 0, null: Number.NaN };

/** A list or an object as a value is kept as text up to this size: deep ones would take a hundred times as much memory. */
const LONGEST_VALUE_BYTES = 1 << 20;

export class FeatureReader {
  readonly #json: JsonBytes;
  readonly #sink: FeatureSink;
  readonly #names = new TextDictionary(decodeJsonString);
  /** Column of each name code, in the order the names were first met. */
  readonly #columns: ColumnBuilder[] = [];
  /** Raw bytes of the names, in the order of the last feature: most features repeat it. */
  readonly #expected: { name: Uint8Array; column: ColumnBuilder }[] = [];

  /** What is wrong with members of the object at hand, told once it turns out to be a feature. */
  readonly #troubles: string[] = [];

  constructor(json: JsonBytes, sink: FeatureSink) {
    this.#json = json;
    this.#sink = sink;
  }

  /**
   * Reads the object at the cursor into the sink's current record.
   * @returns false where it is no feature; the cursor then stands on it again and nothing is kept
   * @throws {JsonSyntaxError} where the text is not JSON or ends
   */
  read(): boolean {
    const json = this.#json;
    const { bytes } = json;
    const begin = json.at;
    let isFeature = false;
    let hasProperties = false;
    this.#troubles.length = 0;
    eachMember(json, (start, end) => {
      if (isName(bytes, start, end, TYPE)) {
        if (json.peek() !== QUOTE) {
          json.skipValue();
          return;
        }
        const valueStart = json.skipString();
        isFeature = isName(bytes, valueStart, json.at - 1, FEATURE);
      } else if (isName(bytes, start, end, PROPERTIES)) {
        hasProperties = true;
        if (json.peek() === OPEN_OBJECT) this.#readProperties();
        else this.#readOdd(start, end);
      } else if (isName(bytes, start, end, GEOMETRY)) {
        if (json.peek() === OPEN_OBJECT) this.#readGeometry();
        else this.#readOdd(start, end);
      } else this.#readOther(start, end);
    });
    if (!isFeature) {
      this.#sink.takeBack();
      json.at = begin;
      return false;
    }
    for (const trouble of this.#troubles) this.#sink.noteMember(trouble);
    if (!hasProperties) this.#sink.noteNoProperties();
    this.#sink.take();
    return true;
  }

  /** Properties or a geometry that is no object: null, or something the sink has to judge. */
  #readOdd(start: number, end: number): void {
    const value = this.#json.parseValue();
    if (value === null) return;
    if (isName(this.#json.bytes, start, end, GEOMETRY)) this.#sink.setGeometry(this.#sink.count, value);
    else this.#sink.setProperties(this.#sink.count, value);
  }

  /** A member the job does not use; where it breaks the standard that is noted. */
  #readOther(start: number, end: number): void {
    const json = this.#json;
    const name = decodeJsonString(json.bytes.subarray(start, end));
    if (!isCheckedMember("feature", name)) {
      json.skipValue();
      return;
    }
    const trouble = memberTrouble("feature", name, json.parseValue());
    if (trouble) this.#troubles.push(trouble);
  }

  #readProperties(): void {
    const json = this.#json;
    const { bytes } = json;
    const record = this.#sink.count;
    let place = 0;
    eachMember(json, (start, end) => {
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
    if (first === QUOTE) {
      const start = json.skipString();
      const code = column.dictionary.codeOfBytes(json.bytes, start, json.at - 1);
      if (column.dictionary.labels[code]!.trim() !== "") column.setCode(record, code);
    } else if (first === OPEN_OBJECT || first === OPEN_LIST) {
      const start = json.at;
      json.skipValue();
      if (json.at - start > LONGEST_VALUE_BYTES) {
        this.#sink.notes.add({
          reason:
            "holds a list or an object of more than a million bytes; one number or text a record would be accepted",
          effect: "left out",
          field: column.name,
          record: this.#sink.fileNumber,
        });
        return;
      }
      json.at = start;
      column.setJson(record, json.parseValue(), this.#sink.fileNumber, this.#sink.notes);
    } else {
      const value = json.readNumber();
      if (Number.isNaN(value)) this.#readWord(column, record, json.token);
      else column.setNumber(record, value);
    }
  }

  #readWord(column: ColumnBuilder, record: number, word: string): void {
    if (Object.hasOwn(WORDS, word)) {
      if (word !== "null") column.setNumber(record, WORDS[word]!);
      return;
    }
    const reason = /^[-+]?(?:nan|infinity)$/i.test(word)
      ? "NaN or Infinity stands where JSON allows a number or null; read as missing"
      : "the value is no JSON (a number, a text in quotes, true, false or null would be); read as missing";
    this.#sink.notes.add({
      reason,
      effect: "left out",
      field: column.name,
      record: this.#sink.fileNumber,
      value: word,
    });
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
    let others = false;
    eachMember(json, (start, end) => {
      if (isName(bytes, start, end, TYPE) && json.peek() === QUOTE) {
        const valueStart = json.skipString();
        isPoint = isName(bytes, valueStart, json.at - 1, POINT_TYPE);
      } else if (isName(bytes, start, end, COORDINATES) && json.peek() === OPEN_LIST) {
        const listStart = json.at++;
        if (isPlainWord(json.peek())) {
          x = json.readNumber();
          if (json.peek() === COMMA) {
            json.at++;
            if (isPlainWord(json.peek())) y = json.readNumber();
          }
          if (json.peek() === COMMA) {
            json.at++;
            if (isPlainWord(json.peek())) json.readNumber();
          }
          plain = json.peek() === CLOSE_LIST;
        }
        json.at = plain ? json.at + 1 : listStart;
        if (!plain) json.skipValue();
      } else {
        others = true;
        json.skipValue();
      }
    });
    if (isPoint && plain && !others && !Number.isNaN(x) && !Number.isNaN(y)) {
      store.setPoint(count, x, y);
      return;
    }
    const after = json.at;
    json.at = begin;
    if (isPoint && plain) this.#readOddPoint(json.textTo(after));
    else this.#sink.setGeometry(count, json.parseValue());
    json.at = after;
  }

  /** A point with a word among its numbers: JSON knows none, so what is no JSON is judged as it stands. */
  #readOddPoint(text: string): void {
    let geometry: unknown;
    try {
      geometry = JSON.parse(text);
    } catch {
      this.#sink.refusePosition(this.#sink.count, text);
      return;
    }
    this.#sink.setGeometry(this.#sink.count, geometry);
  }
}

/** True for what may be a number or a slip in one, false for what opens something, closes it or separates. */
function isPlainWord(byte: number): boolean {
  return byte > 0x20 && byte !== QUOTE && byte !== OPEN_LIST && byte !== CLOSE_LIST && byte !== OPEN_OBJECT;
}

const ascii = (text: string) => new TextEncoder().encode(text);
const TYPE = ascii("type");
const FEATURE = ascii("Feature");
const PROPERTIES = ascii("properties");
const GEOMETRY = ascii("geometry");
const COORDINATES = ascii("coordinates");
const POINT_TYPE = ascii("Point");
