/** What the manifest says about the down-force prescription, in inside units. */
import { ManifestError } from "../errors.ts";
import { parseQuantity } from "../units.ts";
import type { Manifest } from "./manifest-schema.ts";

/** Choices by the names of the prescription's settings; only those the manifest makes. */
export interface PrescriptionChoices {
  settings: {
    moisture?: "dry" | "fit" | "damp";
    channel?: "margin" | "added-force" | "pressure";
    minimumMarginN?: number;
    maximumMarginN?: number;
    largestStepN?: number;
    rateStepN?: number;
    system?: "air" | "hydraulic";
    lagS?: number;
    smallestAreaHa?: number;
    smallestWidthBars?: number;
    mostRates?: number;
    mostPolygons?: number;
    mostVertices?: number;
    proofStrips?: boolean;
    outsideMarginN?: number;
    lostPositionMarginN?: number;
    usableWeight?: { centreN: number; wingN: number; centreRowUnits: number; wingRowUnits: number };
    cylinder?: { pascalPerNewton: number; pascalAtNoForce: number; forceN: [number, number] };
    gridCellM?: number;
    flat?: boolean;
    allowUncovered?: boolean;
  };
  /** Loads last year's prescription asked for, N, by soil zone. */
  last: Readonly<Record<string, number>>;
}

/** Quantities: key of the manifest, setting, inside unit. */
const QUANTITIES = [
  ["smallestMargin", "minimumMarginN", "N"],
  ["largestMargin", "maximumMarginN", "N"],
  ["largestStep", "largestStepN", "N"],
  ["rateStep", "rateStepN", "N"],
  ["lag", "lagS", "s"],
  ["smallestArea", "smallestAreaHa", "ha"],
  ["outside", "outsideMarginN", "N"],
  ["lostPosition", "lostPositionMarginN", "N"],
  ["gridCell", "gridCellM", "m"],
] as const;

/**
 * What no planter has, by inside unit: beyond it a unit or a decimal point is wrong (our judgement, wide of every machine).
 * Whether a load, a step or a cell makes sense on this field is judged where the loads are worked out.
 */
const MOST: Readonly<Record<string, { value: number; shown: string }>> = {
  N: { value: 20_000, shown: "up to 4,496 lbf (20,000 N)" },
  s: { value: 120, shown: "up to 120 s" },
  ha: { value: 1000, shown: "up to 2,471 ac (1,000 ha)" },
  m: { value: 1000, shown: "up to 3,281 ft (1,000 m)" },
  Pa: { value: 1e8, shown: "up to 14,504 psi (1,000 bar)" },
};

function bounded(text: string, unit: string, field: string): number {
  const value = parseQuantity(text, unit, field);
  const most = MOST[unit]!;
  if (Math.abs(value) <= most.value) return value;
  throw new ManifestError(`${field} is "${text}", which cannot be; ${most.shown} is accepted`, {
    field,
    value: text,
    accepted: most.shown,
  });
}

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
  for (const [key, setting, unit] of QUANTITIES) {
    const text = given[key];
    if (text !== undefined) settings[setting] = bounded(text, unit, `prescription.${key}`);
  }
  for (const key of PLAIN) if (given[key] !== undefined) settings[key] = given[key];
  const weight = given.usableWeight;
  if (weight) {
    settings.usableWeight = {
      centreN: bounded(weight.centre, "N", "prescription.usableWeight.centre"),
      wingN: bounded(weight.wing, "N", "prescription.usableWeight.wing"),
      centreRowUnits: weight.centreRowUnits,
      wingRowUnits: weight.wingRowUnits,
    };
  }
  const { cylinder } = given;
  if (cylinder) {
    const at = [0, 1].map((k) => ({
      forceN: bounded(cylinder.points[k]![0], "N", `prescription.cylinder.points[${k}][0]`),
      pascal: bounded(cylinder.points[k]![1], "Pa", `prescription.cylinder.points[${k}][1]`),
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
      bounded(text, "N", `prescription.last.${zone}`),
    ]),
  );
  return { settings, last };
}
