/**
 * The response learnt on a grid: against quadrature by other means, closed figures and the behaviour asked of it.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MARGIN_BANDS } from "../../src/compare/thresholds.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { LIMITS, responsePrior } from "../../src/prescription/limits.ts";
import {
  bestTarget,
  gainOf,
  type LoadShares,
  learnResponse,
  meanGain,
  type Posterior,
  type ZoneSpots,
} from "../../src/prescription/response.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";

const PLAIN = { spatialVariance: 0, rangeM: 25, nuggetVariance: 0.02 ** 2 };

function spotsOf(loads: readonly number[], standAt: (load: number) => number, seed = 1): ZoneSpots {
  const random = seededRandom(seed);
  const every = (value: (i: number) => number): Float64Array => Float64Array.from(loads, (_, i) => value(i));
  return {
    x: every((i) => 40 * i),
    y: every(() => 0),
    marginN: every((i) => loads[i]! * LBF),
    response: every((i) => standAt(loads[i]!) + 0.02 * normal(random)),
    countingVariance: every(() => 0),
    patchiness: every(() => 1),
    covariance: PLAIN,
  };
}

/** One trapezoid, held exactly: its node alone has weight. */
function only(lowLbf: number, highLbf: number, lowSlope: number, highSlope: number): Posterior {
  const posterior = learnResponse(responsePrior(null, "fit"), null);
  posterior.weight.fill(0);
  posterior.low[0] = lowLbf * LBF;
  posterior.high[0] = highLbf * LBF;
  posterior.lowSlope[0] = lowSlope / LBF;
  posterior.highSlope[0] = highSlope / LBF;
  posterior.weight[0] = 1;
  return posterior;
}

function at(...loadsLbf: number[]): LoadShares {
  return {
    marginN: Float64Array.from(loadsLbf, (load) => load * LBF),
    share: Float64Array.from(loadsLbf, () => 1 / loadsLbf.length),
  };
}

/** Mean over the control error by brute force: 20,001 points of the normal law. */
function held(loss: (load: number) => number, target: number): number {
  let [sum, weight] = [0, 0];
  for (let k = -10_000; k <= 10_000; k++) {
    const z = k / 1500;
    const w = Math.exp(-0.5 * z * z);
    sum += w * loss(target + (LIMITS.controlError.value / LBF) * z);
    weight += w;
  }
  return sum / weight;
}

describe("the gain of a target", () => {
  it("is what quadrature over the control error gives, less today's mean (within 1e-6)", () => {
    const loss = (load: number): number => 0.002 * Math.max(0, 50 - load) + 0.001 * Math.max(0, load - 150);
    const posterior = only(50, 150, 0.002, 0.001);
    const today = at(20, 60, 200);
    const expected = (loss(20) + loss(60) + loss(200)) / 3 - held(loss, 110);
    const gain = gainOf(posterior, 110 * LBF, today);
    expect(gain.estimate).toBeCloseTo(expected, 6);
    expect(gain.low).toBeCloseTo(expected, 6);
    expect(gain.high).toBeCloseTo(expected, 6);
    expect(meanGain(posterior, 110 * LBF, today)).toBeCloseTo(expected, 6);
  });

  it("the quick mean is the mean of the interval's distribution, on any prior and load", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("dry", "fit", "damp"),
        fc.double({ min: 20, max: 300, noNaN: true }),
        fc.array(fc.double({ min: 0, max: 350, noNaN: true }), { minLength: 1, maxLength: 6 }),
        (state, target, loads) => {
          const posterior = learnResponse(responsePrior("loam", state), null);
          const gain = gainOf(posterior, target * LBF, at(...loads));
          expect(meanGain(posterior, target * LBF, at(...loads))).toBeCloseTo(gain.estimate, 9);
          expect(gain.low).toBeLessThanOrEqual(gain.high);
        },
      ),
      { numRuns: 25 },
    );
  });
});

describe("the best load", () => {
  it("before any counts lies in the band of the ground for every texture", () => {
    for (const state of ["dry", "fit", "damp"] as const) {
      for (const texture of [null, "sand", "loam", "clay"] as const) {
        const { targetN } = bestTarget(learnResponse(responsePrior(texture, state), null));
        expect(targetN).toBeGreaterThanOrEqual(MARGIN_BANDS[state][0]);
        expect(targetN).toBeLessThanOrEqual(MARGIN_BANDS[state][1]);
      }
    }
  });

  it("stands off both knees of one trapezoid and its range is where 0.3 points are not lost", () => {
    const loss = (load: number): number => 0.002 * Math.max(0, 60 - load) + 0.002 * Math.max(0, load - 160);
    const { targetN, lowN, highN } = bestTarget(only(60, 160, 0.002, 0.002));
    expect(targetN / LBF).toBeCloseTo(110, -0.1);
    const allowed = held(loss, 110) + LIMITS.asGoodAsBest.value;
    expect(held(loss, lowN / LBF)).toBeLessThanOrEqual(allowed + 1e-6);
    expect(held(loss, lowN / LBF - 1)).toBeGreaterThan(allowed);
    expect(held(loss, highN / LBF)).toBeLessThanOrEqual(allowed + 1e-6);
    expect(held(loss, highN / LBF + 1)).toBeGreaterThan(allowed);
  });

  it("moves where the counts fall off, against the prior", () => {
    const loads = Array.from({ length: 40 }, (_, k) => 20 + 5 * k);
    const late = spotsOf(loads, (load) => 0.95 - 0.003 * Math.max(0, 110 - load));
    const early = spotsOf(loads, (load) => 0.95 - 0.002 * Math.max(0, load - 90));
    const prior = responsePrior("loam", "fit");
    const before = bestTarget(learnResponse(prior, null)).targetN;
    expect(bestTarget(learnResponse(prior, late)).lowN).toBeGreaterThan(
      bestTarget(learnResponse(prior, null)).lowN + 20 * LBF,
    );
    expect(bestTarget(learnResponse(prior, early)).targetN).toBeLessThan(before);
  });

  it("does not depend on the level of the stand: only contrasts within the zone count", () => {
    const loads = Array.from({ length: 25 }, (_, k) => 15 + 7 * k);
    const spots = spotsOf(loads, (load) => 0.9 - 0.002 * Math.max(0, 70 - load));
    const raised = { ...spots, response: spots.response.map((value) => value + 0.13) };
    const prior = responsePrior("loam", "fit");
    const one = learnResponse(prior, spots);
    const other = learnResponse(prior, raised);
    one.weight.forEach((weight, node) => {
      expect(other.weight[node]!).toBeCloseTo(weight, 9);
    });
  });
});
