import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readWrittenQuantity } from "../../src/recognise/units/written-quantity.ts";

describe("quantities as people write them", () => {
  it.each([
    ["1.5 in", 1.5, "in"],
    ['1 1/2"', 1.5, "in"],
    ["1-1/2 inches", 1.5, "in"],
    ["1½ in", 1.5, "in"],
    ["3/4”", 0.75, "in"],
    ["17'5\"", 17 + 5 / 12, "ft"],
    ["17 ft 5 in", 17 + 5 / 12, "ft"],
    ["17'", 17, "ft"],
    ["38mm", 38, "mm"],
    ["1,5 cm", 1.5, "cm"],
    ["34,000 plants/ac", 34_000, "plants/ac"],
    ["~2 in.", 2, "in"],
    ["-3 C", -3, "C"],
    ["12 %", 12, "%"],
    [" 7 ", 7, null],
  ])("%s", (text, value, unit) => {
    const read = readWrittenQuantity(text);
    expect(read!.value).toBeCloseTo(value, 12);
    expect(read!.units[0] ?? null).toBe(unit);
  });

  it.each(["deep", "", "in", "2 or so", "1.5 furlongs", "5'13\"", "1/0 in", "constructor", "3 __proto__"])(
    "%j is none",
    (text) => {
      expect(readWrittenQuantity(text)).toBeNull();
    },
  );

  it("reads back what is written plainly", () => {
    const unit = fc.constantFrom("in", "mm", "cm", "ft", "m", "lbf", "N", "mi/h");
    fc.assert(
      fc.property(fc.integer({ min: -999_999, max: 999_999 }), unit, (thousandths, name) => {
        const value = thousandths / 1000;
        expect(readWrittenQuantity(`${value} ${name}`)).toMatchObject({ value, units: [name] });
      }),
    );
  });

  it("never fails, whatever the cell holds", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = readWrittenQuantity(text);
        expect(read === null || Number.isFinite(read.value)).toBe(true);
      }),
    );
  });
});
