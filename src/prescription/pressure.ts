/** Pressures of the down-force system from forces, only between the two points of the user's own cylinder. */
import { convert } from "../quantities/units.ts";
import type { Writing } from "../texts/language.ts";
import type { DownForceSystem, PrescriptionSettings } from "./prescription.ts";

/** A pound-force a square inch, Pa. */
export const PASCAL_PER_PSI = convert(1, "lbf", "N") / convert(1, "in", "m") ** 2;

/**
 * Pressure at the higher of the two points, Pa, by kind of system: air bags at 20 to 150 psi, hydraulic cylinders at
 * 150 to 3,000 psi. From memory of practice; wide enough for any, too narrow for a mistaken unit (kPa or bar for psi).
 */
export const PRESSURE_BOUNDS: Readonly<Record<DownForceSystem, readonly [number, number]>> = {
  air: [20 * PASCAL_PER_PSI, 150 * PASCAL_PER_PSI],
  hydraulic: [150 * PASCAL_PER_PSI, 3000 * PASCAL_PER_PSI],
};
/** Points closer together than this give no line, N (our judgement: half the usual step of force between gauges). */
const SHORTEST_LINE_N = convert(50, "lbf", "N");

type Cylinder = NonNullable<PrescriptionSettings["cylinder"]>;

/** Pressure at a force, whole Pa; null beyond the two points, which are never extrapolated. */
export function pressureFor(cylinder: Cylinder | null, forceN: number | null): number | null {
  if (!cylinder || forceN === null) return null;
  const [low, high] = cylinder.forceN;
  const slack = 0.5;
  if (forceN < low - slack || forceN > high + slack) return null;
  return Math.round(cylinder.pascalAtNoForce + cylinder.pascalPerNewton * forceN);
}

export function pressureText(pascal: number, writing: Writing): string {
  return writing.units === "farm"
    ? `${Math.round(pascal / PASCAL_PER_PSI)} psi`
    : `${Math.round(pascal / 1000)} kPa`;
}

/** Why a cylinder's line cannot be used; null where it can. */
export function cylinderRefusal(
  cylinder: Cylinder,
  system: DownForceSystem | null,
  writing: Writing,
): string | null {
  const [low, high] = cylinder.forceN;
  const at = (forceN: number): number => cylinder.pascalAtNoForce + cylinder.pascalPerNewton * forceN;
  if (!(cylinder.pascalPerNewton > 0) || at(low) < 0)
    return "a cylinder's pressure rises with its force and is never below zero; the two points given do not do that";
  if (high - low < SHORTEST_LINE_N)
    return "the two points of the cylinder lie too close together to draw a line through";
  if (system === null)
    return "say whether the system has air bags or hydraulic cylinders: without it psi, bar and kPa cannot be told apart";
  const [least, most] = PRESSURE_BOUNDS[system];
  const top = at(high);
  if (top >= least && top <= most) return null;
  return `${pressureText(top, writing)} at the higher point is no pressure of ${SYSTEM_WORDS[system]} (${pressureText(least, writing)} to ${pressureText(most, writing)}); look whether bar, kPa and psi were mistaken for each other`;
}

const SYSTEM_WORDS: Readonly<Record<DownForceSystem, string>> = {
  air: "air bags",
  hydraulic: "hydraulic cylinders",
};
