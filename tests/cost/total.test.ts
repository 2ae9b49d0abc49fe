import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LossMoney, seedMoney } from "../../src/cost/money.ts";
import { type LossOnGround, lossByGroup, totalLoss } from "../../src/cost/total.ts";
import { worthFixing } from "../../src/cost/worth-fixing.ts";

const prices = { grainPerBushel: 4.5, expectedBushelPerAcre: 200, seedPer1000: 3.75, currency: "USD" };

function onGround(share: number, euros: number | null, inside: number[]): LossOnGround {
  const money: LossMoney | null =
    euros === null
      ? null
      : { estimate: euros, low: 0.5 * euros, high: 2 * euros, level: 0.9, currency: "EUR" };
  return {
    yieldShare: { estimate: share, low: share / 2, high: share * 2, level: 0.9 },
    money,
    inside: Uint8Array.from(inside),
  };
}

describe("loss by group", () => {
  it("spreads a finding over its ground and pays shared ground once: the parts sum to the whole", () => {
    const losses = [onGround(0.1, 100, [1, 1, 1, 1, 0]), onGround(0.4, 80, [0, 0, 0, 1, 0])];
    const areas = [100, 100, 100, 100, 500];
    const total = totalLoss(losses, areas);
    const zones = lossByGroup(losses, areas, total, [0, 0, 1, 1, 1], 0);
    expect(zones.map(({ group, areaM2 }) => [group, areaM2])).toEqual([
      [0, 200],
      [1, 200],
    ]);
    expect(zones.map(({ money }) => money.estimate)).toEqual([50, 105]);
    expect(zones.reduce((sum, { money }) => sum + money.high, 0)).toBeCloseTo(total.money!.high, 9);
  });

  it("leaves out ground of no group and losses without money", () => {
    const losses = [onGround(0.1, null, [1, 0]), onGround(0.1, 100, [0, 1])];
    const total = totalLoss(losses, [1, 1]);
    expect(lossByGroup(losses, [1, 1], total, [3, 0], 1)).toEqual([]);
  });
});

describe("total", () => {
  it("is the sum where no ground is shared", () => {
    const total = totalLoss(
      [onGround(0.1, 100, [1, 1, 0, 0]), onGround(0.2, 40, [0, 0, 1, 0])],
      [500, 700, 300, 900],
    );
    expect(total.countedShare).toEqual([1, 1]);
    expect(total.money).toEqual({ estimate: 140, low: 70, high: 280, level: 0.9, currency: "EUR" });
  });

  it("pays shared ground once, to the larger loss", () => {
    const total = totalLoss(
      [onGround(0.1, 100, [1, 1, 1, 1]), onGround(0.4, 80, [0, 0, 0, 1])],
      [100, 100, 100, 100],
    );
    expect(total.countedShare).toEqual([0.75, 1]);
    expect(total.money?.estimate).toBeCloseTo(155, 12);
    const twice = totalLoss([onGround(0.1, 100, [1, 1]), onGround(0.1, 100, [1, 1])], [60, 40]);
    expect(twice.countedShare).toEqual([1, 0]);
    expect(twice.money?.estimate).toBe(100);
  });

  it("leaves out what has no share, and ground without area", () => {
    const unpriced: LossOnGround = { yieldShare: null, money: null, inside: Uint8Array.of(1, 1) };
    const total = totalLoss([unpriced, onGround(0.1, 10, [1, 0])], [5, Number.NaN]);
    expect(total.countedShare).toEqual([0, 1]);
    expect(total.money?.estimate).toBe(10);
    expect(totalLoss([unpriced], [5, 5]).money).toBeNull();
    expect(totalLoss([onGround(0.1, null, [1, 1])], [5, 5]).money).toBeNull();
    expect(totalLoss([], [5])).toMatchObject({ money: null, countedShare: [] });
  });

  it("counts each piece of ground for exactly one finding", () => {
    const finding = fc.record({
      share: fc.double({ min: 0, max: 1, noNaN: true }),
      inside: fc.array(fc.constantFrom(0, 1), { minLength: 12, maxLength: 12 }),
    });
    fc.assert(
      fc.property(fc.array(finding, { minLength: 1, maxLength: 6 }), (findings) => {
        const area = Array.from({ length: 12 }, (_, piece) => 10 + piece);
        const areaOf = (inside: number[]) =>
          inside.reduce((sum, flag, piece) => sum + flag * area[piece]!, 0);
        const { countedShare } = totalLoss(
          findings.map(({ share, inside }) => onGround(share, 1, inside)),
          area,
        );
        const counted = findings.reduce(
          (sum, { inside }, index) => sum + countedShare[index]! * areaOf(inside),
          0,
        );
        const union = area.map((_, piece) => Number(findings.some(({ inside }) => inside[piece] === 1)));
        expect(counted).toBeCloseTo(areaOf(union), 9);
      }),
    );
  });
});

describe("seed", () => {
  it("beyond the target costs, below it saves", () => {
    expect(seedMoney(84_000, 80_000, 10, prices)).toEqual({ money: 150, seeds: 40_000, currency: "USD" });
    expect(seedMoney(79_000, 80_000, 10, prices)?.money).toBeCloseTo(-37.5, 12);
    expect(seedMoney(84_000, 80_000, 10, { ...prices, seedPer1000: null })).toBeNull();
  });
});

describe("worth fixing", () => {
  const loss: LossMoney = { estimate: 400, low: 200, high: 800, level: 0.9, currency: "USD" };
  it.each([
    [150, "pays within a year"],
    [200, "pays within a year"],
    [500, "may pay within a year"],
    [900, "does not pay within a year"],
  ])("a remedy of %f: %s", (cost, verdict) => {
    expect(worthFixing(loss, cost).verdict).toBe(verdict);
  });
  it("gives the years that make up the cost, open where the loss may be nothing", () => {
    expect(worthFixing(loss, 800).years).toEqual({ estimate: 2, low: 1, high: 4 });
    expect(worthFixing({ ...loss, low: 0 }, 800).years).toEqual({ estimate: 2, low: 1, high: null });
  });
  it("makes up no figure", () => {
    expect(worthFixing(loss, null)).toMatchObject({ verdict: "unknown", years: null });
    expect(worthFixing(loss, null).note).toContain("cost of the remedy");
    expect(worthFixing(null, 100).note).toContain("loss in money");
    expect(worthFixing(loss, Number.NaN).verdict).toBe("unknown");
  });
});
