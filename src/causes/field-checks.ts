/**
 * Is the field as a whole off its target? Tested apart from contrasts within the field, by how much of the ground is off:
 * share of the readings above and below the band, time without load, skips, doubles. A mean says neither: 164 lb on a
 * band to 160 is nothing, and 110 lb with a spread of 80 has wheels in the air.
 */
import { FACTORS, type Factor, type RecordDoses } from "../cells/predicted-loss.ts";
import { stretchesOf, usualMean } from "../compare/stretches.ts";
import { type TargetLimits, targetLimits } from "../compare/tables/target-limits.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { depthCauseCeiling, isSensedDepth } from "../field/depth-source.ts";
import { mean } from "../numerics/descriptive.ts";
import type { Passes } from "../passes/passes.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import type { Draft } from "./draft.ts";
import { nameCause } from "./evidence/attribution.ts";
import { ABOVE_TARGET } from "./rate-surplus.ts";

/** That the sensor or its calibration is off all over rather than the planting (our judgement). */
const CALIBRATION_PRIOR = 0.15;

interface Check {
  cause: Cause;
  factor: Factor | null;
  detail?: string;
}

/**
 * One draft for each way in which the whole field is off: at least half of its stretches of ground are. Stretches are those
 * of single row units where the log has them, so that neither one bad row unit nor one bad place makes it a matter of the
 * whole field.
 * @param outline ground of the field @param areaM2 its area
 */
export function checkField(
  field: Field,
  passes: Passes,
  doses: RecordDoses,
  outline: LocalPolygon[],
  areaM2: number,
): Draft[] {
  const stretches = stretchesOf(passes);
  const usual = (readingOf: (record: number) => number): number => usualMean(readingOf, stretches);
  const { values, depthSource } = field.log;
  const most = THRESHOLDS.mostOfField.value;
  const checks: Check[] = [];
  /** Usual shares of the readings below and above limits stretched by a share of each end. */
  const outside = (column: Float64Array, limits: TargetLimits, tolerance: number): [number, number] => {
    const { step } = limits;
    return [
      usual((record) => {
        const low = limits.low[record * step]! * (1 - tolerance);
        const value = column[record]!;
        return Number.isNaN(value) || Number.isNaN(low) ? Number.NaN : value < low ? 1 : 0;
      }),
      usual((record) => {
        const high = limits.high[record * step]! * (1 + tolerance);
        const value = column[record]!;
        return Number.isNaN(value) || Number.isNaN(high) ? Number.NaN : value > high ? 1 : 0;
      }),
    ];
  };

  const depthLimits = values.seedingDepth && targetLimits(field, "seedingDepth");
  if (values.seedingDepth && depthLimits && isSensedDepth(depthSource)) {
    const [below, above] = outside(values.seedingDepth, depthLimits, 0);
    if (below > most) checks.push({ cause: "too-shallow", factor: "too-shallow" });
    if (above > most) checks.push({ cause: "too-deep", factor: "too-deep" });
  }

  const { margin, lostContact } = doses;
  const band = margin && targetLimits(field, "downForceMargin");
  const [tooLight, tooHeavy] =
    margin && band ? outside(margin, band, THRESHOLDS.bandTolerance.value) : [0, 0];
  const withoutLoad = margin ? usual((i) => asShare(margin[i]!, margin[i]! <= THRESHOLDS.noLoad.value)) : 0;
  const offGround = lostContact ? usual((i) => lostContact[i]!) : 0;
  if (tooLight > most || withoutLoad > doses.noLoadShareLimit || offGround > doses.noLoadShareLimit)
    checks.push({ cause: "lost-ground-contact", factor: "lost-ground-contact" });
  if (tooHeavy > most) checks.push({ cause: "excess-down-force", factor: "excess-down-force" });

  const rateLimits = values.population && targetLimits(field, "population");
  if (values.population && rateLimits) {
    const [below, above] = outside(values.population, rateLimits, 0);
    if (below > most) checks.push({ cause: "rate-off-target", factor: "rate-off-target" });
    else if (above > most) checks.push({ cause: "rate-off-target", factor: null, detail: ABOVE_TARGET });
  }
  const speedLimits = values.speed && targetLimits(field, "speed");
  if (values.speed && speedLimits && outside(values.speed, speedLimits, 0)[1] > most)
    checks.push({ cause: "excess-speed", factor: null });

  const amiss = THRESHOLDS.seedsAmiss.value;
  const { misses, multiples } = values;
  if (misses && usual((i) => misses[i]!) > amiss) checks.push({ cause: "misses", factor: "misses" });
  if (multiples && usual((i) => multiples[i]!) > amiss) checks.push({ cause: "multiples", factor: null });
  return checks.map((check) => draftOf(check, field, passes, doses, outline, areaM2));
}

function asShare(value: number, isOff: boolean): number {
  return Number.isNaN(value) ? Number.NaN : isOff ? 1 : 0;
}

function draftOf(
  check: Check,
  field: Field,
  passes: Passes,
  doses: RecordDoses,
  outline: LocalPolygon[],
  areaM2: number,
): Draft {
  const dose: Partial<Record<Factor, Float64Array | null>> = {
    "too-shallow": doses.shallow,
    "too-deep": doses.deep,
    "lost-ground-contact": doses.light,
    "excess-down-force": doses.heavy,
    misses: doses.misses,
    "rate-off-target": doses.rate,
  };
  const predicted = Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Record<Factor, number>;
  const values = check.factor ? dose[check.factor]?.filter((value) => !Number.isNaN(value)) : null;
  if (check.factor && values && values.length > 0) predicted[check.factor] = Math.max(0, mean(values));
  const isDepth = check.cause === "too-shallow" || check.cause === "too-deep";
  const ceiling = isDepth ? depthCauseCeiling(field.log.depthSource, false) : 1;
  const probability = Math.min(1 - CALIBRATION_PRIOR, ceiling);
  return {
    ...nameCause(
      new Map<Cause, number>([
        [check.cause, probability],
        ["sensor-fault", 1 - probability],
      ]),
    ),
    kind: "field",
    basis: "predicted",
    detail: check.detail ?? null,
    pValue: null,
    polygons: outline,
    areaM2,
    inside: Uint8Array.from(passes.passOf, (pass) => (pass > 0 ? 1 : 0)),
    passes: [],
    rowUnits: [],
    soilZones: [],
    ground: "fit",
    predicted,
    deficit: null,
    spots: [],
    digs: [],
    departure: null,
  };
}
