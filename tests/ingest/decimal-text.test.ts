import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isBlank, numberOfText, parseDecimal } from "../../src/ingest/values/decimal-text.ts";

const read = (text: string) => {
  const bytes = new TextEncoder().encode(`x${text}x`);
  return parseDecimal(bytes, 1, bytes.length - 1);
};

describe("parseDecimal", () => {
  it("gives what Number gives, for fixed decimals of any length", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e14, max: 1e14, noNaN: true }), fc.nat(15), (value, decimals) => {
        const text = value.toFixed(decimals);
        expect(read(`  ${text} `)).toBe(Number(text));
      }),
    );
  });

  it("gives what Number gives, for digits beyond what a double holds", () => {
    const digits = fc.array(fc.nat(9), { minLength: 14, maxLength: 21 }).map((list) => list.join(""));
    fc.assert(
      fc.property(digits, fc.nat(12), (text, point) => {
        const decimal = `${text.slice(0, point)}.${text.slice(point)}`;
        expect(read(decimal)).toBe(Number(decimal));
      }),
    );
  });

  it("gives what Number gives, for every finite double in its own notation", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(read(String(value))).toBe(Number(String(value)));
      }),
    );
  });

  it("is NaN for anything that is no decimal number", () => {
    for (const text of [
      "",
      "   ",
      "***",
      "1,5",
      "1.2.3",
      "--1",
      "abc",
      "1 2",
      ".",
      "-",
      "0x10",
      "Infinity",
    ]) {
      expect(read(text), text).toBeNaN();
    }
  });

  it("tells blanks from rubbish", () => {
    expect(isBlank(new TextEncoder().encode("  \0 "), 0, 4)).toBe(true);
    expect(isBlank(new TextEncoder().encode(" *"), 0, 2)).toBe(false);
  });
});

describe("numberOfText", () => {
  it("reads quantities and leaves codes alone", () => {
    expect(["0", "-1.5", "12.", ".5", "2e3", " 7 "].map(numberOfText)).toEqual([0, -1.5, 12, 0.5, 2000, 7]);
    for (const code of ["007", "060750179029", "1234567890123456", "1e9999", "A1", "", "1,5"]) {
      expect(numberOfText(code), code).toBeNaN();
    }
  });
});
