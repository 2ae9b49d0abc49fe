/** A cursor over JSON text in bytes: steps over values without building them. The text may come piece by piece. */
import { type ByteSource, WINDOW_BYTES } from "../containers/byte-window.ts";

export const QUOTE = 0x22;
export const COMMA = 0x2c;
export const COLON = 0x3a;
export const OPEN_LIST = 0x5b;
export const CLOSE_LIST = 0x5d;
export const OPEN_OBJECT = 0x7b;
export const CLOSE_OBJECT = 0x7d;
const BACKSLASH = 0x5c;
const MINUS = 0x2d;
const POINT = 0x2e;

/** Thrown where the text stops being JSON; `cutOff` where it simply ends too early. */
export class JsonSyntaxError extends Error {
  /** Byte in the file. */
  readonly offset: number;
  readonly cutOff: boolean;
  /** The text found there. */
  readonly near: string;
  /** 1-based number of the feature it stands in, where it stands in one. */
  feature: number | null = null;
  constructor(offset: number, cutOff: boolean, near: string) {
    super(cutOff ? "the text ends too early" : "not JSON");
    this.offset = offset;
    this.cutOff = cutOff;
    this.near = near;
  }
}

const utf8 = new TextDecoder();

/** Text of the inside of a JSON string. */
export function decodeJsonString(inside: Uint8Array): string {
  const text = utf8.decode(inside);
  return inside.includes(BACKSLASH) ? unescapeString(text) : text;
}

function unescapeString(text: string): string {
  try {
    return JSON.parse(`"${text}"`) as string;
  } catch {
    return text;
  }
}

/** Exact powers of ten of a double. */
const POWERS_OF_TEN = Float64Array.from({ length: 16 }, (_, exponent) => Number(`1e${exponent}`));

export class JsonBytes {
  /** The part of the text at hand; changes with {@link more}. */
  bytes: Uint8Array;
  at: number;
  readonly #source: ByteSource;
  /** Offset of the first byte at hand in the file. */
  #base = 0;

  constructor(source: ByteSource) {
    this.#source = source;
    this.bytes = source.read(0, WINDOW_BYTES);
    this.at = this.bytes[0] === 0xef && this.bytes[1] === 0xbb && this.bytes[2] === 0xbf ? 3 : 0;
  }

  /** Offset of the cursor in the file. */
  get offset(): number {
    return this.#base + this.at;
  }

  /** False where the text goes on beyond the part at hand. */
  get atLastPart(): boolean {
    return this.#base + this.bytes.length >= this.#source.size;
  }

  /**
   * Brings the next part of the text to hand; what stands before `keep` is let go, the cursor is put there.
   * @returns false where there is no more
   */
  more(keep: number): boolean {
    if (this.atLastPart) return false;
    const begin = this.#base + keep;
    const kept = this.bytes.length - keep;
    // Twice as much each time, so that a feature longer than a part is not begun anew too often.
    this.bytes = this.#source.read(begin, kept + Math.max(WINDOW_BYTES, kept));
    this.#base = begin;
    this.at = 0;
    return true;
  }

  /** Steps over white space; the byte found, or -1 at the end of what is at hand. */
  peek(): number {
    const { bytes } = this;
    let at = this.at;
    while (at < bytes.length && bytes[at]! <= 0x20) at++;
    this.at = at;
    return at < bytes.length ? bytes[at]! : -1;
  }

  /** As {@link peek}, but at the end of a part goes on with the next. */
  peekOn(): number {
    let byte = this.peek();
    while (byte < 0 && this.more(this.at)) byte = this.peek();
    return byte;
  }

  /** The text from the cursor up to an index. */
  textTo(end: number): string {
    return utf8.decode(this.bytes.subarray(this.at, end));
  }

  expect(byte: number): void {
    if (this.peek() !== byte) this.fail();
    this.at++;
  }

  fail(): never {
    const near = utf8.decode(this.bytes.subarray(this.at, this.at + 24)).trim();
    throw new JsonSyntaxError(this.#base + this.at, this.at >= this.bytes.length, near);
  }

  /** Steps over a string; its inside is [start, at - 1) afterwards, where start is what is returned. */
  skipString(): number {
    if (this.peek() !== QUOTE) this.fail();
    const { bytes } = this;
    const start = this.at + 1;
    let at = start;
    for (;;) {
      const byte = bytes[at];
      if (byte === QUOTE) break;
      if (byte === undefined) {
        this.at = bytes.length;
        this.fail();
      }
      at += byte === BACKSLASH ? 2 : 1;
    }
    this.at = at + 1;
    return start;
  }

  /** Steps over any value; lists and objects by their brackets, strings in them honoured. */
  skipValue(): void {
    const first = this.peek();
    if (first === QUOTE) {
      this.skipString();
      return;
    }
    if (first !== OPEN_LIST && first !== OPEN_OBJECT) {
      this.#skipToken();
      return;
    }
    let depth = 0;
    do {
      const byte = this.bytes[this.at];
      if (byte === undefined) this.fail();
      if (byte === QUOTE) {
        this.skipString();
        continue;
      }
      if (byte === OPEN_LIST || byte === OPEN_OBJECT) depth++;
      else if (byte === CLOSE_LIST || byte === CLOSE_OBJECT) depth--;
      this.at++;
    } while (depth > 0);
  }

  #skipToken(): void {
    const start = this.at;
    while (this.at < this.bytes.length && !endsToken(this.bytes[this.at]!)) this.at++;
    // A token may go on in the next part of the text.
    if (this.at === start || (this.at >= this.bytes.length && !this.atLastPart)) this.fail();
  }

  /** The value as JavaScript values. */
  parseValue(): unknown {
    this.peek();
    const start = this.at;
    this.skipValue();
    try {
      return JSON.parse(utf8.decode(this.bytes.subarray(start, this.at))) as unknown;
    } catch {
      this.at = start;
      return this.fail();
    }
  }

  /**
   * Reads a number. The result is exactly what `Number()` gives (see `parseDecimal` for why).
   * @returns NaN for a bare NaN or Infinity, which some programs write although JSON has no such thing, and
   * (the cursor standing behind it) for any other word that is no number: `token` tells it
   */
  readNumber(): number {
    const { bytes } = this;
    const start = this.at;
    let at = start;
    const negative = bytes[at] === MINUS;
    if (negative) at++;
    let mantissa = 0;
    let digits = 0;
    let decimals = -1;
    let byte = bytes[at];
    for (;;) {
      if (byte !== undefined && byte >= 0x30 && byte <= 0x39) {
        mantissa = mantissa * 10 + (byte - 0x30);
        digits++;
        if (decimals >= 0) decimals++;
      } else if (byte === POINT && decimals < 0) decimals = 0;
      else break;
      byte = bytes[++at];
    }
    if (byte === undefined) {
      this.at = at;
      this.fail();
    }
    if (digits > 0 && digits <= 15 && endsToken(byte)) {
      this.at = at;
      const value = decimals > 0 ? mantissa / POWERS_OF_TEN[decimals]! : mantissa;
      return negative ? -value : value;
    }
    return this.#readNumberSlowly(start);
  }

  /** The word the last {@link readNumber} could not take as a number. */
  token = "";

  #readNumberSlowly(start: number): number {
    this.at = start;
    this.#skipToken();
    if (this.at >= this.bytes.length) this.fail();
    this.token = utf8.decode(this.bytes.subarray(start, this.at));
    // A quote within a word is no slip of a digit: what is text and what is not cannot be told any more.
    if (this.token.includes('"')) {
      this.at = start;
      this.fail();
    }
    return NUMBER.test(this.token) ? Number(this.token) : Number.NaN;
  }
}

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

/** Walks an object at the cursor; the callback gets the raw name and must step over the value. */
export function eachMember(json: JsonBytes, take: (nameStart: number, nameEnd: number) => void): void {
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

/** True where bytes [start, end) are the name, letter by letter. */
export function isName(bytes: Uint8Array, start: number, end: number, name: Uint8Array): boolean {
  if (end - start !== name.length) return false;
  for (let at = 0; at < name.length; at++) if (bytes[start + at] !== name[at]) return false;
  return true;
}

function endsToken(byte: number): boolean {
  return (
    byte <= 0x20 ||
    byte === COMMA ||
    byte === CLOSE_OBJECT ||
    byte === CLOSE_LIST ||
    byte === COLON ||
    byte === OPEN_LIST ||
    byte === OPEN_OBJECT
  );
}
