/** From what the model of the counts says leads in a place to its causes: no cause surer than its evidence bears. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nameCause } from "../../src/causes/evidence/attribution.ts";
import { causesShown, digLogLikelihood } from "../../src/causes/evidence/dig-evidence.ts";
import { groundShare } from "../../src/causes/evidence/ground-evidence.ts";
import { LIMITS, type PlaceEvidence, placeWeights } from "../../src/causes/evidence/place-weights.ts";
import { FACTORS } from "../../src/cells/predicted-loss.ts";
import { SENSED_BY_LOOK_CEILING } from "../../src/field/depth-source.ts";
import type { GroundLoss } from "../../src/stand-model/posterior.ts";
import type { Cause } from "../../src/vocabulary/causes.ts";
import { digsOf, type OneDig } from "./support/parts.ts";

function lossLedBy(leading: Record<string, number>, coincidenceShare = 0): GroundLoss {
  return {
    estimate: 0.1,
    low: 0.05,
    high: 0.15,
    standardError: 0.03,
    probability: 0.97,
    probabilityOfMuch: 0.9,
    leading: new Map(Object.entries(leading)),
    coincidenceShare,
    sharedShare: 0,
  };
}

const PLAIN: PlaceEvidence = {
  counts: 8,
  signs: [],
  followsSoilBorder: false,
  repeated: false,
  depthSource: "sensed",
  digSupport: () => 0,
  shownByDigs: [],
};

/** Digs of a place as evidence; the target depth is 50 mm. */
function dug(list: readonly OneDig[]): PlaceEvidence {
  const digs = digsOf(list);
  const which = [...list.keys()];
  return {
    ...PLAIN,
    digSupport: (cause) => digLogLikelihood(digs, which, cause, 50),
    shownByDigs: causesShown(digs, which),
  };
}

const shareOf = (loss: GroundLoss, evidence: PlaceEvidence, cause: Cause): number => {
  const weights = placeWeights(loss, evidence);
  const sum = [...weights.values()].reduce((a, b) => a + b, 0);
  return (weights.get(cause) ?? 0) / sum;
};
const most = (loss: GroundLoss, evidence: PlaceEvidence): number => {
  const { cause, probability } = nameCause(placeWeights(loss, evidence));
  return cause === "undetermined" ? 0 : probability;
};

describe("how sure a cause may be", () => {
  const share = fc.double({ min: 0.01, max: 1, noNaN: true });
  const anyLeading = fc.dictionary(
    fc.constantFrom(
      ...FACTORS.map((factor) => `factor ${factor}`),
      "unlisted",
      "soil-zone Clay",
      "change-point ",
      "end-rows ",
      "seed-lot A",
    ),
    share,
    { minKeys: 1, maxKeys: 5 },
  );
  const normalised = (leading: Record<string, number>): Record<string, number> => {
    const sum = Object.values(leading).reduce((a, b) => a + b, 0);
    return Object.fromEntries(Object.entries(leading).map(([key, value]) => [key, value / sum]));
  };

  it("whatever leads, the weights sum to 1 and no fault of planting is named at 0.9 from one place", () => {
    fc.assert(
      fc.property(anyLeading, share, fc.boolean(), (leading, coincidence, border) => {
        const loss = lossLedBy(normalised(leading), coincidence);
        const weights = placeWeights(loss, { ...PLAIN, followsSoilBorder: border });
        expect([...weights.values()].reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
        for (const [cause, weight] of weights) {
          expect(weight).toBeGreaterThanOrEqual(0);
          if (!(FACTORS as readonly Cause[]).includes(cause)) continue;
          if (cause !== "misses" && cause !== "rate-off-target") expect(weight).toBeLessThan(0.9);
          if (border) expect(weight).toBeLessThanOrEqual(LIMITS.soilBorder + 1e-9);
        }
      }),
    );
  });

  it("fewer than four counts never reach 0.9, whatever the cause", () => {
    fc.assert(
      fc.property(anyLeading, fc.integer({ min: 0, max: 3 }), fc.boolean(), (leading, counts, repeated) => {
        expect(most(lossLedBy(normalised(leading)), { ...PLAIN, counts, repeated })).toBeLessThan(0.9);
      }),
    );
    // And the limit is what holds it: with four counts skips may be named.
    expect(most(lossLedBy({ "factor misses": 1 }), { ...PLAIN, counts: 3 })).toBeLessThan(0.82);
    expect(most(lossLedBy({ "factor misses": 1 }), { ...PLAIN, counts: 4 })).toBeGreaterThan(0.9);
  });

  const shallow = lossLedBy({ "factor too-shallow": 1 });
  const of = (evidence: Partial<PlaceEvidence>, loss = shallow): number =>
    shareOf(loss, { ...PLAIN, ...evidence }, "too-shallow");

  it("is held where one place departs and is short: it may be chance", () => {
    expect(of({})).toBeCloseTo(LIMITS.coincidence, 9);
    expect(of({}, lossLedBy({ "factor too-shallow": 1 }, 0.8))).toBeCloseTo(LIMITS.departure, 9);
    // The same factor harms a further place: no chance any more.
    expect(of({ repeated: true })).toBeCloseTo(LIMITS.certain, 9);
  });

  it("is held along a soil border, and where nobody said that the depth is sensed", () => {
    expect(of({ followsSoilBorder: true, repeated: true })).toBeCloseTo(LIMITS.soilBorder, 9);
    expect(of({ depthSource: "sensed-by-look", repeated: true })).toBeCloseTo(SENSED_BY_LOOK_CEILING, 9);
    const speed = lossLedBy({ "factor excess-speed": 1 });
    expect(
      shareOf(speed, { ...PLAIN, depthSource: "sensed-by-look", repeated: true }, "excess-speed"),
    ).toBeCloseTo(LIMITS.certain, 9);
  });

  it("what is taken off goes to what the log does not show", () => {
    expect(shareOf(shallow, PLAIN, "not-in-the-log")).toBeCloseTo(1 - LIMITS.coincidence, 9);
  });

  it("is lifted by digs that show it, and not by sound ones", () => {
    const shown = Array<OneDig>(4).fill({ depthMm: 35 });
    const sound = Array<OneDig>(4).fill({ depthMm: 50, furrow: "closed", smear: "none", seedState: "fine" });
    expect(shareOf(shallow, dug(shown), "too-shallow")).toBeGreaterThan(0.95);
    expect(
      shareOf(shallow, { ...dug(shown), followsSoilBorder: true, counts: 2 }, "too-shallow"),
    ).toBeGreaterThan(0.95);
    expect(shareOf(shallow, dug(sound), "too-shallow")).toBeLessThanOrEqual(LIMITS.coincidence + 1e-9);
  });
});

describe("a loss that no factor explains", () => {
  const unlisted = lossLedBy({ unlisted: 1 });

  it("is not in the log; ground and weather take what speaks for them", () => {
    expect(shareOf(unlisted, PLAIN, "not-in-the-log")).toBeGreaterThan(0.7);
    const shares = (
      [[], ["wetGround"], ["beatingRain"], ["coldSoil"], ["coldSoil", "beatingRain"]] as const
    ).map((signs) => shareOf(unlisted, { ...PLAIN, signs }, "soil-or-weather"));
    for (let k = 1; k < shares.length; k++) expect(shares[k]).toBeGreaterThan(shares[k - 1]!);
    expect(groundShare(["coldSoil", "beatingRain", "wetGround"])).toBeLessThan(0.95);
  });

  it("is never the ground's above 0.8 without digs or a sign", () => {
    const loss = lossLedBy({ unlisted: 0.5, "soil-zone Clay": 0.5 });
    for (const counts of [2, 5, 50])
      expect(shareOf(loss, { ...PLAIN, counts }, "soil-or-weather")).toBeLessThanOrEqual(LIMITS.groundUnseen);
    const crust = dug(Array<OneDig>(5).fill({ seedState: "leafed out underground", depthMm: 50 }));
    expect(shareOf(loss, crust, "soil-or-weather")).toBeGreaterThan(0.8);
  });

  it("of end rows is traffic's, of a lot the lot's", () => {
    expect(shareOf(lossLedBy({ "end-rows ": 1 }), PLAIN, "wheel-traffic")).toBeGreaterThan(0.7);
    expect(shareOf(lossLedBy({ "seed-lot A": 1 }), PLAIN, "seed-lot")).toBeGreaterThan(0.7);
  });
});

describe("digs move the probability of the cause they show", () => {
  const cases: [Cause, OneDig][] = [
    ["excess-down-force", { smear: "heavy", depthMm: 50 }],
    ["too-shallow", { depthMm: 35 }],
    ["too-deep", { depthMm: 65 }],
    ["soil-or-weather", { seedState: "leafed out underground", depthMm: 50 }],
  ];
  const loss = lossLedBy({
    "factor excess-down-force": 0.2,
    "factor too-shallow": 0.2,
    "factor too-deep": 0.2,
    "factor misses": 0.2,
    unlisted: 0.2,
  });

  it.each(cases)("%s: up with digs that show it, down with sound ones", (cause, dig) => {
    const withDigs = (list: OneDig[]): number => shareOf(loss, dug(list), cause);
    const sound: OneDig = { smear: "none", furrow: "closed", seedState: "fine", depthMm: 50 };
    const none = withDigs([]);
    expect(withDigs([dig, dig])).toBeGreaterThan(none);
    expect(withDigs([dig, dig, dig, dig])).toBeGreaterThan(withDigs([dig, dig]));
    expect(withDigs([sound, sound, sound])).toBeLessThan(none);
  });
});

describe("what only digs can show", () => {
  const unlisted = lossLedBy({ unlisted: 1 });
  const shown: [Cause, OneDig][] = [
    ["furrow-not-closed", { furrow: "open" }],
    ["residue-in-furrow", { furrow: "residue" }],
    ["dry-seedbed", { moisture: "dry", seedState: "swollen", furrow: "closed" }],
  ];

  it.each(shown)("%s is named from three digs of three, and not from one", (cause, dig) => {
    expect(nameCause(placeWeights(unlisted, dug([dig, dig, dig])))).toMatchObject({ cause });
    expect(nameCause(placeWeights(unlisted, dug([dig]))).cause).not.toBe(cause);
    expect(shareOf(unlisted, dug([dig]), cause)).toBe(0);
  });

  it("needs half of the digs that looked, and swollen seed in fit ground is no dry seedbed", () => {
    expect(causesShown(digsOf([{ furrow: "open" }, { furrow: "open" }, {}]), [0, 1, 2])).toHaveLength(1);
    const third = [{ furrow: "open" }, { furrow: "open" }, ...Array<OneDig>(3).fill({ furrow: "closed" })];
    expect(causesShown(digsOf(third as OneDig[]), [0, 1, 2, 3, 4])).toEqual([]);
    const fit: OneDig = { moisture: "fit", seedState: "swollen" };
    expect(causesShown(digsOf([fit, fit, fit]), [0, 1, 2])).toEqual([]);
    expect(causesShown(null, [])).toEqual([]);
  });

  it("takes only from what the log does not explain", () => {
    const mixed = lossLedBy({ "factor lost-ground-contact": 0.6, unlisted: 0.4 });
    const shownByDigs: Cause[] = ["furrow-not-closed"];
    expect(shareOf(mixed, { ...PLAIN, shownByDigs }, "lost-ground-contact")).toBeCloseTo(0.6, 9);
    expect(shareOf(mixed, { ...PLAIN, shownByDigs }, "furrow-not-closed")).toBeGreaterThan(0.05);
  });
});
