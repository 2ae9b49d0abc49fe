/** What the prescription says of the invented field, where it is known what was put in. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { prescribe } from "../../src/jobs/prescribe.ts";
import type { ZoneDecision } from "../../src/prescription/prescription.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import type { Moisture } from "../../src/vocabulary/moisture.ts";
import { larkspurFiles, loadLarkspur } from "./support/larkspur.ts";

let analysis: Analysis;

beforeAll(async () => {
  analysis = await analyseField(await loadLarkspur(larkspurFiles(1)));
});

function zone(name: string, moisture: Moisture): ZoneDecision {
  return prescribe(analysis, { moisture }).decisions.find(({ soilZone }) => soilZone === name)!;
}

describe("the invented field", () => {
  it("raises the load where the wheels ran light on the clay loam, held to the largest step", () => {
    const dry = zone("clay loam", "dry");
    expect(dry.loggedMoisture).toBe("dry");
    expect(dry.loggedMoistureFrom).toBe("dug");
    expect(dry.outcome).toBe("change");
    expect(dry.prescribedN.dry).toBeGreaterThan(dry.currentMarginN! + 30 * LBF);
    expect(dry.prescribedN.dry).toBeLessThanOrEqual(dry.currentMarginN! + 40 * LBF);
    expect(dry.reason).toContain("The step is held to 40 lb");
    expect(dry.gainShare!.low).toBeGreaterThan(0.01);
    const fit = zone("clay loam", "fit");
    expect(fit.best.fit.lowN).toBeLessThan(80 * LBF);
    expect(fit.best.fit.highN).toBeGreaterThan(130 * LBF);
    expect(fit.prescribedN.fit / LBF).toBeGreaterThanOrEqual(80);
    expect(fit.prescribedN.fit / LBF).toBeLessThanOrEqual(130);
  });

  it("takes load off the silty clay on damp ground, and leaves it where it was planted drier", () => {
    const damp = zone("silty clay", "damp");
    expect(damp.outcome).toBe("change");
    // Its other passes were fit, by the rain, and did well at 117 lb; on damp ground that is worth about 105.
    expect(damp.prescribedN.damp / LBF).toBeLessThanOrEqual(110);
    expect(damp.prescribedN.damp).toBeLessThan(damp.currentMarginN!);
    expect(damp.reason).toMatch(/at 2[56]\d lb where it was damp/);
    expect(damp.gainShare!.low).toBeGreaterThan(0.01);
    expect(zone("silty clay", "fit").loggedMoisture).toBe("fit");
    expect(zone("silty clay", "fit").outcome).toBe("keep");
  });

  it("keeps the silt loam, whose counts lie at loads too much alike to learn from", () => {
    const decision = zone("silt loam", "fit");
    expect(decision.outcome).toBe("keep");
    expect(decision.evidence.informative).toBe(false);
    expect(decision.grade).toBe("starting-point");
  });

  it("holds the sandy loam back, a quarter of which was planted too fast", () => {
    const decision = zone("sandy loam", "fit");
    expect(decision.outcome).toBe("held-back");
    expect(decision.heldBackBy).toHaveLength(1);
    expect(decision.heldBackBy[0]!.words).toContain("slow down first");
    expect(Math.abs(decision.prescribedN.fit - decision.currentMarginN!)).toBeLessThanOrEqual(
      2.5 * LBF + 1e-6,
    );
  });

  it("lists repairs first, then speed, then where to dig; one unit of 24 stops no zone", () => {
    const { advice, decisions } = prescribe(analysis);
    expect(advice.map(({ kind }) => kind)).toEqual(["repair", "repair", "speed", "dig", "dig", "dig"]);
    expect(advice[0]!.rowUnits).toEqual([17]);
    expect(advice[3]!.rowUnits).toEqual([12, 13]);
    expect(decisions.map(({ outcome }) => outcome)).toEqual(["change", "held-back", "keep", "keep"]);
  });
});
