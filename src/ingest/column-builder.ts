/** Grows one column value by value while its kind is not yet known, then settles the kind. */
import { roomFor, trimmed } from "./geometry-store.ts";
import type { RawColumn } from "./layer.ts";
import type { NoteBook } from "./note-book.ts";
import { numberOfText } from "./values/decimal-text.ts";
import { shownJson } from "./values/shown-json.ts";
import { TextDictionary } from "./values/text-dictionary.ts";

const NO_TEXT = -1;
/** From this many numbers on, words up to this share of them are taken for slips (our judgement). */
const FEWEST_NUMBERS = 20;
const MOST_SLIPS = 0.02;

const NONE = new Float64Array(0);

/** The value as JSON text, null where it is nested too deep to be written. */
function jsonText(value: unknown): string | null {
  try {
    return JSON.stringify(value);
  } catch {
    return null;
  }
}

/**
 * Values are set by record index, ascending or not; records never set stay missing. A column of
 * numbers and booleans (0/1) becomes a number column; so does one whose texts all are plain numbers.
 * Any other text makes the whole column text.
 */
export class ColumnBuilder {
  readonly name: string;
  readonly dictionary: TextDictionary;
  /** Made with the first number: a column of texts needs none. */
  #numbers = NONE;
  #capacity: number;
  #codes: Int32Array | null = null;
  #hasNumber = false;
  #closed = false;
  /** Records that will come by an estimate, so that room is made once; 0 where there is none. */
  room = 0;

  constructor(name: string, capacity: number, decode?: (bytes: Uint8Array) => string) {
    this.name = name;
    this.dictionary = new TextDictionary(decode);
    this.#capacity = Math.max(capacity, 16);
  }

  setNumber(record: number, value: number): void {
    if (record >= this.#capacity && !this.#grow(record)) return;
    if (this.#numbers === NONE) this.#makeNumbers();
    this.#numbers[record] = value;
    this.#hasNumber = true;
  }

  setText(record: number, text: string): void {
    this.setCode(record, this.dictionary.codeOf(text));
  }

  /** Sets a code of this column's own dictionary. */
  setCode(record: number, code: number): void {
    if (record >= this.#capacity && !this.#grow(record)) return;
    this.#codes ??= new Int32Array(this.#capacity).fill(NO_TEXT);
    this.#codes[record] = code;
  }

  /** Makes the record missing again. */
  clear(record: number): void {
    if (record >= this.#capacity) return;
    if (this.#numbers !== NONE) this.#numbers[record] = Number.NaN;
    if (this.#codes) this.#codes[record] = NO_TEXT;
  }

  /**
   * Any value a JSON property may hold; null and undefined leave the record missing.
   * @param fileRecord 1-based number of the record in the file, for notes
   */
  setJson(record: number, value: unknown, fileRecord: number, notes: NoteBook): void {
    if (typeof value === "number") this.setNumber(record, value);
    else if (typeof value === "boolean") this.setNumber(record, value ? 1 : 0);
    else if (typeof value === "string") {
      if (value.trim() !== "") this.setText(record, value);
    } else if (value !== null && value !== undefined) {
      const text = jsonText(value);
      notes.add({
        reason:
          text === null
            ? "holds a list or an object nested too deep; one number or text a record would be accepted"
            : "holds a list or an object; one number or text a record would be accepted, so it stays JSON text",
        effect: text === null ? "left out" : "kept",
        field: this.name,
        record: fileRecord,
        value: text ?? shownJson(value),
      });
      if (text !== null) this.setText(record, text);
    }
  }

  /**
   * The finished column of the first `recordCount` records. Empty columns are number columns of NaN.
   * @param noteNumbersInText false where the format knows no numbers but as text (CSV)
   */
  finish(recordCount: number, notes: NoteBook, noteNumbersInText = true): RawColumn {
    if (recordCount > this.#capacity) this.#grow(recordCount - 1);
    const codes = this.#codes;
    if (codes === null) return { kind: "number", name: this.name, values: this.#takeNumbers(recordCount) };
    const numberOfLabel = Float64Array.from(this.dictionary.labels, numberOfText);
    const firstWord = numberOfLabel.findIndex(Number.isNaN);
    if (firstWord < 0)
      return this.#asNumbers(codes, numberOfLabel, recordCount, noteNumbersInText ? notes : null);
    if (!noteNumbersInText && this.#wordsAreSlips(codes, numberOfLabel, recordCount)) {
      this.#leaveOutWords(codes, numberOfLabel, recordCount, notes);
      return this.#asNumbers(codes, numberOfLabel, recordCount, null);
    }
    return this.#asText(codes, firstWord, recordCount, notes);
  }

  /** In a format that knows no numbers but as text, a few words among many numbers are slips. */
  #wordsAreSlips(codes: Int32Array, numberOfLabel: Float64Array, recordCount: number): boolean {
    let words = 0;
    let numbers = 0;
    for (let record = 0; record < recordCount; record++) {
      const code = codes[record]!;
      const value = code === NO_TEXT ? (this.#numbers[record] ?? Number.NaN) : numberOfLabel[code]!;
      if (!Number.isNaN(value)) numbers++;
      else if (code !== NO_TEXT) words++;
    }
    return numbers >= FEWEST_NUMBERS && words <= numbers * MOST_SLIPS;
  }

  #leaveOutWords(codes: Int32Array, numberOfLabel: Float64Array, recordCount: number, notes: NoteBook): void {
    for (let record = 0; record < recordCount; record++) {
      const code = codes[record]!;
      if (code === NO_TEXT || !Number.isNaN(numberOfLabel[code]!)) continue;
      notes.add({
        reason: "a word stands in a column of numbers; read as missing",
        effect: "left out",
        field: this.name,
        record: record + 1,
        value: this.dictionary.labels[code]!,
      });
      codes[record] = NO_TEXT;
    }
  }

  #asNumbers(
    codes: Int32Array,
    numberOfLabel: Float64Array,
    recordCount: number,
    notes: NoteBook | null,
  ): RawColumn {
    const values = this.#takeNumbers(recordCount);
    let count = 0;
    let first = -1;
    for (let record = 0; record < recordCount; record++) {
      const code = codes[record]!;
      if (code === NO_TEXT) continue;
      values[record] = numberOfLabel[code]!;
      if (count++ === 0) first = record;
    }
    if (count > 0)
      notes?.add({
        reason: "numbers written as text are read as numbers",
        effect: "converted",
        field: this.name,
        record: first + 1,
        value: this.dictionary.labels[codes[first]!],
        count,
      });
    return { kind: "number", name: this.name, values };
  }

  #asText(codes: Int32Array, firstWord: number, recordCount: number, notes: NoteBook): RawColumn {
    const settled = trimmed(codes, recordCount);
    if (this.#hasNumber) {
      let count = 0;
      let first = -1;
      for (let record = 0; record < recordCount; record++) {
        const value = this.#numbers[record]!;
        if (Number.isNaN(value) || settled[record] !== NO_TEXT) continue;
        settled[record] = this.dictionary.codeOf(String(value));
        if (count++ === 0) first = record;
      }
      if (count > 0) {
        notes.add({
          reason: `numbers stand beside text such as "${this.dictionary.labels[firstWord]}", so the column is read as text`,
          effect: "converted",
          field: this.name,
          record: first + 1,
          value: String(this.#numbers[first]),
          count,
        });
      }
    }
    return { kind: "text", name: this.name, codes: settled, labels: this.dictionary.labels };
  }

  #makeNumbers(): void {
    this.#numbers = new Float64Array(this.#capacity).fill(Number.NaN);
  }

  /** The numbers, given away: the builder keeps no second copy of them. */
  #takeNumbers(recordCount: number): Float64Array {
    if (this.#numbers === NONE) this.#makeNumbers();
    const values = trimmed(this.#numbers, recordCount);
    this.#numbers = NONE;
    return values;
  }

  /** Frees its room and takes no more values. */
  close(): void {
    this.#closed = true;
    this.#capacity = 0;
    this.#numbers = NONE;
    this.#codes = null;
  }

  /** Makes room for the record; false for a closed column. */
  #grow(record: number): boolean {
    if (this.#closed) return false;
    const capacity = roomFor(record, this.#capacity, this.room);
    if (this.#numbers !== NONE) {
      const numbers = new Float64Array(capacity).fill(Number.NaN, this.#capacity);
      numbers.set(this.#numbers);
      this.#numbers = numbers;
    }
    this.#capacity = capacity;
    if (this.#codes) {
      const codes = new Int32Array(capacity).fill(NO_TEXT, this.#codes.length);
      codes.set(this.#codes);
      this.#codes = codes;
    }
    return true;
  }
}
