import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Attribution, attribute, type Evidence, nameCause } from "../../src/causes/attribution.ts";
import { CAUSES, type Cause } from "../../src/causes/causes.ts";
import { causesShown, digLogLikelihood } from "../../src/causes/dig-evidence.ts";
import { FACTORS, type Factor } from "../../src/cluster/predicted-loss.ts";
import { digsOf, losses, type OneDig } from "./support/parts.ts";

/** A cause is named from this probability on, by definition of `undetermined`. */
const NAMED_FROM = 0.7;

const NO_DIGS: Evidence = {
  digSupport: () => 0,
  shownByDigs: [],
  followsPasses: false,
  predictedByLog: false,
};

function probabilityOf(attribution: Attribution, cause: Cause): number {
  if (attribution.cause === cause && cause !== "undetermined") return attribution.probability;
  return attribution.alternatives.find((entry) => entry.cause === cause)?.probability ?? 0;
}

/** Probability that planting is behind it: all but the ground and what is kept back. */
function planting(attribution: Attribution): number {
  return FACTORS.reduce((sum, factor) => sum + probabilityOf(attribution, factor), 0);
}

const loss = fc.double({ min: 0, max: 0.2, noNaN: true });
const anyLosses = fc.record(
  Object.fromEntries(FACTORS.map((factor) => [factor, loss])) as Record<Factor, typeof loss>,
);
const anyDeficit = fc.option(
  fc.record({
    estimate: fc.double({ min: -0.1, max: 0.5, noNaN: true }),
    standardError: fc.double({ min: 0.003, max: 0.1, noNaN: true }),
  }),
);

describe("probabilities of the causes", () => {
  test("sum to 1, are ranked, and name a cause from 0.7 on only", () => {
    fc.assert(
      fc.property(anyLosses, anyDeficit, fc.boolean(), (predicted, deficit, followsPasses) => {
        const found = attribute(predicted, deficit, { ...NO_DIGS, followsPasses });
        const list = found.alternatives.map((entry) => entry.probability);
        const sum = list.reduce((a, b) => a + b, found.probability);
        expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
        expect([...list].sort((a, b) => b - a)).toEqual(list);
        for (const entry of found.alternatives) {
          expect(entry.probability).toBeGreaterThan(0);
          expect(CAUSES).toContain(entry.cause);
        }
        expect(new Set(found.alternatives.map((entry) => entry.cause)).size).toBe(list.length);
        if (found.cause === "undetermined") {
          expect(found.probability).toBe(0);
          expect(list[0]).toBeLessThan(NAMED_FROM);
        } else {
          expect(found.probability).toBeGreaterThanOrEqual(NAMED_FROM);
          expect(found.alternatives.map((entry) => entry.cause)).not.toContain(found.cause);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("are the same each time", () => {
    const predicted = losses({ "excess-speed": 0.04, misses: 0.03, "too-shallow": 0.02 });
    const deficit = { estimate: 0.08, standardError: 0.02 };
    expect(attribute(predicted, deficit, NO_DIGS)).toEqual(attribute(predicted, deficit, NO_DIGS));
  });

  test("below 0.7 nothing is named and all causes are listed", () => {
    const found = attribute(
      losses({ misses: 0.04, "too-shallow": 0.04 }),
      { estimate: 0.08, standardError: 0.01 },
      NO_DIGS,
    );
    expect(found.cause).toBe("undetermined");
    expect(found.alternatives.map((entry) => entry.cause)).toEqual(
      expect.arrayContaining(["misses", "too-shallow", "soil-or-weather"]),
    );
    // Alike in what they predict, alike in what they get: 2,000 draws leave about 0.01.
    expect(Math.abs(probabilityOf(found, "misses") - probabilityOf(found, "too-shallow"))).toBeLessThan(0.05);
  });
});

test("what is listed as undetermined never looks like a cause that can be named", () => {
  for (let percent = 50; percent <= 99.5; percent += 0.1) {
    const found = nameCause(
      new Map<Cause, number>([
        ["misses", percent],
        ["soil-or-weather", 100 - percent],
      ]),
    );
    const all = [{ cause: found.cause, probability: found.probability }, ...found.alternatives];
    expect(Math.abs(all.reduce((sum, entry) => sum + entry.probability, 0) - 1)).toBeLessThan(1e-9);
    const most = Math.max(...all.map((entry) => entry.probability));
    expect(found.cause === "undetermined").toBe(most < NAMED_FROM);
  }
});

describe("planting against the ground", () => {
  const deficit = { estimate: 0.1, standardError: 0.015 };

  test("the nearer the predicted loss comes to the deficit, the more likely planting is", () => {
    const shares = [0, 0.03, 0.04, 0.05, 0.06, 0.07].map((predicted) =>
      planting(attribute(losses({ "lost-ground-contact": predicted }), deficit, NO_DIGS)),
    );
    expect(shares[0]).toBe(0);
    for (let k = 1; k < shares.length; k++) expect(shares[k]).toBeGreaterThan(shares[k - 1]!);
    expect(shares.at(-1)).toBeGreaterThan(0.75);
  });

  test("the factor with the larger predicted loss is the likelier one", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...FACTORS),
        fc.constantFrom(...FACTORS),
        fc.double({ min: 0.02, max: 0.1, noNaN: true }),
        fc.double({ min: 1.5, max: 5, noNaN: true }),
        (large, small, size, times) => {
          fc.pre(large !== small);
          const predicted = losses({ [large]: size, [small]: size / times });
          const estimate = size + size / times;
          const found = attribute(predicted, { estimate, standardError: 0.02 }, NO_DIGS);
          expect(probabilityOf(found, large)).toBeGreaterThan(probabilityOf(found, small));
        },
      ),
      { numRuns: 40 },
    );
  });

  test("of two equal ones the depth is likelier where more plants are missing than predicted, the skips where fewer are", () => {
    const predicted = losses({ "too-shallow": 0.08, misses: 0.08 });
    const shallowAgainstSkips = (estimate: number): number => {
      const found = attribute(predicted, { estimate, standardError: 0.01 }, NO_DIGS);
      return probabilityOf(found, "too-shallow") - probabilityOf(found, "misses");
    };
    // What a skipped seed costs is known, what shallow seed costs is a judgement: the difference is the latter's.
    expect(shallowAgainstSkips(0.2)).toBeGreaterThan(0.2);
    expect(shallowAgainstSkips(0.12)).toBeLessThan(-0.2);
    expect(Math.abs(shallowAgainstSkips(0.16))).toBeLessThan(0.1);
  });

  test("a deficit without predicted loss is the ground or the weather", () => {
    const found = attribute(losses(), deficit, NO_DIGS);
    expect(found.cause).toBe("soil-or-weather");
    expect(found.probability).toBeGreaterThan(0.95);
  });

  test("a deficit far beyond what the log predicts is mostly the ground", () => {
    const found = attribute(losses({ misses: 0.02 }), { estimate: 0.28, standardError: 0.02 }, NO_DIGS);
    expect(probabilityOf(found, "soil-or-weather")).toBeGreaterThan(0.9);
  });

  test("the log alone is believed, but never as much as it could be", () => {
    const alone = attribute(losses({ "lost-ground-contact": 0.1 }), null, NO_DIGS);
    expect(alone.cause).toBe("lost-ground-contact");
    expect(alone.probability).toBeLessThan(0.9);
    expect(probabilityOf(alone, "soil-or-weather")).toBeGreaterThan(0.1);
  });

  test("the better the counts are known, the more a deficit as predicted speaks for planting", () => {
    const predicted = losses({ "lost-ground-contact": 0.03 });
    const known = [0.06, 0.03, 0.015, 0.005].map((standardError) =>
      planting(attribute(predicted, { estimate: 0.03, standardError }, NO_DIGS)),
    );
    for (let k = 1; k < known.length; k++) expect(known[k]).toBeGreaterThan(known[k - 1]!);
  });

  test("counts that agree with a place the log predicts never lower the probability of planting", () => {
    const total = fc.double({ min: 0.025, max: 0.2, noNaN: true });
    const error = fc.double({ min: 0.003, max: 0.05, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...FACTORS), total, error, (factor, estimate, standardError) => {
        const predicted = losses({ [factor]: estimate });
        const alone = planting(attribute(predicted, null, NO_DIGS));
        const counted = attribute(
          predicted,
          { estimate, standardError },
          { ...NO_DIGS, predictedByLog: true },
        );
        expect(planting(counted)).toBeGreaterThanOrEqual(alone - 0.001);
      }),
      { numRuns: 200 },
    );
  });

  test("a deficit of whole passes is less likely the ground's", () => {
    const predicted = losses({ "excess-speed": 0.05 });
    const measured = { estimate: 0.09, standardError: 0.02 };
    const ground = (followsPasses: boolean) =>
      probabilityOf(attribute(predicted, measured, { ...NO_DIGS, followsPasses }), "soil-or-weather");
    expect(ground(true)).toBeLessThan(ground(false));
  });
});

describe("digs move the probability of the cause they show", () => {
  const target = 50;
  const cases: [Cause, OneDig][] = [
    ["excess-down-force", { smear: "heavy", depthMm: 50 }],
    ["too-shallow", { depthMm: 35 }],
    ["too-deep", { depthMm: 65 }],
    ["soil-or-weather", { seedState: "leafed out underground", depthMm: 50 }],
  ];
  const predicted = losses({
    "excess-down-force": 0.04,
    "too-shallow": 0.04,
    "too-deep": 0.04,
    misses: 0.04,
  });
  const deficit = { estimate: 0.2, standardError: 0.03 };

  test.each(cases)("%s: up with digs that show it, down with sound ones", (cause, dig) => {
    const withDigs = (list: OneDig[]): number => {
      const digs = digsOf(list);
      const digSupport = (candidate: Cause) => digLogLikelihood(digs, [...list.keys()], candidate, target);
      return probabilityOf(attribute(predicted, deficit, { ...NO_DIGS, digSupport }), cause);
    };
    const sound: OneDig = { smear: "none", furrow: "closed", seedState: "fine", depthMm: target };
    const none = withDigs([]);
    expect(withDigs([dig, dig])).toBeGreaterThan(none);
    expect(withDigs([dig, dig, dig, dig])).toBeGreaterThan(withDigs([dig, dig]));
    expect(withDigs([sound, sound, sound])).toBeLessThan(none);
  });
});

describe("what only digs can show", () => {
  const unexplained = { estimate: 0.1, standardError: 0.02 };
  const found = (list: OneDig[]) => {
    const digs = digsOf(list);
    const which = [...list.keys()];
    return attribute(losses(), unexplained, {
      ...NO_DIGS,
      digSupport: (cause) => digLogLikelihood(digs, which, cause, 50),
      shownByDigs: causesShown(digs, which),
    });
  };
  const shown: [Cause, OneDig][] = [
    ["furrow-not-closed", { furrow: "open" }],
    ["residue-in-furrow", { furrow: "residue" }],
    ["dry-seedbed", { moisture: "dry", seedState: "swollen", furrow: "closed" }],
  ];

  test.each(shown)("%s is named from three digs of three, and not from one", (cause, dig) => {
    expect(found([dig, dig, dig])).toMatchObject({ cause });
    expect(found([dig]).cause).toBe("soil-or-weather");
    expect(probabilityOf(found([dig]), cause)).toBe(0);
  });

  test("needs half of the digs that looked, and swollen seed in fit ground is no dry seedbed", () => {
    expect(causesShown(digsOf([{ furrow: "open" }, { furrow: "open" }, {}]), [0, 1, 2])).toHaveLength(1);
    const third = [{ furrow: "open" }, { furrow: "open" }, ...Array<OneDig>(3).fill({ furrow: "closed" })];
    expect(causesShown(digsOf(third as OneDig[]), [0, 1, 2, 3, 4])).toEqual([]);
    const fit: OneDig = { moisture: "fit", seedState: "swollen" };
    expect(causesShown(digsOf([fit, fit, fit]), [0, 1, 2])).toEqual([]);
    expect(causesShown(null, [])).toEqual([]);
  });

  test("takes only from what the log does not explain", () => {
    const predicted = losses({ "lost-ground-contact": 0.1 });
    const evidence = { ...NO_DIGS, predictedByLog: true };
    const without = attribute(predicted, unexplained, evidence);
    const withDigs = attribute(predicted, unexplained, { ...evidence, shownByDigs: ["furrow-not-closed"] });
    // Probabilities are rounded to thousandths that sum to 1.
    expect(probabilityOf(withDigs, "lost-ground-contact")).toBeCloseTo(
      probabilityOf(without, "lost-ground-contact"),
      2,
    );
  });
});

test("naming keeps back a little for what nothing can show", () => {
  const found = nameCause(new Map<Cause, number>([["misses", 3]]));
  expect(found).toEqual({
    cause: "misses",
    probability: 0.99,
    alternatives: [{ cause: "undetermined", probability: 0.01 }],
  });
});
