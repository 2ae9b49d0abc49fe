/** A cursor over JSON text in bytes: steps over values without building them. */

export const QUOTE = 0x22;
export const COMMA = 0x2c;
export const COLON = 0x3a;
export const OPEN_LIST = 0x5b;
export const CLOSE_LIST = 0x5d;
export const OPEN_OBJECT = 0x7b;
export const CLOSE_OBJECT = 0x7d;
const BACKSLASH = 0x5c;
const MINUS = 0x2d;
const PLUS = 0x2b;
const POINT = 0x2e;

/** Thrown where the text stops being JSON; `cutOff` where it simply ends too early. */
export class JsonSyntaxError extends Error {
  readonly offset: number;
  readonly cutOff: boolean;
  constructor(offset: number, cutOff: boolean) {
    super(cutOff ? "the text ends too early" : "not JSON");
    this.offset = offset;
    this.cutOff = cutOff;
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
  readonly bytes: Uint8Array;
  at: number;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
    this.at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  }

  /** Steps over white space; the byte found, or -1 at the end. */
  peek(): number {
    const { bytes } = this;
    let at = this.at;
    while (at < bytes.length && bytes[at]! <= 0x20) at++;
    this.at = at;
    return at < bytes.length ? bytes[at]! : -1;
  }

  expect(byte: number): void {
    if (this.peek() !== byte) this.fail();
    this.at++;
  }

  fail(): never {
    throw new JsonSyntaxError(this.at, this.at >= this.bytes.length);
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
      const start = this.at;
      while (this.at < this.bytes.length && !endsToken(this.bytes[this.at]!)) this.at++;
      if (this.at === start) this.fail();
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
   * A bare NaN or Infinity, which some programs write although JSON has no such thing, gives NaN.
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

  #readNumberSlowly(start: number): number {
    this.at = start;
    this.skipValue();
    if (this.at >= this.bytes.length) this.fail();
    const text = utf8.decode(this.bytes.subarray(start, this.at));
    if (/^-?(?:NaN|Infinity)$/i.test(text)) return Number.NaN;
    const value = Number(text);
    if (Number.isNaN(value) || text === "") {
      this.at = start;
      this.fail();
    }
    return value;
  }
}

/** True for the first byte a number (or bare NaN, Infinity) can have. */
export function startsNumber(byte: number): boolean {
  return byte === MINUS || byte === PLUS || (byte >= 0x30 && byte <= 0x39) || byte === 0x4e || byte === 0x49;
}

function endsToken(byte: number): boolean {
  return byte <= 0x20 || byte === COMMA || byte === CLOSE_OBJECT || byte === CLOSE_LIST || byte === COLON;
}
