/** The user's choices for the prescription: defaults, the manifest's over them, and what cannot be. */
import { PrescriptionError } from "../errors.ts";
import type { Field } from "../field/field.ts";
import { LIMITS } from "./limits.ts";
import { CHANNELS, MOISTURES, type PrescriptionSettings } from "./prescription.ts";

/** Settings before anything is known of the field: all but the smallest and largest load. */
export const USUAL_SETTINGS = {
  moisture: "fit",
  channel: null,
  largestStepN: LIMITS.largestStep.value,
  rateStepN: LIMITS.rateStep.value,
  lagS: LIMITS.lag.value,
  smallestAreaHa: LIMITS.smallestArea.value,
  smallestWidthBars: LIMITS.smallestWidth.value,
  mostRates: LIMITS.mostRates.value,
  mostPolygons: LIMITS.mostPolygons.value,
  mostVertices: LIMITS.mostVertices.value,
  proofStrips: true,
  outsideMarginN: null,
  lostPositionMarginN: null,
  usableWeight: null,
  cylinder: null,
  gridCellM: LIMITS.gridCell.value,
} as const satisfies Partial<PrescriptionSettings>;

/**
 * Defaults of the field, the manifest's `prescription` laid over them. The user's own target band of the load, where
 * given, is the smallest and largest load.
 */
export function defaultSettings(field: Field): PrescriptionSettings {
  const [low, high] = field.targets.downForceMarginN ?? [
    LIMITS.smallestMargin.value,
    LIMITS.largestMargin.value,
  ];
  return {
    ...USUAL_SETTINGS,
    minimumMarginN: Math.max(low, LIMITS.leastMarginEver.value),
    maximumMarginN: high,
    ...field.prescription?.settings,
  };
}

/**
 * Settings given laid over those of the field.
 * @throws {PrescriptionError} naming the setting, its value and what would be accepted
 */
export function completeSettings(field: Field, given: Partial<PrescriptionSettings>): PrescriptionSettings {
  const settings = { ...defaultSettings(field), ...given };
  requireSettings(settings);
  return settings;
}

function requireSettings(settings: PrescriptionSettings): void {
  const refuse = (field: keyof PrescriptionSettings, accepted: string): never => {
    const value = JSON.stringify(settings[field]);
    throw new PrescriptionError(
      `the setting "${field}" of the prescription is ${value}; it has to be ${accepted}`,
      {
        field: `prescription.${field}`,
        value,
        accepted,
      },
    );
  };
  const within = (field: keyof PrescriptionSettings, low: number, high: number, unit: string): void => {
    const value = settings[field];
    if (value === null || (typeof value === "number" && value >= low && value <= high)) return;
    refuse(field, `from ${Number(low.toFixed(1))} to ${Number(high.toFixed(1))}${unit}`);
  };
  const least = LIMITS.leastMarginEver.value;
  if (!MOISTURES.includes(settings.moisture)) refuse("moisture", MOISTURES.join(", "));
  if (settings.channel !== null && !CHANNELS.includes(settings.channel))
    refuse("channel", CHANNELS.join(", "));
  within("minimumMarginN", least, 4000, " N");
  within("maximumMarginN", least, 4000, " N");
  if (settings.minimumMarginN >= settings.maximumMarginN)
    refuse("maximumMarginN", `more than "minimumMarginN" (${Number(settings.minimumMarginN.toFixed(1))} N)`);
  within("largestStepN", 1, 4000, " N");
  within("rateStepN", 0.1, settings.maximumMarginN - settings.minimumMarginN, " N");
  within("lagS", 0, 120, " s");
  within("smallestAreaHa", 0, 100, " ha");
  within("smallestWidthBars", 0, 50, " bar widths");
  within("mostRates", 1, 16, "");
  within("mostPolygons", 1, 10_000, "");
  within("mostVertices", 4, 1_000_000, "");
  within("outsideMarginN", least, 4000, " N");
  within("lostPositionMarginN", least, 4000, " N");
  within("gridCellM", 0.5, 1000, " m");
  const weight = settings.usableWeight;
  if (weight && !Object.values(weight).every((value) => Number.isFinite(value) && value >= 0))
    refuse("usableWeight", "weights (N) and numbers of row units of 0 or more");
  const cylinder = settings.cylinder;
  if (cylinder && !(cylinder.pascalPerNewton > 0 && Number.isFinite(cylinder.pascalAtNoForce)))
    refuse("cylinder", "a pressure for each newton above 0, and the pressure at no added force");
}
