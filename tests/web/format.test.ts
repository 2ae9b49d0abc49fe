/** What the page says of targets, money and missing values. */
import { describe, expect, it } from "vitest";
import {
  formatBare,
  formatKnown,
  formatMoneyRange,
  formatShareEstimate,
  formatTarget,
  plural,
  roundMoney,
} from "../../web/words/format.ts";

describe("words of the page", () => {
  it("writes targets with one unit, in the units asked for", () => {
    // 267 N = 60.02 lbf and 712 N = 160.06 lbf (1 lbf = 4.4482216152605 N exactly); 2 in = 50.8 mm exactly.
    expect(formatTarget([267, 712], "force", "farm")).toBe("60–160 lb");
    expect(formatTarget([267, 712], "force", "metric")).toBe("270–710 N");
    expect(formatTarget(50.8, "depth", "farm")).toBe("2.00 in");
    expect(formatTarget(null, "depth", "farm")).toBe("none set");
  });

  it("leaves the unit to the row's name where a table has one", () => {
    expect(formatBare([267, 712], "force", "farm")).toBe("60–160");
    expect(formatBare(50.8, "depth", "farm")).toBe("2.00");
    expect(formatBare(null, "depth", "farm")).toBe("–");
  });

  it("says what is not known", () => {
    expect(formatKnown(null, "depth", "farm")).toBe("not known");
    expect(formatKnown(Number.NaN, "depth", "farm")).toBe("not known");
    expect(formatKnown(25.4, "depth", "farm")).toBe("1.00 in");
  });

  it("gives estimated money no false figures", () => {
    expect(roundMoney(1243.7, "USD")).toBe("USD 1,200");
    expect(roundMoney(316, "USD")).toBe("USD 320");
    expect(roundMoney(47.4, "USD")).toBe("USD 47");
    const money = { estimate: 310, low: 184, high: 1439, level: 0.9, currency: "USD" };
    expect(formatMoneyRange(money)).toBe("USD 180 to 1,400");
  });

  it("writes shares with their interval and counts with their noun", () => {
    expect(formatShareEstimate({ estimate: 0.12, low: 0.08, high: 0.163, level: 0.9 })).toBe(
      "12 % (8 to 16)",
    );
    expect([plural(1, "dig"), plural(4, "dig"), plural(1200, "pass", "passes")]).toEqual([
      "1 dig",
      "4 digs",
      "1,200 passes",
    ]);
  });
});
