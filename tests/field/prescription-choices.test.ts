/** The prescription part of the manifest, from text with units to the settings' inside units. */
import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { prescriptionChoices } from "../../src/manifest/prescription-choices.ts";

const manifest = (prescription: object) => ({ plantingLog: { file: "log.csv" }, prescription });
const choices = (prescription: object) => prescriptionChoices(parseManifest(manifest(prescription)))!;

describe("the prescription of a manifest", () => {
  it("reads loads, times and areas with their units (1 lbf = 4.4482216152605 N, 1 ac = 0.40468564224 ha)", () => {
    const { settings, last } = choices({
      moisture: "damp",
      channel: "added-force",
      largestStep: "40 lbf",
      lag: "10 s",
      smallestArea: "1.5 ac",
      mostRates: 6,
      proofStrips: false,
      last: { clay: "90 lbf" },
    });
    expect(settings).toMatchObject({
      moisture: "damp",
      channel: "added-force",
      lagS: 10,
      mostRates: 6,
      proofStrips: false,
    });
    expect(settings.largestStepN).toBeCloseTo(177.92886461042, 9);
    expect(settings.smallestAreaHa).toBeCloseTo(0.60702846336, 9);
    expect(last.clay).toBeCloseTo(400.339945373445, 9);
    expect(settings).not.toHaveProperty("rateStepN");
  });

  it("draws the cylinder's line through two points (300 psi at 100 lbf, 700 psi at 300 lbf: 2 psi a pound)", () => {
    const { cylinder } = choices({
      cylinder: {
        points: [
          ["100 lbf", "300 psi"],
          ["300 lbf", "700 psi"],
        ],
      },
    }).settings;
    expect(cylinder!.pascalPerNewton).toBeCloseTo((2 * 6894.757293168) / 4.4482216152605, 6);
    expect(cylinder!.pascalAtNoForce / 6894.757293168).toBeCloseTo(100, 9);
  });

  it("has nothing to say where the manifest has no such part", () => {
    expect(prescriptionChoices(parseManifest({ plantingLog: { file: "log.csv" } }))).toBeNull();
  });

  it.each([
    [{ largestStep: "40 in" }, "prescription.largestStep"],
    [{ mostRates: 17 }, "mostRates"],
    [{ largestStep: "1e308 lbf" }, "prescription.largestStep"],
    [{ largestMargin: "16000 lbf" }, "prescription.largestMargin"],
    [{ lag: "600 s" }, "prescription.lag"],
    [{ gridCell: "1e300 m" }, "prescription.gridCell"],
    [{ last: { clay: "-1e9 lbf" } }, "prescription.last.clay"],
    [{ biggestStep: "40 lbf" }, "biggestStep"],
    [{ last: { clay: "ninety" } }, "prescription.last.clay"],
    [
      {
        cylinder: {
          points: [
            ["300 lbf", "300 psi"],
            ["300 lbf", "700 psi"],
          ],
        },
      },
      "prescription.cylinder.points",
    ],
  ])("refuses %j, naming the place", (prescription, place) => {
    const parse = () => parseManifest(manifest(prescription));
    expect(parse).toThrow(ManifestError);
    expect(parse).toThrow(new RegExp(place.replaceAll(".", "\\.")));
  });
});
