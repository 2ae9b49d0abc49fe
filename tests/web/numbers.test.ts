/** Which way of writing numbers the page takes, and what it makes of a number typed in that way. */
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import { figureText, moneyIn, writeFigure } from "../../web/stand-and-money/figures.ts";
import { formatMoneyRange, formatQuantity, formatShareEstimate, plural } from "../../web/words/format.ts";
import { localeOf, numberChoice, readTyped, toType } from "../../web/words/numbers.ts";

afterEach(() => {
  numberChoice.value = "auto";
});

describe("the way numbers are written", () => {
  it("is English for every language that writes as English does, and for what is no language", () => {
    expect(["en-US", "en-GB", "ja", "no language!", ""].map(localeOf)).toEqual([
      "en",
      "en",
      "en",
      "en",
      "en",
    ]);
    expect(["de", "fr-CA", "sv", "en-IN"].map(localeOf)).toEqual(["de", "fr-CA", "sv", "en-IN"]);
  });

  it("is followed by every figure of the page as soon as it is chosen", () => {
    const money = { estimate: 1310, low: 184, high: 1439, level: 0.9, currency: "USD" };
    const share = { estimate: 0.125, low: 0.0812, high: 0.163, level: 0.9 };
    const said = () =>
      [
        formatQuantity(50.8, "depth", "farm"),
        plural(1200, "pass", "passes"),
        formatMoneyRange(money),
        formatShareEstimate(share, 1),
      ].map((text) => text.replaceAll(/[\u00a0\u202f]/g, " "));
    expect(said()).toEqual(["2.00 in", "1,200 passes", "USD 180 to 1,400", "12.5 % (8.1 to 16.3)"]);
    numberChoice.value = "1 234,5";
    expect(said()).toEqual(["2,00 in", "1 200 passes", "180 to 1 400 USD", "12,5 % (8,1 to 16,3)"]);
    numberChoice.value = "1.234,5";
    expect(said()).toEqual(["2,00 in", "1.200 passes", "180 to 1.400 USD", "12,5 % (8,1 to 16,3)"]);
  });
});

describe("a number as it is typed", () => {
  it.each([
    ["en", "1,234.5", 1234.5],
    ["en", "1,234", 1234],
    ["en", "0,5", 0.5],
    ["en", "900,000", 900_000],
    ["de", "1.234,5", 1234.5],
    ["de", "1.234", 1234],
    ["de", "1,234", 1.234],
    ["de", "0.5", 0.5],
    ["fr", "1 234,5", 1234.5],
    ["fr", "1\u202f234,5", 1234.5],
    ["fr", "1.500", 1.5],
    ["de-CH", "1\u2019234.5", 1234.5],
    ["en", " -12 ", -12],
    ["de", ",5", 0.5],
  ])("%s: %s", (locale, text, value) => {
    expect(readTyped(text, locale)).toBe(value);
  });

  it.each(["", " ", "much", "1,2,3", "1.2.3", "1.234,5x", "1,23.4,5", "-", ".", "1e3", "Infinity"])(
    "%s is none in any way of writing",
    (text) => {
      for (const locale of ["en", "fr", "de"]) expect(readTyped(text, locale)).toBeNaN();
    },
  );

  it("is read back from what the page puts into a box", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("en", "fr", "de", "de-CH", "sv"),
        fc.integer({ min: -9_999_999, max: 9_999_999 }),
        fc.integer({ min: 0, max: 2 }),
        (locale, whole, decimals) => {
          const value = whole / 10 ** decimals;
          expect(readTyped(toType(value, locale), locale)).toBe(value === 0 ? 0 : value);
        },
      ),
    );
  });

  it("keeps its value when another way of writing is chosen", () => {
    numberChoice.value = "1.234,5";
    writeFigure("a field", "seed", "1.500");
    writeFigure("a field", "on", "2026-06-01");
    expect(moneyIn(figureText("a field", "seed", null))).toBe(1500);
    numberChoice.value = "1,234.5";
    expect(moneyIn(figureText("a field", "seed", null))).toBe(1500);
    expect(figureText("a field", "on", null)).toBe("2026-06-01");
    numberChoice.value = "1 234,5";
    expect(figureText("a field", "other", 4.5)).toBe("4,5");
  });
});
