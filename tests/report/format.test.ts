import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formatMoney,
  formatNumber,
  formatPercent,
  formatQuantity,
  groupThousands,
  hectares,
  type QuantityKind,
  shownValue,
  type UnitSystem,
  unitLabel,
} from "../../src/quantities/format.ts";
import { parseQuantity } from "../../src/quantities/units.ts";

const KINDS = ["depth", "force", "speed", "seeds", "plants", "share", "area", "length"] as const;
const SYSTEMS = ["farm", "metric"] as const;

/** Inside unit of each kind, and half of the last digit shown, in that unit. */
const INSIDE: Record<QuantityKind, string> = {
  depth: "mm",
  force: "N",
  speed: "m/s",
  acceleration: "m/s",
  seeds: "seeds/ha",
  plants: "plants/ha",
  share: "share",
  area: "ha",
  length: "m",
};

const kind = fc.constantFrom(...KINDS);
const system = fc.constantFrom(...SYSTEMS);

describe("quantities as people read them", () => {
  it("read back by the reader of units they are the same to the last digit shown", () => {
    fc.assert(
      fc.property(kind, system, fc.double({ min: -2e5, max: 2e5, noNaN: true }), (of, units, value) => {
        const text = formatQuantity(value, of, units);
        const back = parseQuantity(text, INSIDE[of]);
        const step = shownStep(of, units);
        const away = Math.abs(shownValue(back, of, units) - shownValue(value, of, units));
        expect(away, text).toBeLessThanOrEqual(step / 2 + 1e-6);
      }),
    );
  });

  it("never show minus nothing, and group the thousands by commas", () => {
    fc.assert(
      fc.property(kind, system, fc.double({ min: -1e7, max: 1e7, noNaN: true }), (of, units, value) => {
        const text = formatNumber(value, of, units);
        expect(text).toMatch(/^-?\d{1,3}(,\d{3})*(\.\d+)?$/);
        if (/^-/.test(text)) expect(Number(text.replaceAll(",", ""))).toBeLessThan(0);
      }),
    );
    for (const of of KINDS)
      for (const units of SYSTEMS) expect(formatNumber(-1e-9, of, units)).not.toContain("-");
  });

  it("farm units are what a farmer writes", () => {
    // By hand: 50.8 mm = 2 in, 444.822 N = 100 lbf, 2.2352 m/s = 5 mi/h, 1 ha = 2.471 ac.
    expect(formatQuantity(50.8, "depth", "farm")).toBe("2.00 in");
    expect(formatQuantity(444.8222, "force", "farm")).toBe("100 lb");
    expect(formatQuantity(2.2352, "speed", "farm")).toBe("5.0 mph");
    expect(formatQuantity(84_016, "seeds", "farm")).toBe("34,000 seeds/ac");
    expect(formatQuantity(78_826, "plants", "farm")).toBe("31,900 plants/ac");
    expect(formatQuantity(0.16, "share", "farm")).toBe("16.0 %");
    expect(formatQuantity(1, "area", "farm")).toBe("2.5 ac");
    expect(formatQuantity(30.48, "length", "farm")).toBe("100 ft");
  });

  it("metric units, rounded where the last digits would be false precision", () => {
    expect(formatQuantity(50.8, "depth", "metric")).toBe("51 mm");
    expect(formatQuantity(444.8, "force", "metric")).toBe("440 N");
    expect(formatQuantity(2.5, "speed", "metric")).toBe("9.0 km/h");
    expect(formatQuantity(84_016, "seeds", "metric")).toBe("84,000 seeds/ha");
    expect(unitLabel("area", "metric")).toBe("ha");
  });
});

it("money, percent, thousands, hectares", () => {
  // An estimate carries two figures or so.
  expect(formatMoney(1239.6, "USD")).toBe("USD 1,200");
  expect(formatMoney(184.4, "USD")).toBe("USD 180");
  expect(formatMoney(84.4, "USD")).toBe("USD 84");
  expect(formatMoney(-0.3, "USD")).toBe("USD 0");
  expect(formatMoney(-1240, "EUR")).toBe("EUR -1,200");
  expect(formatPercent(0.934)).toBe("93 %");
  expect(formatPercent(0.0716, 1)).toBe("7.2 %");
  expect(formatPercent(-0.0001)).not.toContain("-");
  expect(["1", "12", "123", "1234", "1234567", "1234567.1234", "-1234", "-0.00"].map((digits) => groupThousands(digits))).toEqual([
    "1", "12", "123", "1,234", "1,234,567", "1,234,567.1234", "-1,234", "0.00",
  ]); // biome-ignore format: two lines
  expect(hectares(25_000)).toBe(2.5);
});

/** Step of the figures shown: the last decimal, or the multiple that is rounded to. */
function shownStep(of: QuantityKind, units: UnitSystem): number {
  if (of === "seeds" || of === "plants") return 100;
  if (of === "force" && units === "metric") return 10;
  if (of === "depth" && units === "farm") return 0.01;
  return of === "speed" || of === "share" || of === "area" ? 0.1 : 1;
}

describe("figures in the reader's locale", () => {
  // Separators and the place of the currency: Unicode CLDR, "fr" (U+202F, U+00A0) and "de".
  it("decimal sign, grouping and money as the locale has them, rounded as in English", () => {
    const written = (locale?: string) => [
      formatQuantity(50.8, "depth", "farm", locale),
      formatQuantity(78_830, "seeds", "farm", locale),
      formatNumber(-0.001, "depth", "farm", locale),
      formatPercent(0.163, 1, locale),
      formatMoney(1243.7, "USD", locale),
      formatMoney(-316, "EUR", locale),
      groupThousands("1234567.50", locale),
    ];
    const english = ["2.00 in", "31,900 seeds/ac", "0.00", "16.3 %", "USD 1,200", "EUR -320", "1,234,567.50"];
    expect(written()).toEqual(english);
    expect(written("en")).toEqual(english);
    expect(written("de")).toEqual([
      "2,00 in",
      "31.900 seeds/ac",
      "0,00",
      "16,3 %",
      "1.200\u00a0USD",
      "-320\u00a0EUR",
      "1.234.567,50",
    ]);
    expect(written("fr")).toEqual([
      "2,00 in",
      "31\u202f900 seeds/ac",
      "0,00",
      "16,3 %",
      "1\u202f200\u00a0USD",
      "-320\u00a0EUR",
      "1\u202f234\u202f567,50",
    ]);
  });

  it("digits stay those of English, and a currency that is none is written as it stands", () => {
    expect(formatQuantity(50.8, "depth", "farm", "ar-EG")).toMatch(/^2\D00 in$/);
    expect(formatMoney(1243.7, "sacks", "de")).toBe("sacks 1.200");
  });
});
