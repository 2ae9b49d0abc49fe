import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  digLogLikelihood,
  digsInRow,
  digsInside,
  soilDetail,
} from "../../src/causes/evidence/dig-evidence.ts";
import { THRESHOLDS } from "../../src/compare/thresholds.ts";
import { CAUSES } from "../../src/vocabulary/causes.ts";
import type { LocalPolygon } from "../../src/vocabulary/field.ts";
import { digsOf, type OneDig } from "./support/parts.ts";

const SQUARE: LocalPolygon[] = [[[[0, 0], [10, 0], [10, 10], [0, 10], [0, 0]]]]; // biome-ignore format: one line

const anyDig: fc.Arbitrary<OneDig> = fc.record(
  {
    depthMm: fc.double({ min: 10, max: 90, noNaN: true }),
    smear: fc.constantFrom("none", "some", "heavy"),
    furrow: fc.constantFrom("closed", "open", "residue"),
    seedState: fc.constantFrom("fine", "swollen", "rotted", "leafed out underground", "hollow", "none"),
  },
  { requiredKeys: [] },
);

describe("which digs speak for a place", () => {
  it("those inside, and those within reach of the outline", () => {
    const digs = digsOf([
      { x: 5, y: 5 },
      { x: 10.5, y: 5 },
      { x: 13, y: 14 },
    ]);
    expect(digsInside(digs, SQUARE, 0)).toEqual([0]);
    expect(digsInside(digs, SQUARE, 0.5)).toEqual([0, 1]);
    expect(digsInside(digs, SQUARE, 4.9)).toEqual([0, 1]);
    // The corner is 3 and 4 m away: 5 m.
    expect(digsInside(digs, SQUARE, 5)).toEqual([0, 1, 2]);
    expect(digsInside(null, SQUARE, 5)).toEqual([]);
  });

  it("those in a unit's row", () => {
    expect(digsInRow(digsOf([{ rowUnit: 5 }, { rowUnit: 6 }, { rowUnit: 5 }]), 5)).toEqual([0, 2]);
    expect(digsInRow(null, 5)).toEqual([]);
  });
});

describe("log likelihood of the digs", () => {
  it("is finite, adds up dig by dig, and is nothing where nothing was looked at", () => {
    fc.assert(
      fc.property(fc.array(anyDig, { maxLength: 6 }), fc.constantFrom(...CAUSES), (list, cause) => {
        const digs = digsOf(list);
        const all = digLogLikelihood(digs, [...list.keys()], cause, 50);
        const one = list.map((_, d) => digLogLikelihood(digs, [d], cause, 50));
        expect(Number.isFinite(all)).toBe(true);
        expect(all).toBeCloseTo(
          one.reduce((a, b) => a + b, 0),
          10,
        );
      }),
    );
    expect(digLogLikelihood(digsOf([{}]), [0], "too-shallow", 50)).toBe(0);
    expect(digLogLikelihood(null, [], "too-shallow", 50)).toBe(0);
  });

  it("a smeared wall speaks for pressing, a sound one against it", () => {
    const digs = digsOf([{ smear: "heavy" }, { smear: "some" }, { smear: "none" }]);
    const said = [0, 1, 2].map((d) => digLogLikelihood(digs, [d], "excess-down-force", 50));
    expect(said[0]).toBeGreaterThan(0);
    expect(said[1]).toBeGreaterThan(0);
    expect(said[2]).toBeLessThan(0);
  });

  it("shallow and deep are judged against the target with the common tolerance, else against the knees", () => {
    const shallow = (depthMm: number, target: number | null) =>
      digLogLikelihood(digsOf([{ depthMm }]), [0], "too-shallow", target) > 0;
    const deep = (depthMm: number, target: number | null) =>
      digLogLikelihood(digsOf([{ depthMm }]), [0], "too-deep", target) > 0;
    const tolerance = THRESHOLDS.depthTolerance.value;
    expect(shallow(50 - tolerance - 0.1, 50)).toBe(true);
    expect(shallow(50 - tolerance + 0.1, 50)).toBe(false);
    expect(deep(50 + tolerance + 0.1, 50)).toBe(true);
    expect(deep(50 + tolerance - 0.1, 50)).toBe(false);
    expect(shallow(THRESHOLDS.shallowKnee.value - 0.1, null)).toBe(true);
    expect(shallow(THRESHOLDS.shallowKnee.value + 0.1, null)).toBe(false);
    expect(deep(THRESHOLDS.deepKnee.value + 0.1, null)).toBe(true);
    expect(deep(THRESHOLDS.deepKnee.value - 0.1, null)).toBe(false);
  });
});

describe("what digs say of the ground", () => {
  const states = (...list: NonNullable<OneDig["seedState"]>[]) =>
    digsOf(list.map((seedState) => ({ seedState })));

  it.each([
    ["leafed out underground", "crust"],
    ["rotted", "cold-wet"],
    ["hollow", "pests"],
  ] as const)("%s: %s", (state, detail) => {
    expect(soilDetail(states(state, state, "fine"), [0, 1, 2])).toBe(detail);
  });

  it("a sign that less than half of the digs show says nothing", () => {
    expect(soilDetail(states("rotted", "fine", "fine"), [0, 1, 2])).toBeNull();
    expect(soilDetail(states("fine", "swollen"), [0, 1])).toBeNull();
    expect(soilDetail(null, [])).toBeNull();
  });
});
