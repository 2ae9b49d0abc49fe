/** What the manifest says about the down-force prescription, in inside units. */
import { ManifestError } from "../errors.ts";
import { boundedQuantity } from "../quantities/bounded-quantity.ts";
import type { PrescriptionChoices } from "../vocabulary/prescription-choices.ts";
import type { Manifest } from "./manifest-schema.ts";
import { MACHINE_BOUNDS, SETTING_BOUNDS, ZONE_LOAD_BOUND } from "./prescription-bounds.ts";

/** Quantities: key of the manifest, setting. */
const QUANTITIES = [
  ["smallestMargin", "minimumMarginN"],
  ["largestMargin", "maximumMarginN"],
  ["largestStep", "largestStepN"],
  ["rateStep", "rateStepN"],
  ["lag", "lagS"],
  ["smallestArea", "smallestAreaHa"],
  ["outside", "outsideMarginN"],
  ["lostPosition", "lostPositionMarginN"],
  ["gridCell", "gridCellM"],
] as const;

const PLAIN = [
  "moisture",
  "channel",
  "system",
  "flat",
  "allowUncovered",
  "smallestWidthBars",
  "mostRates",
  "mostPolygons",
  "mostVertices",
  "proofStrips",
] as const;

/**
 * The prescription part of a manifest; null where it has none.
 * @throws {ManifestError} for a quantity that cannot be read
 */
export function prescriptionChoices(manifest: Manifest): PrescriptionChoices | null {
  const given = manifest.prescription;
  if (!given) return null;
  const settings: Record<string, unknown> = {};
  for (const [key, setting] of QUANTITIES) {
    const text = given[key];
    if (text !== undefined)
      settings[setting] = boundedQuantity(text, SETTING_BOUNDS[setting], `prescription.${key}`);
  }
  for (const key of PLAIN) if (given[key] !== undefined) settings[key] = given[key];
  const weight = given.usableWeight;
  if (weight) {
    settings.usableWeight = {
      centreN: boundedQuantity(weight.centre, MACHINE_BOUNDS.spareWeight, "prescription.usableWeight.centre"),
      wingN: boundedQuantity(weight.wing, MACHINE_BOUNDS.spareWeight, "prescription.usableWeight.wing"),
      centreRowUnits: weight.centreRowUnits,
      wingRowUnits: weight.wingRowUnits,
    };
  }
  const { cylinder } = given;
  if (cylinder) {
    const at = [0, 1].map((k) => ({
      forceN: boundedQuantity(
        cylinder.points[k]![0],
        MACHINE_BOUNDS.cylinderForce,
        `prescription.cylinder.points[${k}][0]`,
      ),
      pascal: boundedQuantity(
        cylinder.points[k]![1],
        MACHINE_BOUNDS.cylinderPressure,
        `prescription.cylinder.points[${k}][1]`,
      ),
    }));
    const slope = (at[1]!.pascal - at[0]!.pascal) / (at[1]!.forceN - at[0]!.forceN);
    if (!(slope > 0 && Number.isFinite(slope))) {
      throw new ManifestError(
        "prescription.cylinder.points need two forces, the higher one at the higher pressure",
        {
          field: "prescription.cylinder.points",
          value: JSON.stringify(cylinder.points),
          accepted: '[["100 lbf", "300 psi"], ["300 lbf", "700 psi"]]',
        },
      );
    }
    settings.cylinder = {
      pascalPerNewton: slope,
      pascalAtNoForce: at[0]!.pascal - slope * at[0]!.forceN,
      forceN: at.map(({ forceN }) => forceN).sort((a, b) => a - b),
    };
  }
  const last = Object.fromEntries(
    Object.entries(given.last ?? {}).map(([zone, text]) => [
      zone,
      boundedQuantity(text, ZONE_LOAD_BOUND, `prescription.last.${zone}`),
    ]),
  );
  return { settings, last };
}
