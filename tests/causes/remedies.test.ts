import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CAUSE_DEFINITIONS } from "../../src/causes/evidence/cause-definitions.ts";
import { marginGoal, type RemedyContext } from "../../src/causes/evidence/remedies.ts";
import { MARGIN_BANDS } from "../../src/compare/thresholds.ts";
import type { Cause } from "../../src/vocabulary/causes.ts";
import { CAUSES } from "../../src/vocabulary/causes.ts";
import type { Targets } from "../../src/vocabulary/field.ts";

const NO_TARGETS: Targets = {
  seedingDepthMm: null,
  populationPerHa: null,
  downForceMarginN: null,
  speedMetresPerSecond: null,
};
const STATES = ["damp", "fit", "dry"] as const;

const context: RemedyContext = {
  kind: "area",
  ground: "fit",
  targets: NO_TARGETS,
  marginN: 90,
  depthMm: 36,
  speedMetresPerSecond: 3.6,
  populationPerHa: 70_000,
  missesShare: 0.06,
  wantedPerHa: null,
  usual: { depthMm: 50, speedMetresPerSecond: 2.4, populationPerHa: 84_000, missesShare: 0.01 },
};

describe("the load to aim for", () => {
  it("without a target is the middle of the band of the ground; drier ground takes more", () => {
    for (const state of STATES) {
      const [low, high] = MARGIN_BANDS[state];
      expect(marginGoal(state, NO_TARGETS)).toBeCloseTo((low + high) / 2, 9);
    }
    expect(marginGoal("damp", NO_TARGETS)).toBeLessThan(marginGoal("fit", NO_TARGETS));
    expect(marginGoal("fit", NO_TARGETS)).toBeLessThan(marginGoal("dry", NO_TARGETS));
  });

  it("never leaves the user's own band, and is in the ground's band where the two meet", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1500, noNaN: true }),
        fc.double({ min: 1, max: 900, noNaN: true }),
        fc.constantFrom(...STATES),
        (least, width, state) => {
          const band: [number, number] = [least, least + width];
          const goal = marginGoal(state, { ...NO_TARGETS, downForceMarginN: band });
          expect(goal).toBeGreaterThanOrEqual(band[0]);
          expect(goal).toBeLessThanOrEqual(band[1]);
          const [low, high] = MARGIN_BANDS[state];
          if (band[1] >= low && band[0] <= high) {
            expect(goal).toBeGreaterThanOrEqual(low - 1e-9);
            expect(goal).toBeLessThanOrEqual(high + 1e-9);
          } else {
            // The bands do not meet: the end of the user's that is nearer.
            expect(goal).toBe(band[1] < low ? band[1] : band[0]);
          }
        },
      ),
    );
  });
});

describe("the remedy", () => {
  it("every cause has one; from, to and unit go with a parameter", () => {
    for (const cause of CAUSES) {
      const remedy = CAUSE_DEFINITIONS[cause].remedy(context);
      expect(remedy.code, cause).toBeTruthy();
      expect(remedy.parameter === null).toBe(remedy.unit === null);
      if (remedy.parameter === null) expect([remedy.from, remedy.to]).toEqual([null, null]);
      else expect([typeof remedy.from, typeof remedy.to], cause).toEqual(["number", "number"]);
    }
  });

  it.each([
    ["lost-ground-contact", "raise-margin", 1],
    ["excess-down-force", "lower-margin", -1],
  ] as const)("%s: %s, towards the goal", (cause, code, direction) => {
    const marginN = direction > 0 ? 90 : 1200;
    const remedy = CAUSE_DEFINITIONS[cause].remedy({ ...context, marginN });
    expect(remedy).toMatchObject({ code, parameter: "downForceMargin", from: marginN, unit: "N" });
    expect(Math.sign(remedy.to! - remedy.from!)).toBe(direction);
  });

  it("goes back to the target, or where there is none to the usual value of the field", () => {
    const targets = { ...NO_TARGETS, seedingDepthMm: 51, speedMetresPerSecond: 2.2 };
    const goal = (cause: Cause, aims: Targets) =>
      CAUSE_DEFINITIONS[cause].remedy({ ...context, targets: aims }).to;
    expect([goal("too-shallow", targets), goal("too-shallow", NO_TARGETS)]).toEqual([51, 50]);
    expect([goal("excess-speed", targets), goal("excess-speed", NO_TARGETS)]).toEqual([2.2, 2.4]);
    expect(CAUSE_DEFINITIONS["rate-off-target"].remedy({ ...context, wantedPerHa: 80_000 }).to).toBe(80_000);
    expect(CAUSE_DEFINITIONS["rate-off-target"].remedy(context).to).toBe(84_000);
    expect(goal("misses", targets)).toBe(0.01);
  });

  it("a shallow row unit is repaired, shallow ground is set deeper", () => {
    expect(CAUSE_DEFINITIONS["too-shallow"].remedy({ ...context, kind: "row-unit" }).code).toBe(
      "repair-row-unit",
    );
    expect(CAUSE_DEFINITIONS["too-shallow"].remedy(context).code).toBe("set-depth");
  });

  it("what the planter did not do, no planter setting mends", () => {
    expect(CAUSE_DEFINITIONS["soil-or-weather"].remedy(context).code).toBe("watch-the-ground");
    expect(CAUSE_DEFINITIONS.undetermined.remedy(context).code).toBe("dig-and-compare");
    expect(CAUSE_DEFINITIONS["sensor-fault"].remedy(context).code).toBe("clean-sensor");
  });
});
