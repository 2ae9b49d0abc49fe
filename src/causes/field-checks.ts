/** Is the field as a whole off its target? Tested against the target, apart from contrasts within the field. */
import { FACTORS, type Factor, type RecordDoses } from "../cluster/predicted-loss.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import type { Field, LocalPolygon } from "../field/field.ts";
import type { PlantingVariable } from "../field/variables.ts";
import { mean } from "../numerics/descriptive.ts";
import type { Passes } from "../passes/passes.ts";
import { nameCause } from "./attribution.ts";
import type { Cause } from "./causes.ts";
import type { Draft } from "./draft.ts";

/** That the sensor or its calibration is off all over rather than the planting (our judgement). */
const CALIBRATION_PRIOR = 0.15;

interface Check {
  variable: PlantingVariable;
  cause: Cause;
  factor: Factor | null;
}

/**
 * One draft for each variable whose mean over the whole field misses its target by more than the tolerance.
 * @param outline ground of the field @param areaM2 its area
 */
export function checkField(
  field: Field,
  passes: Passes,
  doses: RecordDoses,
  outline: LocalPolygon[],
  areaM2: number,
): Draft[] {
  const checks: Check[] = [];
  const meanOf = (variable: PlantingVariable): number | null => {
    const values = field.log.values[variable]?.filter(
      (value, i) => passes.passOf[i]! > 0 && !Number.isNaN(value),
    );
    return values && values.length > 0 ? mean(values) : null;
  };
  const { targets } = field;
  const depth = meanOf("seedingDepth");
  if (depth !== null && targets.seedingDepthMm !== null && field.log.depthSource === "sensed") {
    const off = depth - targets.seedingDepthMm;
    if (off < -THRESHOLDS.depthTolerance.value)
      checks.push({ variable: "seedingDepth", cause: "too-shallow", factor: "too-shallow" });
    if (off > THRESHOLDS.depthTolerance.value)
      checks.push({ variable: "seedingDepth", cause: "too-deep", factor: "too-deep" });
  }
  const margin = meanOf("downForceMargin");
  if (margin !== null && targets.downForceMarginN) {
    const [low, high] = targets.downForceMarginN;
    if (margin < low)
      checks.push({
        variable: "downForceMargin",
        cause: "lost-ground-contact",
        factor: "lost-ground-contact",
      });
    if (margin > high)
      checks.push({ variable: "downForceMargin", cause: "excess-down-force", factor: "excess-down-force" });
  }
  const population = meanOf("population");
  const wanted = targets.populationPerHa;
  if (
    population !== null &&
    wanted !== null &&
    Math.abs(population / wanted - 1) > THRESHOLDS.populationTolerance.value
  ) {
    checks.push({ variable: "population", cause: "rate-off-target", factor: "rate-off-target" });
  }
  const speed = meanOf("speed");
  const usual = targets.speedMetresPerSecond;
  if (speed !== null && usual !== null && speed > usual * (1 + THRESHOLDS.speedTolerance.value)) {
    checks.push({ variable: "speed", cause: "excess-speed", factor: null });
  }
  return checks.map((check) => draftOf(check, passes, doses, outline, areaM2));
}

function draftOf(
  check: Check,
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
    "rate-off-target": doses.rate,
  };
  const predicted = Object.fromEntries(FACTORS.map((factor) => [factor, 0])) as Record<Factor, number>;
  const values = check.factor ? dose[check.factor]?.filter((value) => !Number.isNaN(value)) : null;
  if (check.factor && values && values.length > 0) predicted[check.factor] = Math.max(0, mean(values));
  return {
    ...nameCause(
      new Map<Cause, number>([
        [check.cause, 1 - CALIBRATION_PRIOR],
        ["sensor-fault", CALIBRATION_PRIOR],
      ]),
    ),
    kind: "field",
    basis: "predicted",
    detail: null,
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
