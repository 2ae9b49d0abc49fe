/** From a load on the gauge wheels to what the machine's channel takes, only where the log allows it. */
import { formatNumber, formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import type { Moisture } from "../vocabulary/moisture.ts";
import type { TodaysLoad } from "./evidence.ts";
import { LIMITS } from "./limits.ts";
import { isForceChannel, type Prescription, type PrescriptionSettings, type Rates } from "./prescription.ts";
import { cylinderRefusal, pressureFor, pressureText } from "./pressure.ts";
import { downStep, forceFor, wholeStep } from "./steps.ts";

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

type ForceLimits = Pick<PrescriptionSettings, "rateStepN" | "largestStepN" | "moisture">;

/** Added force for a load before limits, and as sent; null where no force is logged. */
function forcesFor(
  marginN: number,
  today: TodaysPair | null,
  limits: ForceLimits,
): { wantedN: number; sentN: number } | null {
  if (today?.forceN == null) return null;
  const wantedN = forceFor(marginN, today.meanN, today.forceN);
  const { rateStepN, largestStepN, moisture } = limits;
  const held = Math.min(
    today.forceN + largestStepN,
    LIMITS.mostForceEver.value,
    Math.max(today.forceN - downStep(limits, moisture), wantedN),
  );
  // None at all, or lift, is never sent.
  return { wantedN, sentN: Math.max(1, Math.round(held / rateStepN)) * rateStepN };
}

/**
 * What the machine is told for a load. Added force is a whole number of steps, at least one, and no farther from
 * today's force than the largest step; in a force channel the load is then the one that force leaves on the wheels.
 */
export function ratesFor(
  marginN: number,
  today: TodaysPair | null,
  settings: ForceLimits & Pick<PrescriptionSettings, "cylinder" | "channel">,
): Rates {
  const forces = forcesFor(marginN, today, settings);
  const { cylinder, channel } = settings;
  const forceN = forces?.sentN ?? null;
  return {
    marginN:
      isForceChannel(channel) && isForceHeld(marginN, today, settings)
        ? wholeStep(carriedBy(forceN!, today!), settings.rateStepN)
        : marginN,
    forceN,
    pressurePa: pressureFor(cylinder, forceN),
  };
}

/** True where the force sent is not the one the load asks for, by more than rounding to whole steps. */
export function isForceHeld(marginN: number, today: TodaysPair | null, limits: ForceLimits): boolean {
  const forces = forcesFor(marginN, today, limits);
  return forces !== null && Math.abs(forces.sentN - forces.wantedN) > limits.rateStepN;
}

/** Load on the wheels at an added force, N, the soil's reaction held. */
function carriedBy(forceN: number, today: TodaysPair): number {
  return today.meanN + forceN - (today.forceN ?? 0);
}

/** The channel the files carry, with the formula in this field's numbers, or why there is none. */
export function channelOf(
  loads: readonly ZoneLoad[],
  settings: PrescriptionSettings,
  writing: Writing,
  { forceRefusal, rowUnits }: { forceRefusal: string | null; rowUnits: number | null },
): Prescription["channel"] {
  const { channel, cylinder } = settings;
  const without = loads.filter(({ today }) => today?.forceN == null);
  const formula = formulaOf(loads, settings, writing);
  if (channel === null)
    return {
      quantity: null,
      formula,
      reason:
        "nobody has said yet what the machine's channel takes: a load on the gauge wheels, a force added to the row unit's own weight, or a pressure. Until then there are the cab sheet and the layer of loads only",
    };
  if (channel === "margin") return { quantity: "margin", formula: marginFormula, reason: null };
  if (forceRefusal !== null)
    return {
      quantity: null,
      formula: "",
      reason: `the logged added force cannot be trusted: ${forceRefusal}`,
    };
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
  const sent = loads.map(
    ({ soilZone, prescribedN, today }) => [soilZone, forcesFor(prescribedN, today, settings)!.sentN] as const,
  );
  const refused =
    totalRefusal(sent, rowUnits, writing) ??
    (channel === "pressure" ? pressureRefusal(sent, cylinder!, settings, writing) : null);
  if (refused !== null) return { quantity: null, formula: "", reason: refused };
  return { quantity: channel, formula, reason: null };
}

function totalRefusal(
  sent: readonly (readonly [string, number])[],
  rowUnits: number | null,
  writing: Writing,
): string | null {
  const most = LIMITS.mostForceInTotal.value;
  const over = sent.find(([, forceN]) => rowUnits !== null && forceN * rowUnits > most);
  if (!over) return null;
  const force = (newtons: number): string => formatQuantity(newtons, "force", writing);
  return `${force(over[1])} on each of ${rowUnits} row units is ${force(over[1] * rowUnits!)} in total on ${over[0]}; more than ${force(most)} is never written`;
}

function pressureRefusal(
  sent: readonly (readonly [string, number])[],
  cylinder: NonNullable<PrescriptionSettings["cylinder"]>,
  { system }: PrescriptionSettings,
  writing: Writing,
): string | null {
  const refusal = cylinderRefusal(cylinder, system, writing);
  if (refusal !== null) return refusal;
  const beyond = sent.find(([, forceN]) => pressureFor(cylinder, forceN) === null);
  if (!beyond) return null;
  const [low, high] = cylinder.forceN;
  return `${beyond[0]} takes ${formatQuantity(beyond[1], "force", writing)} of added force, outside the cylinder's two points (${formatNumber(low, "force", writing)} to ${formatQuantity(high, "force", writing)}); its line is not carried on beyond them`;
}

const marginFormula = "load on the gauge wheels, as prescribed; the machine works out the force itself";

function formulaOf(loads: readonly ZoneLoad[], settings: PrescriptionSettings, writing: Writing): string {
  const known = loads.filter(({ today }) => today?.forceN != null);
  if (known.length === 0) return "";
  const figure = (newtons: number): string => formatNumber(newtons, "force", writing);
  const lines = known.map(({ soilZone, prescribedN, today }) => {
    const { wantedN: force, sentN: sent } = forcesFor(prescribedN, today, settings)!;
    const sentWords = formatQuantity(sent, "force", writing);
    const whole = isForceHeld(prescribedN, today, settings)
      ? `, held to ${formatQuantity(sent < today!.forceN! ? downStep(settings, settings.moisture) : settings.largestStepN, "force", writing)} from today's: ${sentWords} is sent, the wheels then carry about ${formatQuantity(carriedBy(sent, today!), "force", writing)}`
      : figure(sent) === figure(force)
        ? ""
        : `, sent as ${sentWords}`;
    return `${soilZone}: ${figure(today!.forceN!)} + ${figure(prescribedN)} - ${figure(today!.meanN)} = ${formatQuantity(force, "force", writing)}${whole}`;
  });
  const { cylinder } = settings;
  const pressure =
    settings.channel === "pressure" && cylinder
      ? `; ${cylinder.forceN
          .map(
            (forceN) =>
              `${formatQuantity(forceN, "force", writing)} of added force takes ${pressureText(cylinder.pascalAtNoForce + cylinder.pascalPerNewton * forceN, writing)}`,
          )
          .join(", ")}, in a line between`
      : "";
  return `added force = today's logged added force + load to aim for - today's logged load, the soil's reaction held; ${lines.join("; ")}${pressure}`;
}

/** State of the ground in words, as part of a sentence. */
export function groundWords(moisture: Moisture): string {
  return { dry: "dry ground", fit: "fit ground", damp: "damp ground" }[moisture];
}
