/**
 * The tables of docs/prescription.md are those the program uses, and its worked lines come out. After a change of the
 * figures run this file with EVENSTAND_WRITE_DOCS=1.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { MARGIN_BANDS } from "../../src/compare/thresholds.ts";
import { normalCdf, normalDensity } from "../../src/numerics/distributions.ts";
import { bandShiftN, LIMITS, responsePrior } from "../../src/prescription/limits.ts";
import { forceFor, liftCap, limitedLoad } from "../../src/prescription/steps.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";

const file = new URL("../../docs/prescription.md", import.meta.url);

const table = [
  "| name | figure | what it decides | source |",
  "| --- | --- | --- | --- |",
  ...Object.entries(LIMITS).map(
    ([name, { farm, meaning, source }]) => `| \`${name}\` | ${farm} | ${meaning} | ${source} |`,
  ),
].join("\n");

function withTable(text: string): string {
  return text.replace(/<!-- limits -->[\s\S]*?<!-- end -->/, `<!-- limits -->\n${table}\n<!-- end -->`);
}

describe("docs/prescription.md", () => {
  it("shows the figures the program uses", () => {
    const text = readFileSync(file, "utf8");
    if (process.env.EVENSTAND_WRITE_DOCS) writeFileSync(file, withTable(text));
    const now = readFileSync(file, "utf8");
    expect(now, "stale: run this file with EVENSTAND_WRITE_DOCS=1").toBe(withTable(now));
  });

  it("says the prior as it is", () => {
    const text = readFileSync(file, "utf8");
    const lows = (["damp", "fit", "dry"] as const).map(
      (state) => responsePrior(null, state).lowKnee.mean / LBF,
    );
    const highs = (["damp", "fit", "dry"] as const).map(
      (state) => responsePrior(null, state).highKnee.mean / LBF,
    );
    const whole = (list: number[]): string => list.map((value) => Math.round(value)).join(", ");
    expect(text).toContain(`lower knee, lb: damp, fit, dry ground | ${whole(lows)}`);
    expect(text).toContain(`upper knee, lb: damp, fit, dry ground | ${whole(highs)}`);
    const prior = responsePrior("clay", "fit");
    expect(text).toContain(
      `clay +${Math.round(prior.lowKnee.mean / LBF - lows[1]!)} | ${Math.round(prior.lowKnee.sd / LBF)} |`,
    );
    expect(text).toContain(`| ${whole(highs)} | ${Math.round(prior.highKnee.sd / LBF)} |`);
    expect(Math.exp(prior.logLowSlope.mean) * LBF * 100).toBeCloseTo(0.16, 9);
    expect(Math.exp(prior.logHighSlope.mean) * LBF * 100).toBeCloseTo(0.09, 9);
  });

  it("has worked lines that come out", () => {
    expect(bandShiftN("damp", "fit") / LBF).toBeCloseTo(40, 9);
    expect(bandShiftN("fit", "dry") / LBF).toBeCloseTo(60, 9);
    expect(MARGIN_BANDS.damp.map((load) => Math.round(load / LBF))).toEqual([50, 80]);
    const held = (low: number, target: number): number => {
      const z = (low - target) / 28;
      return 0.0016 * ((low - target) * normalCdf(z) + 28 * normalDensity(z));
    };
    expect(100 * held(60, 60)).toBeCloseTo(1.8, 1);
    expect(100 * held(60, 100)).toBeCloseTo(0.15, 2);
    expect(normalDensity(-40 / 28)).toBeCloseTo(0.1437, 3);
    expect(normalCdf(-40 / 28)).toBeCloseTo(0.0766, 3);
    const limits = {
      minimumMarginN: 60 * LBF,
      maximumMarginN: 160 * LBF,
      largestStepN: 40 * LBF,
      rateStepN: 5 * LBF,
    };
    expect(limitedLoad(75 * LBF, 117 * LBF, limits) / LBF).toBeCloseTo(80, 9);
    expect(limitedLoad(78 * LBF, 260 * LBF, limits) / LBF).toBeCloseTo(160, 9);
    const usableWeight = { centreN: 1280 * LBF, wingN: 0, centreRowUnits: 8, wingRowUnits: 0 };
    expect((liftCap(100 * LBF, 150 * LBF, { usableWeight }) - 100 * LBF) / LBF).toBeCloseTo(10, 9);
    expect(forceFor(95 * LBF, 78 * LBF, 150 * LBF) / LBF).toBeCloseTo(167, 9);
    expect((LIMITS.lagsInZone.value * LIMITS.lag.value * 2.37) / 0.3048).toBeCloseTo(233, 0);
  });
});
