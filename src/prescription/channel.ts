/** From a load on the gauge wheels to what the machine's channel takes, only where the log allows it. */
import { formatNumber, formatQuantity, type UnitSystem } from "../format.ts";
import type { TodaysLoad } from "./evidence.ts";
import type { Moisture, Prescription, PrescriptionSettings, Rates } from "./prescription.ts";
import { forceFor } from "./steps.ts";

/** A zone's load prescribed for the picked state and what is logged there. */
export interface ZoneLoad {
  soilZone: string;
  prescribedN: number;
  today: TodaysLoad | null;
}

/** Today's load and force on some ground; null where not logged. */
export interface TodaysPair {
  meanN: number;
  forceN: number | null;
}

/**
 * What the machine is told for a load. Added force is a whole number of steps and at least one: none at all, or lift,
 * is never sent.
 */
export function ratesFor(
  marginN: number,
  today: TodaysPair | null,
  settings: Pick<PrescriptionSettings, "rateStepN" | "cylinder">,
): Rates {
  const force = today?.forceN == null ? null : forceFor(marginN, today.meanN, today.forceN);
  const { rateStepN, cylinder } = settings;
  const forceN = force === null ? null : Math.max(1, Math.round(force / rateStepN)) * rateStepN;
  return {
    marginN,
    forceN,
    pressurePa:
      forceN === null || !cylinder
        ? null
        : Math.round(cylinder.pascalAtNoForce + cylinder.pascalPerNewton * forceN),
  };
}

/** True where the force for the load would be none or a lift. */
export function wouldLift(marginN: number, today: TodaysPair | null): boolean {
  return today?.forceN != null && forceFor(marginN, today.meanN, today.forceN) <= 0;
}

/** The channel the files carry, with the formula in this field's numbers, or why there is none. */
export function channelOf(
  loads: readonly ZoneLoad[],
  settings: PrescriptionSettings,
  units: UnitSystem,
): Prescription["channel"] {
  const { channel, cylinder } = settings;
  const without = loads.filter(({ today }) => today?.forceN == null);
  const formula = formulaOf(loads, settings, units);
  if (channel === null)
    return {
      quantity: null,
      formula,
      reason:
        "nobody has said yet what the machine's channel takes: a load on the gauge wheels, a force added to the row unit's own weight, or a pressure. Until then there are the cab sheet and the layer of loads only",
    };
  if (channel === "margin") return { quantity: "margin", formula: marginFormula, reason: null };
  if (without.length === loads.length)
    return {
      quantity: null,
      formula: "",
      reason:
        "the log has no added force, so what a load takes in force cannot be worked out; a load written into a force channel would be wrong by hundreds of pounds",
    };
  if (without.length > 0)
    return {
      quantity: null,
      formula,
      reason: `no added force is logged on ${without.map(({ soilZone }) => soilZone).join(", ")}, so the force cannot be worked out for the whole field`,
    };
  if (channel === "pressure" && !cylinder)
    return {
      quantity: null,
      formula,
      reason:
        "a pressure needs your own cylinder's figures: two forces and the pressures they take, from its manual or measured",
    };
  return { quantity: channel, formula, reason: null };
}

const marginFormula = "load on the gauge wheels, as prescribed; the machine works out the force itself";

function formulaOf(loads: readonly ZoneLoad[], settings: PrescriptionSettings, units: UnitSystem): string {
  const known = loads.filter(({ today }) => today?.forceN != null);
  if (known.length === 0) return "";
  const figure = (newtons: number): string => formatNumber(newtons, "force", units);
  const lines = known.map(({ soilZone, prescribedN, today }) => {
    const force = forceFor(prescribedN, today!.meanN, today!.forceN!);
    const sent = ratesFor(prescribedN, today, settings).forceN!;
    const whole = figure(sent) === figure(force) ? "" : `, sent as ${formatQuantity(sent, "force", units)}`;
    return `${soilZone}: ${figure(today!.forceN!)} + ${figure(prescribedN)} - ${figure(today!.meanN)} = ${formatQuantity(force, "force", units)}${whole}`;
  });
  const { cylinder } = settings;
  const pressure =
    settings.channel === "pressure" && cylinder
      ? `; pressure = ${Math.round(cylinder.pascalAtNoForce)} Pa + ${cylinder.pascalPerNewton.toFixed(1)} Pa for each newton of added force`
      : "";
  return `added force = today's logged added force + load to aim for - today's logged load, the soil's reaction held; ${lines.join("; ")}${pressure}`;
}

/** State of the ground in words, as part of a sentence. */
export function groundWords(moisture: Moisture): string {
  return { dry: "dry ground", fit: "fit ground", damp: "damp ground" }[moisture];
}
