/**
 * Planting factors as terms of the stand model. How strongly a stand answers to a fault is not known to a fifth, so each
 * factor may act in several ways: by the published curve, by one whose knee comes earlier, by departure from what is usual on
 * the field, or as a plain step that says "it departs here" without a size. Knees, weights and spreads are our judgement,
 * tuned on simulated fields.
 *
 * Root before symptom: where the bar runs fast, shallow, uneven and skipped seed is put down to speed, where the wheels run
 * light, shallow and uneven seed to that.
 */
import type { Cells } from "../cells/cells.ts";
import { FACTORS, type Factor, type PredictedLoss } from "../cells/predicted-loss.ts";
import { groundState, isWet } from "../compare/ground-state.ts";
import { THRESHOLDS as T } from "../compare/thresholds.ts";
import { isMeasuredDepth } from "../field/depth-source.ts";
import { median, medianAbsoluteDeviation } from "../numerics/descriptive.ts";
import { quantileSorted } from "../numerics/quantile.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { type GroundShares, overGround } from "./ground-shares.ts";
import { type DoseForm, optionsOf, type Slab, type Term, type TermOption } from "./terms.ts";

/** Effect as a multiple of the dose. */
const CURVE_SLABS: readonly Slab[] = [
  { mean: 1, sd: 0.4, weight: 0.55 },
  { mean: 1, sd: 1, weight: 0.3 },
  { mean: 1.5, sd: 2.5, weight: 0.15 },
];
/** A full step is 10 points. */
const STEP = 0.1;
const STEP_SLABS: readonly Slab[] = [
  { mean: 0.8, sd: 0.5, weight: 0.6 },
  { mean: 2.2, sd: 1.2, weight: 0.4 },
];
/** A seed that was not dropped is missing for certain. */
const CERTAIN_SLABS: readonly Slab[] = [{ mean: 1, sd: 0.15, weight: 1 }];

/** Seeds that the log says were not dropped are missing, unless its sensor is wrong. */
const CERTAIN_INCLUSION = 0.65;

const SEEN = { inclusion: 0.35, weights: { published: 0.35, wide: 0.2, own: 0.15, step: 0.3 } } as const;
const UNSEEN = { inclusion: 0.1, weights: { published: 0.05, wide: 0.2, own: 0.2, step: 0.55 } } as const;
/** Ground on which a dose has to depart before it is looked at, m2. */
const LEAST_GROUND_M2 = 800;
/** A dose below this is no departure, share of stand. */
const SMALLEST_DOSE = 0.01;

/** Doses wider than the published ones: knees that come earlier. */
const WIDE = { light: 1.5, heavy: 0.65, shallowMm: 6.35, unevenShare: 0.75, fastShare: 0.95 } as const;
/** Stand lost per m/s of speed above the knee: 3 points a mile per hour, unsourced, our judgement. */
const SPEED_SLOPE = 0.03 / 0.44704;

/** Least departure from the usual that is one, by driver, in inside units (our judgement). */
const LEAST_DEPARTURE = { marginN: 65, depthMm: 4, spreadMm: 1.5, speed: 0.3 } as const;
const SPREADS_FROM_USUAL = 2;

/**
 * Terms of the factors that the log shows anywhere.
 * @param losses loss by the published curves, the field's usual loss taken off, by cell
 */
export function factorTerms(
  field: Field,
  passes: Passes,
  cells: Cells,
  shares: GroundShares,
  losses: PredictedLoss,
): Term[] {
  const forms = dosesByForm(field, passes, cells, losses);
  return FACTORS.flatMap((factor): Term[] => {
    const own = forms[factor];
    const departs = (form: DoseForm): boolean => groundOf(own[form], cells) >= LEAST_GROUND_M2;
    const seen = departs("published") || (departs("step") && departs("wide"));
    const prior = seen ? SEEN : UNSEEN;
    const certain = factor === "misses" || factor === "rate-off-target";
    const options: TermOption[] = [];
    for (const form of ["published", "wide", "own", "step"] as const) {
      const dose = own[form];
      if (!dose || !departs(form)) continue;
      const slabs = certain ? CERTAIN_SLABS : form === "step" ? STEP_SLABS : CURVE_SLABS;
      const weight = certain ? 1 : prior.weights[form];
      options.push(
        ...optionsOf({ points: overGround(shares, dose), cells: dose }, form, weight, slabs, factor),
      );
    }
    // A column that no count touches says nothing.
    const touched = options.filter(({ column }) => column.points.some((value) => value > SMALLEST_DOSE / 2));
    if (touched.length === 0) return [];
    const total = touched.reduce((sum, { weight }) => sum + weight, 0);
    return [
      {
        kind: "factor",
        name: factor,
        inclusion: certain && seen ? CERTAIN_INCLUSION : prior.inclusion,
        options: touched.map((option) => ({ ...option, weight: option.weight / total })),
      },
    ];
  });
}

type Doses = { [form in DoseForm]?: Float64Array | undefined };

function groundOf(dose: Float64Array | undefined, cells: Cells): number {
  let area = 0;
  if (dose) for (let c = 0; c < dose.length; c++) if (dose[c]! >= SMALLEST_DOSE) area += cells.areaM2[c]!;
  return area;
}

function dosesByForm(
  field: Field,
  passes: Passes,
  cells: Cells,
  losses: PredictedLoss,
): Record<Factor, Doses> {
  const { count } = cells;
  const margin = cells.mean.downForceMargin ?? null;
  const depth = isMeasuredDepth(field.log.depthSource) ? (cells.mean.seedingDepth ?? null) : null;
  const spread = cells.depthSdMm;
  const speed = cells.mean.speed ?? null;
  const make = (value: (cell: number) => number): Float64Array =>
    Float64Array.from({ length: count }, (_, cell) => Math.max(0, value(cell)) || 0);
  const below = (driver: Float64Array | null, least: number) =>
    driver ? departure(cells, driver, least, -1) : null;
  const above = (driver: Float64Array | null, least: number) =>
    driver ? departure(cells, driver, least, 1) : null;

  const fast = speed ? above(speed, LEAST_DEPARTURE.speed) : null;
  const isFast = (cell: number): boolean => losses["excess-speed"][cell]! > 0;
  const isLight = (cell: number): boolean => losses["lost-ground-contact"][cell]! > 0.005;
  // Speed is the root of load: what runs light because it runs fast is speed's.
  const unlessFast = (dose: Float64Array | null): Float64Array | null =>
    dose && Float64Array.from(dose, (value, cell) => (isFast(cell) ? 0 : value));
  // A symptom on ground whose root departs is the root's.
  const light = unlessFast(below(margin, LEAST_DEPARTURE.marginN));
  const unlessRoot = (dose: Float64Array | null): Float64Array | null =>
    dose && Float64Array.from(dose, (value, cell) => (isFast(cell) || isLight(cell) ? 0 : value));
  const damp = margin ? dampCells(field, passes, cells) : null;
  const knee = (cell: number): number => (damp?.[cell] ? T.heavyKneeWet.value : T.heavyKneeDry.value);

  const ownOf = (dep: Float64Array | null, slope: number): Float64Array | undefined =>
    dep ? make((cell) => slope * dep[cell]!) : undefined;
  const stepOf = (dep: Float64Array | null): Float64Array | undefined => {
    if (!dep) return undefined;
    const present = dep.filter((value) => value > 0).sort();
    if (present.length === 0) return undefined;
    const full = quantileSorted(present, 0.75);
    return make((cell) => STEP * Math.min(1, dep[cell]! / full));
  };
  const forms = (published: Float64Array, others: Omit<Doses, "published">): Doses => ({
    published,
    ...others,
  });

  const heavy = above(margin, LEAST_DEPARTURE.marginN);
  const shallow = unlessRoot(below(depth, LEAST_DEPARTURE.depthMm));
  const deep = above(depth, LEAST_DEPARTURE.depthMm);
  const uneven = unlessRoot(above(spread, LEAST_DEPARTURE.spreadMm));
  const shallowKnee =
    (field.crop === "soybean" ? T.shallowKneeSoybean : T.shallowKnee).value + WIDE.shallowMm;
  const target = field.targets.seedingDepthMm;
  const wideShallowKnee =
    target === null ? shallowKnee : Math.min(shallowKnee, target - T.depthTolerance.value / 2);
  const deepKnee = (field.crop === "soybean" ? T.deepKneeSoybean : T.deepKnee).value;
  return {
    "excess-speed": forms(losses["excess-speed"], {
      wide: speed ? make((c) => SPEED_SLOPE * (speed[c]! - WIDE.fastShare * T.fastKnee.value)) : undefined,
      own: ownOf(fast, SPEED_SLOPE),
      step: stepOf(fast),
    }),
    "lost-ground-contact": forms(losses["lost-ground-contact"], {
      wide:
        unlessFast(
          margin ? make((c) => T.lightSlope.value * (WIDE.light * T.lightKnee.value - margin[c]!)) : null,
        ) ?? undefined,
      own: ownOf(light, T.lightSlope.value),
      step: stepOf(light),
    }),
    "excess-down-force": forms(losses["excess-down-force"], {
      wide: margin ? make((c) => T.heavySlope.value * (margin[c]! - WIDE.heavy * knee(c))) : undefined,
      own: ownOf(heavy, T.heavySlope.value),
      step: stepOf(heavy),
    }),
    "too-shallow": forms(losses["too-shallow"], {
      wide:
        unlessRoot(depth ? make((c) => T.shallowSlope.value * (wideShallowKnee - depth[c]!)) : null) ??
        undefined,
      own: ownOf(shallow, T.shallowSlope.value),
      step: stepOf(shallow),
    }),
    "too-deep": forms(losses["too-deep"], {
      wide: depth ? make((c) => T.deepSlope.value * (depth[c]! - deepKnee)) : undefined,
      own: ownOf(deep, T.deepSlope.value),
      step: stepOf(deep),
    }),
    "uneven-depth": forms(losses["uneven-depth"], {
      wide:
        unlessRoot(
          spread
            ? make((c) => T.unevenSlope.value * (spread[c]! - WIDE.unevenShare * T.unevenKnee.value))
            : null,
        ) ?? undefined,
      own: ownOf(uneven, T.unevenSlope.value),
      step: stepOf(uneven),
    }),
    misses: { published: losses.misses },
    "rate-off-target": { published: losses["rate-off-target"] },
  };
}

/** 1 for cells on ground that was damp when it was planted. */
function dampCells(field: Field, passes: Passes, cells: Cells): Uint8Array {
  const known = new Map<string, boolean>();
  return Uint8Array.from({ length: cells.count }, (_, cell) => {
    const date = passes.passes[cells.pass[cell]! - 1]?.date ?? field.planted;
    const key = `${date} ${cells.zone[cell]}`;
    const damp = known.get(key) ?? isWet(groundState(field, date, cells.zone[cell]!));
    known.set(key, damp);
    return damp ? 1 : 0;
  });
}

/**
 * How far each cell departs from the usual to one side, beyond what is ordinary: the median of the field and twice the spread
 * from one piece of a pass to the next, which a zone that departs as a whole does not widen.
 */
function departure(cells: Cells, driver: Float64Array, least: number, side: 1 | -1): Float64Array {
  const present = driver.filter((value) => !Number.isNaN(value));
  if (present.length === 0) return new Float64Array(cells.count);
  const usual = median(present);
  const steps: number[] = [];
  for (let cell = 1; cell < cells.count; cell++) {
    const step = driver[cell]! - driver[cell - 1]!;
    if (cells.pass[cell] === cells.pass[cell - 1] && !Number.isNaN(step)) steps.push(step);
  }
  const spread = steps.length > 0 ? medianAbsoluteDeviation(Float64Array.from(steps)) / Math.SQRT2 : 0;
  const beyond = Math.max(SPREADS_FROM_USUAL * spread, least);
  return Float64Array.from(driver, (value) => Math.max(0, side * (value - usual) - beyond) || 0);
}
