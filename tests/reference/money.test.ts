/** Published and customary sums of money. Source and tolerance stand beside each figure. */
import { describe, expect, it } from "vitest";
import { moneyOfShare, thousandSeedsPerBushel } from "../../src/cost/money.ts";
import { worthOfPlants } from "../../src/cost/more-plants.ts";
import { ACRES_PER_HECTARE } from "../../src/quantities/units.ts";
import { CORN_ILLINOIS_1994 } from "../../src/stand/published-tables.ts";
import { yieldShareOf } from "../../src/stand/yield-potential.ts";

const perHa = (plantsPerAcre: number): number => plantsPerAcre * ACRES_PER_HECTARE;

describe("seed against grain", () => {
  // Nafziger, Univ. of Illinois, trade press: 300 USD for 80,000 seeds is 3.75 a thousand; at 4.50 USD/bu one bushel
  // buys 1,200 seeds. Exact.
  it("one bushel buys 1.2 thousand seeds", () => {
    const prices = {
      grainPerBushel: 4.5,
      expectedBushelPerAcre: null,
      seedPer1000: 300 / 80,
      currency: "USD",
    };
    expect(thousandSeedsPerBushel(prices)).toBeCloseTo(1.2, 12);
  });
});

describe("2,000 more productive plants of 35,000", () => {
  // "Worth 10 to 14 bu/ac": common practice, no source. It is the yield divided by the plants: 175 to 245 bu/ac.
  const worth = worthOfPlants(perHa(2_000), perHa(35_000), "2026-05-01");
  it("are worth 10 to 14 bu/ac when each counts as a mean plant", () => {
    expect(worth.wholePlants * 175).toBeCloseTo(10, 9);
    expect(worth.wholePlants * 200).toBeCloseTo(11.43, 2);
    expect(worth.wholePlants * 245).toBeCloseTo(14, 9);
  });

  // The same 2,000 plants missing from a full row: less, for the neighbours' recovery (Nafziger 1996: 19 % at 30,000).
  it("are worth a fifth less when they are missing in gaps", () => {
    expect(worth.inGaps! / worth.wholePlants).toBeGreaterThan(0.8);
    expect(worth.inGaps! / worth.wholePlants).toBeLessThan(0.83);
  });

  // And evenly thinner: nothing; the table of Nafziger 1994 has 98 % at 35,000 and 99.5 % at 33,000 at this date.
  it("are worth nothing by the stand table, which is flat there", () => {
    expect(worth.evenlyThinner!).toBeLessThanOrEqual(0);
    expect(worth.evenlyThinner!).toBeGreaterThan(-0.02);
  });
});

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
