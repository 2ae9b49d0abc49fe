/** Decimal numbers out of ASCII bytes, exact, without making a string of each. */

/** 10^0 .. 10^22, the powers of ten a double holds exactly. */
const POWERS_OF_TEN = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));
const MOST_DIGITS = 15;

const SPACE = 0x20;
const PLUS = 0x2b;
const MINUS = 0x2d;
const POINT = 0x2e;
const ZERO = 0x30;
const NINE = 0x39;

/**
 * Reads bytes [start, end) as one decimal number such as `-12.50`, spaces around it allowed.
 *
 * Up to 15 digits the value is an integer below 2^53 divided by an exact power of ten, which IEEE 754
 * rounds correctly (W. D. Clinger, How to read floating point numbers accurately, 1990), so the result
 * is the one `Number()` gives. Longer numbers and exponents go through `Number()` itself.
 * @returns the number; NaN where the bytes are blank or no decimal number (tell the two apart with {@link isBlank}).
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number): number {
  let from = start;
  let to = end;
  while (from < to && bytes[from]! <= SPACE) from++;
  while (to > from && bytes[to - 1]! <= SPACE) to--;
  let at = from;
  let negative = false;
  const sign = bytes[at];
  if (at < to && (sign === MINUS || sign === PLUS)) {
    negative = sign === MINUS;
    at++;
  }
  let mantissa = 0;
  let digits = 0;
  let decimals = -1;
  for (; at < to; at++) {
    const byte = bytes[at]!;
    if (byte >= ZERO && byte <= NINE) {
      mantissa = mantissa * 10 + (byte - ZERO);
      digits++;
      if (decimals >= 0) decimals++;
    } else if (byte === POINT && decimals < 0) {
      decimals = 0;
    } else {
      return parseSlowly(bytes, from, to);
    }
  }
  if (digits === 0) return Number.NaN;
  if (digits > MOST_DIGITS) return parseSlowly(bytes, from, to);
  const value = decimals > 0 ? mantissa / POWERS_OF_TEN[decimals]! : mantissa;
  return negative ? -value : value;
}

/** True where bytes [start, end) hold nothing but spaces, NULs and other control characters. */
export function isBlank(bytes: Uint8Array, start: number, end: number): boolean {
  for (let at = start; at < end; at++) if (bytes[at]! > SPACE) return false;
  return true;
}

const DECIMAL = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

function parseSlowly(bytes: Uint8Array, from: number, to: number): number {
  if (to - from > 400) return Number.NaN;
  let text = "";
  for (let at = from; at < to; at++) text += String.fromCharCode(bytes[at]!);
  return DECIMAL.test(text) ? Number(text) : Number.NaN;
}

const PLAIN_NUMBER = /^[-+]?(?:(?:0|[1-9]\d{0,14})(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d{1,3})?$/;

/**
 * The number a text stands for when it is surely meant as one, else NaN. A text with leading zeros
 * ("007") or more than 15 whole digits is a code, not a quantity, and stays text.
 */
export function numberOfText(text: string): number {
  const trimmed = text.trim();
  return PLAIN_NUMBER.test(trimmed) ? Number(trimmed) : Number.NaN;
}
