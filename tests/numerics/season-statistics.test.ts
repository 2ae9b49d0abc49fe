/** Statistics over many fields: false discovery rate, random effects, shrinkage, values that lie apart. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { falseDiscovery } from "../../src/numerics/false-discovery.ts";
import { fisherExact } from "../../src/numerics/fisher-exact.ts";
import { lyingApart, outlying } from "../../src/numerics/outlying.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { combineEffects, shrinkEffects } from "../../src/numerics/random-effects.ts";

const share = fc.double({ min: 0, max: 1, noNaN: true });

describe("the false discovery rate", () => {
  it("calls the four of Benjamini & Hochberg's fifteen p-values (1995, section 3.2) that they call at 0.05", () => {
    const p = [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
      0.759, 1,
    ];
    expect(falseDiscovery(p).filter((q) => q <= 0.05)).toHaveLength(4);
    expect(falseDiscovery(p)[3]).toBeCloseTo((0.0095 * 15) / 4, 12);
  });

  const folder = process.env.EVENSTAND_REFERENCE;
  it.skipIf(!folder)("agrees with the reference file", () => {
    const file = JSON.parse(
      readFileSync(join(folder!, "reference/statistics/quantile_fdr_robust.json"), "utf8"),
    );
    const { p, BH } = file.benjamini_hochberg_1995 as { p: number[]; BH: number[] };
    expect(falseDiscovery(p)).toEqual(BH.map((value) => expect.closeTo(value, 12)));
  });

  it("never lowers a p-value, keeps their order and does not mind the order they come in", () => {
    fc.assert(
      fc.property(fc.array(share, { maxLength: 40 }), (p) => {
        const q = falseDiscovery(p);
        p.forEach((one, i) => {
          expect(q[i]).toBeGreaterThanOrEqual(one - 1e-15);
          expect(q[i]).toBeLessThanOrEqual(1);
          p.forEach((other, k) => {
            if (one < other) expect(q[i]).toBeLessThanOrEqual(q[k]!);
          });
        });
        expect(falseDiscovery(p.toReversed()).toReversed()).toEqual(q);
      }),
    );
  });
});

describe("how often, against the others", () => {
  it("gives the chance of Fisher's lady who tells three of four cups (16 + 1 in 70)", () => {
    expect(fisherExact(3, 4, 1, 4)).toBeCloseTo(17 / 70, 12);
    expect(fisherExact(4, 4, 0, 4)).toBeCloseTo(1 / 70, 12);
  });

  it("is a chance, sure without hits, and falls with every hit", () => {
    const few = fc.integer({ min: 0, max: 30 });
    fc.assert(
      fc.property(few, few, few, few, (a, restA, b, restB) => {
        const chance = fisherExact(a, a + restA, b, b + restB);
        expect(chance).toBeGreaterThan(0);
        expect(chance).toBeLessThanOrEqual(1);
        expect(fisherExact(0, a + restA, b, b + restB)).toBeCloseTo(1, 9);
        if (restA > 0 && b > 0)
          expect(fisherExact(a + 1, a + restA, b - 1, b + restB)).toBeLessThanOrEqual(chance + 1e-12);
      }),
    );
  });
});

describe("one effect over many places", () => {
  /** Thirteen trials of a vaccine (Colditz et al. 1994, JAMA 271:698-702), logarithms of the risk ratio; from memory. */
  const TRIALS: [value: number, variance: number][] = [
    [-0.8893, 0.3256],
    [-1.5854, 0.1946],
    [-1.3481, 0.4154],
    [-1.4416, 0.02],
    [-0.2175, 0.0512],
    [-0.7861, 0.0069],
    [-1.6209, 0.223],
    [0.012, 0.004],
    [-0.4694, 0.0564],
    [-1.3713, 0.073],
    [-0.3394, 0.0124],
    [0.4459, 0.5325],
    [-0.0173, 0.0714],
  ];

  it("gives the published variance between the trials, by Hedges & Olkin (from memory), and the mean near the usual ones", () => {
    const { estimate, between, df } = combineEffects(
      TRIALS.map(([value, variance]) => ({ value, variance })),
    )!;
    expect(between).toBeCloseTo(0.3286, 3);
    expect(estimate).toBeCloseTo(-0.715, 2);
    expect(df).toBe(12);
  });

  it("follows a change of unit and of zero, and lies within the places", () => {
    const places = fc.array(
      fc.record({
        value: fc.double({ min: -50, max: 50, noNaN: true }),
        variance: fc.double({ min: 0.01, max: 20, noNaN: true }),
      }),
      { minLength: 2, maxLength: 20 },
    );
    fc.assert(
      fc.property(places, fc.double({ min: -9, max: 9, noNaN: true }), (given, shift) => {
        const plain = combineEffects(given)!;
        const moved = combineEffects(
          given.map(({ value, variance }) => ({ value: 3 * value + shift, variance: 9 * variance })),
        )!;
        expect(moved.estimate).toBeCloseTo(3 * plain.estimate + shift, 6);
        expect(moved.variance).toBeCloseTo(9 * plain.variance, 6);
        const values = given.map(({ value }) => value);
        expect(plain.estimate).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(plain.estimate).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      }),
    );
  });

  it("says nothing of a single place", () => {
    expect(combineEffects([{ value: 1, variance: 1 }])).toBeNull();
  });
});

describe("effects of like things", () => {
  it("are pulled towards nothing, never past it, the less certain ones the further", () => {
    const things = fc.array(
      fc.record({
        value: fc.double({ min: -5, max: 5, noNaN: true }),
        variance: fc.double({ min: 0.01, max: 4, noNaN: true }),
      }),
      { minLength: 3, maxLength: 24 },
    );
    fc.assert(
      fc.property(things, (given) => {
        const shrunken = shrinkEffects(given);
        given.forEach(({ value, variance }, k) => {
          expect(Math.abs(shrunken[k]!.estimate)).toBeLessThanOrEqual(Math.abs(value) + 1e-12);
          expect(shrunken[k]!.estimate * value).toBeGreaterThanOrEqual(0);
          given.forEach((other, j) => {
            if (variance > other.variance)
              expect(shrunken[k]!.ownWeight).toBeLessThanOrEqual(shrunken[j]!.ownWeight + 1e-12);
          });
        });
      }),
    );
  });

  it("lie nearer to the truth than the means themselves, and the intervals hold it about as often as they say", () => {
    const random = seededRandom(5);
    let [plain, pulled, inside, all] = [0, 0, 0, 0];
    for (let bar = 0; bar < 400; bar++) {
      const truths = Array.from({ length: 16 }, () => normal(random));
      const given = truths.map((truth) => {
        const variance = 0.3 + 2 * random();
        return { value: truth + Math.sqrt(variance) * normal(random), variance };
      });
      shrinkEffects(given).forEach(({ estimate, variance }, k) => {
        plain += (given[k]!.value - truths[k]!) ** 2;
        pulled += (estimate - truths[k]!) ** 2;
        if (Math.abs(estimate - truths[k]!) <= 1.645 * Math.sqrt(variance)) inside++;
        all++;
      });
    }
    expect(pulled).toBeLessThan(0.6 * plain);
    expect(inside / all).toBeGreaterThan(0.87);
    expect(inside / all).toBeLessThan(0.94);
  });
});

describe("values that lie apart", () => {
  it("are the three of Rosner's 54 (1983; from memory)", () => {
    const values = [
      -0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69,
      1.7, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35,
      2.37, 2.4, 2.47, 2.54, 2.62, 2.64, 2.9, 2.92, 2.92, 2.93, 3.21, 3.26, 3.3, 3.59, 3.68, 4.3, 4.64, 5.34,
      5.42, 6.01,
    ];
    expect([...lyingApart(values)].map((k) => values[k]).sort()).toEqual([5.34, 5.42, 6.01]);
  });

  it("are called among like values about as often as said", () => {
    const random = seededRandom(11);
    let [called, all] = [0, 0];
    for (let bar = 0; bar < 600; bar++) {
      const values = Array.from({ length: 16 }, () => ({ value: normal(random), variance: 0 }));
      for (const { pValue } of outlying(values)!) {
        if (pValue < 0.01) called++;
        all++;
      }
    }
    // Leaving the far ones out of the rest costs a little; it must not cost much.
    expect(called / all).toBeGreaterThan(0.005);
    expect(called / all).toBeLessThan(0.016);
  });

  it("are found two at a time, and an uncertain value is not called for its error", () => {
    const random = seededRandom(3);
    const values = Array.from({ length: 16 }, () => ({ value: normal(random), variance: 0 }));
    values[4]!.value = 9;
    values[11]!.value = 9.5;
    const found = outlying(values)!;
    expect(found[4]!.pValue).toBeLessThan(1e-4);
    expect(found[11]!.pValue).toBeLessThan(1e-4);
    values[4]!.variance = 30;
    expect(outlying(values)![4]!.pValue).toBeGreaterThan(0.05);
  });

  it("are not looked for among fewer than five", () => {
    expect(outlying([{ value: 1, variance: 0 }])).toBeNull();
  });
});
