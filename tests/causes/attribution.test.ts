import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Attribution,
  heldTo,
  nameCause,
  weightsFromLog,
} from "../../src/causes/evidence/attribution.ts";
import { FACTORS, type Factor } from "../../src/cells/predicted-loss.ts";
import { CAUSES, type Cause } from "../../src/vocabulary/causes.ts";
import { losses } from "./support/parts.ts";

/** A cause is named from this probability on, by definition of `undetermined`. */
const NAMED_FROM = 0.7;

function probabilityOf(attribution: Attribution, cause: Cause): number {
  if (attribution.cause === cause && cause !== "undetermined") return attribution.probability;
  return attribution.alternatives.find((entry) => entry.cause === cause)?.probability ?? 0;
}

function sumOf(weights: ReadonlyMap<Cause, number>): number {
  return [...weights.values()].reduce((sum, weight) => sum + weight, 0);
}

/** Share of the weights that planting has, all factors together. */
function planting(weights: ReadonlyMap<Cause, number>): number {
  return FACTORS.reduce((sum, factor) => sum + (weights.get(factor) ?? 0), 0);
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
  it("sum to 1, are ranked, and name a cause from 0.7 on only", () => {
    fc.assert(
      fc.property(anyLosses, anyDeficit, (predicted, deficit) => {
        const weights = weightsFromLog(predicted, deficit);
        expect(Math.abs(sumOf(weights) - 1)).toBeLessThan(1e-9);
        const found = nameCause(weights);
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

  it("are the same each time", () => {
    const predicted = losses({ "excess-speed": 0.04, misses: 0.03, "too-shallow": 0.02 });
    const deficit = { estimate: 0.08, standardError: 0.02 };
    expect(weightsFromLog(predicted, deficit)).toEqual(weightsFromLog(predicted, deficit));
  });

  it("below 0.7 nothing is named and all causes are listed", () => {
    const found = nameCause(
      weightsFromLog(losses({ misses: 0.04, "too-shallow": 0.04 }), { estimate: 0.08, standardError: 0.04 }),
    );
    expect(found.cause).toBe("undetermined");
    expect(found.alternatives.map((entry) => entry.cause).sort()).toEqual([
      "misses",
      "not-in-the-log",
      "too-shallow",
    ]);
    // Alike in what they predict, alike in what they get: 2,000 draws leave about 0.01.
    expect(Math.abs(probabilityOf(found, "misses") - probabilityOf(found, "too-shallow"))).toBeLessThan(0.05);
  });
});

it("what is listed as undetermined never looks like a cause that can be named", () => {
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

describe("planting against what the log does not show", () => {
  it("the nearer the predicted loss comes to the deficit, the more likely planting is", () => {
    const deficit = { estimate: 0.1, standardError: 0.03 };
    const shares = [0, 0.03, 0.04, 0.05, 0.06, 0.07].map((predicted) =>
      planting(weightsFromLog(losses({ "lost-ground-contact": predicted }), deficit)),
    );
    expect(shares[0]).toBe(0);
    for (let k = 1; k < shares.length; k++) expect(shares[k]).toBeGreaterThan(shares[k - 1]!);
    expect(shares.at(-1)).toBeGreaterThan(0.9);
  });

  it("the factor with the larger predicted loss is the likelier one", () => {
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
          const weights = weightsFromLog(predicted, { estimate, standardError: 0.02 });
          expect(weights.get(large)).toBeGreaterThan(weights.get(small)!);
        },
      ),
      { numRuns: 40 },
    );
  });

  it("a deficit without predicted loss is not in the log, and not the ground either", () => {
    const found = nameCause(weightsFromLog(losses(), { estimate: 0.1, standardError: 0.015 }));
    expect(found).toEqual({
      cause: "not-in-the-log",
      probability: 0.99,
      alternatives: [{ cause: "undetermined", probability: 0.01 }],
    });
  });

  it("the log alone is believed, but never as much as it could be", () => {
    const alone = nameCause(weightsFromLog(losses({ "lost-ground-contact": 0.1 }), null));
    expect(alone.cause).toBe("lost-ground-contact");
    expect(alone.probability).toBeLessThan(0.9);
    expect(probabilityOf(alone, "not-in-the-log")).toBeGreaterThan(0.1);
  });

  it("the better the counts are known, the more a deficit as predicted speaks for planting", () => {
    const predicted = losses({ "lost-ground-contact": 0.03 });
    const known = [0.06, 0.03, 0.015, 0.005].map((standardError) =>
      planting(weightsFromLog(predicted, { estimate: 0.03, standardError })),
    );
    for (let k = 1; k < known.length; k++) expect(known[k]).toBeGreaterThan(known[k - 1]!);
  });

  it("counts that agree with a place the log predicts never lower the probability of planting, full ones do", () => {
    const total = fc.double({ min: 0.025, max: 0.2, noNaN: true });
    const error = fc.double({ min: 0.003, max: 0.05, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...FACTORS), total, error, (factor, estimate, standardError) => {
        const predicted = losses({ [factor]: estimate });
        const alone = planting(weightsFromLog(predicted, null));
        const counted = planting(weightsFromLog(predicted, { estimate, standardError }));
        expect(counted).toBeGreaterThanOrEqual(alone - 1e-12);
        expect(planting(weightsFromLog(predicted, { estimate: 0, standardError }))).toBeLessThan(alone);
      }),
      { numRuns: 200 },
    );
  });
});

describe("a cause held to a limit", () => {
  const weight = fc.double({ min: 0.001, max: 5, noNaN: true });
  const weights = fc
    .uniqueArray(fc.constantFrom(...CAUSES), { minLength: 1, maxLength: 6 })
    .chain((causes) =>
      fc
        .array(weight, { minLength: causes.length, maxLength: causes.length })
        .map((values) => new Map(causes.map((cause, k) => [cause, values[k]!]))),
    );

  it("takes no more than the limit; the rest goes to the other cause, everything else keeps its share", () => {
    fc.assert(
      fc.property(
        weights,
        fc.constantFrom(...CAUSES),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (before, cause, limit) => {
          fc.pre(cause !== "not-in-the-log");
          const held = heldTo(before, cause, limit, "not-in-the-log");
          const sum = sumOf(before);
          expect(sumOf(held)).toBeCloseTo(1, 9);
          expect(held.get(cause) ?? 0).toBeCloseTo(Math.min(limit, (before.get(cause) ?? 0) / sum), 9);
          for (const [other, value] of before)
            if (other !== cause && other !== "not-in-the-log")
              expect(held.get(other)).toBeCloseTo(value / sum, 9);
        },
      ),
    );
  });

  it("is left alone where what it gives up would go to itself", () => {
    const before = new Map<Cause, number>([["not-in-the-log", 3]]);
    expect([...heldTo(before, "not-in-the-log", 0.5, "not-in-the-log")]).toEqual([["not-in-the-log", 1]]);
  });
});

it("naming keeps back a little for what nothing can show", () => {
  const found = nameCause(new Map<Cause, number>([["misses", 3]]));
  expect(found).toEqual({
    cause: "misses",
    probability: 0.99,
    alternatives: [{ cause: "undetermined", probability: 0.01 }],
  });
});
