/** How a field was planted, and how its plants answer: usual planting, faults of it, and the loss they bring. */
import { between, type Chance, chanceOf, gauss, oneOf } from "./chance.ts";
import type { Ground, Spot } from "./ground.ts";
import { drawSurface, onKnots, type Surface } from "./surface.ts";
import type { ResponseShape, WorldSpec } from "./worlds.ts";

/** Planting of one row unit at one moment. */
export interface Planting {
  depthMm: number;
  /** SD from seed to seed, mm. */
  depthSdMm: number;
  loadN: number;
  loadSdN: number;
  speedMetresPerSecond: number;
  /** Share of seeds skipped, as metered and as the log says (a sensor can be wrong). */
  misses: number;
  loggedMisses: number;
  /** Seeds asked for / target. */
  rate: number;
}

/** What the planting can do wrong and lose plants by, more or less from field to field. */
export const FACTORS = [
  "too-shallow",
  "too-deep",
  "uneven-depth",
  "lost-ground-contact",
  "excess-down-force",
  "excess-speed",
] as const;
export type Factor = (typeof FACTORS)[number];

/** Seeds that never fell: they are missing in every field alike. */
export const METERING = ["misses", "rate-off-target"] as const;
export type PlantingFault = Factor | (typeof METERING)[number];

/** How far each factor is from harmless, 1 for a plain fault; 0 for usual planting. Limits are our own invention. */
const DOSE: Record<Factor, (p: Planting) => number> = {
  "too-shallow": (p) => (43 - p.depthMm) / 11,
  "too-deep": (p) => (p.depthMm - 60) / 15,
  "uneven-depth": (p) => (p.depthSdMm - 6.5) / 5.5,
  "lost-ground-contact": (p) => (260 - p.loadN) / 170,
  "excess-down-force": (p) => (p.loadN - 780) / 420,
  "excess-speed": (p) => (p.speedMetresPerSecond - 2.8) / 0.6,
};

/** Changes planting to a dose of a factor; metering faults by their share. */
export function misplant(planting: Planting, fault: PlantingFault, dose: number): void {
  switch (fault) {
    case "too-shallow":
      planting.depthMm = 43 - 11 * dose;
      break;
    case "too-deep":
      planting.depthMm = 60 + 15 * dose;
      break;
    case "uneven-depth":
      planting.depthSdMm = 6.5 + 5.5 * dose;
      break;
    case "lost-ground-contact":
      planting.loadN = Math.max(15, 260 - 170 * dose);
      planting.loadSdN = 110;
      break;
    case "excess-down-force":
      planting.loadN = 780 + 420 * dose;
      break;
    case "excess-speed":
      planting.speedMetresPerSecond = 2.8 + 0.6 * dose;
      planting.loadSdN *= 1.25;
      planting.misses += 0.012 * dose;
      planting.loggedMisses += 0.012 * dose;
      break;
    case "misses":
      planting.misses += 0.1 * dose;
      planting.loggedMisses += 0.1 * dose;
      break;
    case "rate-off-target":
      planting.rate -= 0.11 * dose;
      break;
  }
}

export interface Response {
  /** Loss at dose 1, share of the plants; 0 where the field forgives the factor. */
  harm: Record<Factor, number>;
  /** Share of the target that stands of what a spot was planted with. */
  survival(planting: Planting): number;
}

/** Draws what a field forgives and what not: `harmful` never is, `forgiven` always is. */
export function drawResponse(
  spec: WorldSpec,
  name: string,
  harmful: readonly PlantingFault[],
  forgiven: readonly PlantingFault[],
): Response {
  const chance = chanceOf(`${name}/response`);
  const [least, most] = spec.harm;
  const shape = {} as Record<Factor, ResponseShape>;
  const harm = {} as Record<Factor, number>;
  for (const factor of FACTORS) {
    shape[factor] = oneOf(chance, spec.shapes);
    const size = Math.exp(between(chance, Math.log(least), Math.log(most)));
    const isHarmful = chance() < 0.5;
    harm[factor] = forgiven.includes(factor) || !(isHarmful || harmful.includes(factor)) ? 0 : size;
  }
  return {
    harm,
    survival(planting) {
      let left = planting.rate * (1 - planting.misses);
      for (const factor of FACTORS)
        left *= 1 - Math.min(0.7, harm[factor] * answer(shape[factor], DOSE[factor](planting)));
      return left;
    },
  };
}

function answer(shape: ResponseShape, dose: number): number {
  if (dose <= 0) return 0;
  switch (shape) {
    case "linear":
      return dose;
    case "saturating":
      return (1 - Math.exp(-1.6 * dose)) / (1 - Math.exp(-1.6));
    case "threshold":
      return Math.max(0, dose - 0.35) / 0.65;
    case "step":
      return dose > 0.5 ? 1 : 0;
  }
}

/** Planting with nothing wrong: a little of everything moves, no dose is above 0. */
export function drawUsual(ground: Ground, name: string): (spot: Spot) => Planting {
  const chance: Chance = chanceOf(`${name}/usual`);
  const slow = (): Surface => onKnots(drawSurface(chance, "smooth", 55), ground.widthM, ground.spec.lengthM);
  const [depth, load] = [slow(), slow()];
  const [settingMm, settingN] = [between(chance, 49, 54), between(chance, 400, 520)];
  const dampTakes = between(chance, 10, 60);
  const speedOfPass = Float64Array.from(
    { length: ground.spec.passCount + 1 },
    () => 2.3 + 0.06 * gauss(chance),
  );
  const unit = Array.from({ length: ground.rows + 1 }, () => ({
    mm: 0.7 * gauss(chance),
    n: 14 * gauss(chance),
  }));
  return (spot) => {
    const loadN = settingN + 32 * load(spot.across, spot.along) - (spot.zone === ground.damp ? dampTakes : 0);
    return {
      depthMm: settingMm + 1.1 * depth(spot.across, spot.along) + unit[spot.row]!.mm,
      depthSdMm: 4.6,
      loadN: Math.min(700, Math.max(300, loadN + unit[spot.row]!.n)),
      loadSdN: 0.25 * loadN,
      speedMetresPerSecond: Math.min(2.6, speedOfPass[spot.pass]!),
      misses: 0.013,
      loggedMisses: 0.013,
      rate: 1,
    };
  };
}
