/** The user's choices for the prescription: defaults, the manifest's over them, and what cannot be. */
import { PrescriptionError } from "../errors.ts";
import { type BoundedSetting, SETTING_BOUNDS } from "../manifest/prescription-bounds.ts";
import { isWithin, type QuantityBound } from "../quantities/bounded-quantity.ts";
import { formatQuantity } from "../quantities/format.ts";
import { FARM_ENGLISH, type Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";
import { MOISTURES } from "../vocabulary/moisture.ts";
import { LIMITS } from "./limits.ts";
import { CHANNELS, DOWN_FORCE_SYSTEMS, type PrescriptionSettings } from "./prescription.ts";

/** Settings before anything is known of the field: all but the smallest and largest load. */
export const USUAL_SETTINGS = {
  moisture: "fit",
  channel: null,
  largestStepN: LIMITS.largestStep.value,
  rateStepN: LIMITS.rateStep.value,
  system: null,
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
  flat: false,
  allowUncovered: false,
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
export function completeSettings(
  field: Field,
  given: Partial<PrescriptionSettings>,
  writing: Writing = FARM_ENGLISH,
): PrescriptionSettings {
  const settings = { ...defaultSettings(field), ...given };
  const { system } = settings;
  // The kind of system tells its lag where nobody gave one.
  if (system !== null && given.lagS === undefined && field.prescription?.settings.lagS === undefined)
    settings.lagS = { air: LIMITS.lagAir.value, hydraulic: LIMITS.lagHydraulic.value }[system] ?? Number.NaN;
  requireSettings(settings, writing);
  return settings;
}

/** What the page calls a setting; refusals say the same. */
export const SETTING_TITLES: Partial<Record<keyof PrescriptionSettings, string>> = {
  minimumMarginN: "Smallest load",
  maximumMarginN: "Largest load",
  largestStepN: "Largest step from today",
  rateStepN: "Whole steps of",
  system: "Kind of system",
  lagS: "Lag of the system",
  smallestAreaHa: "Smallest zone",
  smallestWidthBars: "Narrowest zone",
  mostRates: "Different loads at most",
  outsideMarginN: "Outside the boundary",
  lostPositionMarginN: "On lost position",
  usableWeight: "Weight of the bar",
  cylinder: "Cylinder",
};

function requireSettings(settings: PrescriptionSettings, writing: Writing): void {
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  const refuse = (field: keyof PrescriptionSettings, accepted: string, shown?: string): never => {
    const value = shown ?? JSON.stringify(settings[field]);
    throw new PrescriptionError(
      `${SETTING_TITLES[field] ?? field}: ${value} cannot be; it has to be ${accepted}`,
      {
        field: `prescription.${field}`,
        value,
        accepted,
      },
    );
  };
  const within = (field: keyof PrescriptionSettings, bound: Omit<QuantityBound, "shown">): void => {
    const value = settings[field];
    if (value === null || (typeof value === "number" && isWithin(value, bound))) return;
    const { unit, lowest, highest } = bound;
    if (unit === "N" && typeof value === "number")
      refuse(field, `from ${force(lowest)} to ${force(highest)}`, force(value));
    refuse(field, `from ${Number(lowest.toFixed(1))} to ${Number(highest.toFixed(1))} ${unit}`.trimEnd());
  };
  if (!MOISTURES.includes(settings.moisture)) refuse("moisture", MOISTURES.join(", "));
  if (settings.channel !== null && !CHANNELS.includes(settings.channel))
    refuse("channel", CHANNELS.join(", "));
  if (settings.system !== null && !DOWN_FORCE_SYSTEMS.includes(settings.system))
    refuse("system", DOWN_FORCE_SYSTEMS.join(", "));
  for (const field of Object.keys(SETTING_BOUNDS) as BoundedSetting[]) within(field, SETTING_BOUNDS[field]);
  const { minimumMarginN, maximumMarginN } = settings;
  if (minimumMarginN >= maximumMarginN)
    refuse("maximumMarginN", `more than the smallest load (${force(minimumMarginN)})`, force(maximumMarginN));
  within("rateStepN", { ...SETTING_BOUNDS.rateStepN, highest: maximumMarginN - minimumMarginN });
  within("smallestWidthBars", { unit: "bar widths", lowest: 0, highest: 50 });
  within("mostRates", { unit: "", lowest: 1, highest: 16 });
  within("mostPolygons", { unit: "", lowest: 1, highest: 10_000 });
  within("mostVertices", { unit: "", lowest: 4, highest: 1_000_000 });
  const weight = settings.usableWeight;
  if (weight && !Object.values(weight).every((value) => Number.isFinite(value) && value >= 0))
    refuse("usableWeight", "weights (N) and numbers of row units of 0 or more");
  const cylinder = settings.cylinder;
  if (
    cylinder &&
    !(
      cylinder.pascalPerNewton > 0 &&
      Number.isFinite(cylinder.pascalAtNoForce) &&
      cylinder.forceN[0] >= 0 &&
      cylinder.forceN[1] > cylinder.forceN[0]
    )
  )
    refuse("cylinder", "two forces of 0 or more, the higher one at the higher pressure");
}
