/** Places with a load of their own: cut out of their soil zone where that load mends them and the machine can follow. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { prescribe } from "../../src/jobs/prescribe.ts";
import type { Prescription } from "../../src/prescription/prescription.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import { larkspurFiles, loadLarkspur } from "../acceptance/support/larkspur.ts";

/** The invented field's F1: gauge wheels running light on a part of the clay loam, planted dry. */
const PLACE = "clay loam at F1";

let analysis: Analysis;
let forced: Prescription;

beforeAll(async () => {
  analysis = await analyseField(await loadLarkspur(larkspurFiles(1)));
  forced = prescribe(analysis, { channel: "added-force", moisture: "dry" });
}, 120_000);

const decisionOf = ({ decisions }: Prescription, name: string) =>
  decisions.find(({ soilZone }) => soilZone === name);
const placeOf = ({ places }: Prescription, finding: string) =>
  places.filter((place) => place.finding === finding);

describe("a place that its soil zone's force leaves as it was", () => {
  it("gets a zone of its own, with today's load and step of its own ground", () => {
    const place = decisionOf(forced, PLACE)!;
    const soil = decisionOf(forced, "clay loam")!;
    expect(place).toMatchObject({ place: "F1", outcome: "change" });
    expect(soil.place).toBe(null);
    expect(place.currentMarginN! / LBF).toBeLessThan(50);
    expect(soil.currentMarginN! / LBF).toBeGreaterThan(100);
    expect(place.gainShare!.estimate).toBeGreaterThan(0.04);
    const own = forced.zones.filter(({ soilZones }) => soilZones[0] === PLACE);
    expect(own).toHaveLength(1);
    expect(own[0]!.areaHa).toBeGreaterThan(0.6);
    expect(own[0]!.rates.forceN).toBeGreaterThan(place.currentForceN!);
    // The file's force leaves the load that the card says, within the whole step.
    const left = place.currentMarginN! + own[0]!.rates.forceN! - place.currentForceN!;
    expect(Math.abs(left - place.prescribedN.dry)).toBeLessThan(2.6 * LBF);
    const areas = forced.decisions.reduce((sum, { areaHa }) => sum + areaHa, 0);
    expect(
      Math.abs(areas / prescribe(analysis).decisions.reduce((sum, { areaHa }) => sum + areaHa, 0) - 1),
    ).toBeLessThan(1e-3);
  });

  it("stands after its soil zone, and the finding is said on its own card alone", () => {
    const names = forced.decisions.map(({ soilZone }) => soilZone);
    expect(names.indexOf(PLACE)).toBe(names.indexOf("clay loam") + 1);
    expect(placeOf(forced, "F1").map(({ soilZone }) => soilZone)).toEqual([PLACE]);
    expect(decisionOf(forced, "clay loam")!.notMended.map(({ finding }) => finding)).not.toContain("F1");
  });

  it("is not cut out where a held load mends it, and the finding is then said to be mended", () => {
    const held = prescribe(analysis, { channel: "margin", moisture: "dry" });
    expect(decisionOf(held, PLACE)).toBe(undefined);
    expect(placeOf(held, "F1")).toMatchObject([{ soilZone: "clay loam", mended: true, why: "" }]);
  });

  it.each([
    ["smaller than the smallest zone", { smallestAreaHa: 12 }, "less than the smallest zone of 29.7 ac"],
    ["too short for the lag", { lagS: 60 }, "long in travel, what a zone of its own needs"],
  ])("is not cut out where it is %s, and its soil zone's card says so", (_, settings, words) => {
    const made = prescribe(analysis, { channel: "added-force", moisture: "dry", ...settings });
    expect(decisionOf(made, PLACE)).toBe(undefined);
    const said = decisionOf(made, "clay loam")!.notMended.find(({ finding }) => finding === "F1")!;
    expect(said.words).toContain(words);
  });
});

describe("zones of the files", () => {
  it("keep their numbers and ground under an edit of any load", () => {
    const ground = ({ zones }: Prescription) =>
      zones
        .filter(({ proofStrip }) => !proofStrip)
        .map(({ number, soilZones, polygon }) => ({ number, soilZones, polygon: polygon[0] }));
    const edits: Record<string, number>[] = [
      { [PLACE]: 60 * LBF },
      { "clay loam": 120 * LBF, "silt loam": 120 * LBF, "silty clay": 120 * LBF },
      { "silt loam": 100 * LBF },
    ];
    for (const edit of edits) {
      const edited = prescribe(analysis, { channel: "added-force", moisture: "dry" }, edit);
      for (const [name, load] of Object.entries(edit))
        expect(decisionOf(edited, name)!.prescribedN.dry).toBeCloseTo(load, 6);
      expect(ground(edited)).toEqual(ground(forced));
    }
  });
});
