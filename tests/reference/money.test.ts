/** Published and customary sums of money. Source and tolerance stand beside each figure. */
import { describe, expect, it } from "vitest";
import { moneyOfShare } from "../../src/cost/money.ts";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
import { CORN_ILLINOIS_1994 } from "../../src/stand/published-tables.ts";
import { yieldShareOf } from "../../src/stand/yield-potential.ts";

const perHa = (plantsPerAcre: number): number => plantsPerAcre * ACRES_PER_HECTARE;

describe("money of a loss", () => {
  // 10 bu/ac at 7 USD/bu on 1,000 ac are 70,000 USD: common practice, no source; arithmetic, exact.
  it("10 bu/ac at 7 on 1,000 ac is 70,000", () => {
    const share = 10 / 200;
    const money = moneyOfShare(
      { estimate: share, low: share, high: share, level: 0.9 },
      1000 / ACRES_PER_HECTARE,
      { grainPerBushel: 7, expectedBushelPerAcre: 200, seedPer1000: null, currency: "USD" },
    );
    expect(money?.estimate).toBeCloseTo(70_000, 6);
  });
});

describe("keep or replant, by the 1994 table", () => {
  // Computed from the printed table at 200 bu/ac, 4.50 USD/bu and 55 USD/ac to replant; whole dollars.
  const gainPerAcre = (keep: [number, string], replant: [number, string]): number => {
    const share = ([stand, date]: [number, string]) =>
      yieldShareOf(perHa(stand), date, CORN_ILLINOIS_1994).share!;
    return (share(replant) - share(keep)) * 200 * 4.5 - 55;
  };
  it("a stand of 17,500 is kept rather than replanted on May 30", () => {
    expect(gainPerAcre([17_500, "2018-04-30"], [30_000, "2018-05-30"])).toBeCloseTo(-109, 6);
  });
  it("a stand of 12,000 is worth replanting on May 20", () => {
    expect(gainPerAcre([12_000, "2018-04-30"], [30_000, "2018-05-20"])).toBeCloseTo(98, 6);
  });
});
