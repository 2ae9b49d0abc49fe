/**
 * A log alone: strong departures from the rest of the field, large in ground and in size, whatever loss the response
 * curves expect. They are no proof of harm and no cause is settled: where to look first.
 */
import type { Cells } from "../cells/cells.ts";
import { cellNeighbours, connectedParts } from "../cells/neighbours.ts";
import type { PredictedLoss } from "../cells/predicted-loss.ts";
import { MARGIN_BANDS, THRESHOLDS } from "../compare/thresholds.ts";
import { MAD_TO_SD, median } from "../numerics/descriptive.ts";
import type { Spots } from "../stand/spots.ts";
import { FEWEST_COUNTS } from "../stand-model/stand-view.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { DepartingVariable, Draft, LogDeparture } from "./draft.ts";
import { type DraftContext, draftPlace } from "./draft-place.ts";
import { nameCause } from "./evidence/attribution.ts";
import { type Place, placeFromLog, predictedOver } from "./find/find-places.ts";

/** Smallest ground that is listed, m2: 0.6 ha, 1.5 ac (our judgement). */
const SMALLEST_M2 = 6000;
/** Robust z from which a cell departs (Iglewicz & Hoaglin 1993 cut at 3.5; large connected ground asks less, our judgement). */
const CRITICAL_Z = 3;
/** Ground of which one place holds this share is listed already; places that lie in it by this share are parts of it. */
const COVERED = 0.5;
/** Departures of two variables with this share of their ground in common are one. */
const SHARED = 0.5;
/** What the departing variables may mean, shared among them in the order root before symptom, and that a sensor or a setting tells it wrong (our judgement). */
const CAUSE_WEIGHTS = [0.55, 0.2, 0.1];
const SENSOR_WEIGHT = 0.3;

interface Watched {
  variable: DepartingVariable;
  /** Cause of a value below and above the usual; null where that side does no harm. */
  below: Cause | null;
  above: Cause | null;
  /** Smallest step from the usual that matters, in inside units, from the usual value. */
  step(usual: number): number;
}

/** Root before symptom: speed, load, depth, skips, rate. */
const WATCHED: readonly Watched[] = [
  {
    variable: "speed",
    below: null,
    above: "excess-speed",
    step: (usual) => THRESHOLDS.fastShare.value * usual,
  },
  {
    variable: "downForceMargin",
    below: "lost-ground-contact",
    above: "excess-down-force",
    // Half as wide as the band for fit ground: from its middle that leads out of it.
    step: () => (MARGIN_BANDS.fit[1] - MARGIN_BANDS.fit[0]) / 2,
  },
  {
    variable: "seedingDepth",
    below: "too-shallow",
    above: "too-deep",
    step: () => THRESHOLDS.depthTolerance.value,
  },
  // Two points of seeds skipped (our judgement).
  { variable: "misses", below: null, above: "misses", step: () => 0.02 },
  {
    variable: "population",
    below: "rate-off-target",
    above: "rate-off-target",
    step: (usual) => 2 * THRESHOLDS.populationTolerance.value * usual,
  },
];

interface Found {
  cells: Int32Array;
  departures: (LogDeparture & { cause: Cause })[];
}

export interface LogDepartures {
  /** By ground, the largest first. */
  drafts: Draft[];
  /** Places that are parts of a departure and are not listed beside it. */
  absorbed: ReadonlySet<Place>;
}

/**
 * The departures; none where counts are enough to judge the stand itself.
 * @param listed places that are listed already
 */
export function logDepartures(
  context: DraftContext,
  listed: readonly Place[],
  losses: PredictedLoss,
  spots: Spots | null,
): LogDepartures {
  if (spots && spots.count >= FEWEST_COUNTS) return { drafts: [], absorbed: new Set() };
  const { cells, field, swathWidthM } = context;
  const neighbours = cellNeighbours(cells, swathWidthM);
  const found: Found[] = [];
  for (const watched of WATCHED) {
    const values = watchedValues(watched.variable, cells, field);
    if (!values) continue;
    for (const one of departuresOf(watched, values, cells, field, neighbours)) {
      const own = new Set(one.cells);
      const same = found.find(
        (other) => overlap(other.cells, own) >= SHARED * Math.min(other.cells.length, own.size),
      );
      if (!same) found.push(one);
      else {
        same.cells = Int32Array.from(new Set([...same.cells, ...own])).sort();
        same.departures.push(...one.departures);
      }
    }
  }
  const kept = found.filter(({ cells: own }) => {
    const inside = new Set(own);
    return listed.every((place) => overlap(place.cells, inside) < COVERED * own.length);
  });
  const ground = kept.map(({ cells: own }) => new Set(own));
  const absorbed = new Set(
    listed.filter(
      ({ basis, cells: own }) =>
        basis === "predicted" && ground.some((inside) => overlap(own, inside) >= COVERED * own.length),
    ),
  );
  const drafts = kept
    .map(({ cells: own, departures }) => {
      const draft = draftPlace(context, placeFromLog(own), predictedOver(losses, own));
      // Digs that prove a cause speak for themselves.
      if (draft.basis === "counted") return draft;
      const weights = new Map<Cause, number>([["sensor-fault", SENSOR_WEIGHT]]);
      departures.slice(0, CAUSE_WEIGHTS.length).forEach(({ cause }, rank) => {
        weights.set(cause, (weights.get(cause) ?? 0) + CAUSE_WEIGHTS[rank]!);
      });
      return {
        ...draft,
        ...nameCause(weights),
        detail: "unlike-the-rest",
        logDepartures: departures.map(({ cause, ...rest }) => rest),
      };
    })
    .sort((a, b) => b.areaM2 - a.areaM2);
  return { drafts, absorbed };
}

/** The variable by cell; a depth that was only set, and a rate that followed its logged target, are no departure. */
function watchedValues(variable: DepartingVariable, cells: Cells, field: Field): Float64Array | null {
  const values = cells.mean[variable];
  if (!values) return null;
  if (variable === "seedingDepth" && field.log.depthSource === "set") return null;
  if (variable === "population" && field.log.values.targetPopulation) return null;
  return values;
}

function departuresOf(
  { variable, below, above, step }: Watched,
  values: Float64Array,
  cells: Cells,
  field: Field,
  neighbours: ReturnType<typeof cellNeighbours>,
): Found[] {
  const present = values.filter((value) => !Number.isNaN(value));
  if (present.length === 0) return [];
  const usual = median(present);
  const found: Found[] = [];
  for (const [sign, cause] of [
    [-1, below],
    [1, above],
  ] as const) {
    // biome-ignore format: one line
    if (cause === null) continue;
    // The spread on the other side, which ground that departs does not widen.
    const spread =
      MAD_TO_SD * median(present.map((value) => sign * (usual - value)).filter((way) => way >= 0));
    const least = Math.max(step(usual), CRITICAL_Z * spread);
    const marked = Uint8Array.from(values, (value) => (sign * (value - usual) >= least ? 1 : 0));
    for (const part of connectedParts(marked, neighbours)) {
      if (part.reduce((sum, cell) => sum + cells.areaM2[cell]!, 0) < SMALLEST_M2) continue;
      const inPart = new Set(part);
      const inside = median(Array.from(part, (cell) => values[cell]!));
      const elsewhere = median(
        [...values.keys()]
          .filter((cell) => !inPart.has(cell) && !Number.isNaN(values[cell]!))
          .map((cell) => values[cell]!),
      );
      const target = targetOf(variable, field);
      if (target !== null && isOnTarget(variable, inside, target)) continue;
      found.push({ cells: part, departures: [{ variable, inside, elsewhere, target, cause }] });
    }
  }
  return found;
}

/** What was asked of the planter, null where nothing was. */
function targetOf(variable: DepartingVariable, { targets, log }: Field): number | [number, number] | null {
  if (variable === "seedingDepth") {
    const logged = log.values.targetDepth?.filter((value) => value > 0);
    return targets.seedingDepthMm ?? (logged && logged.length > 0 ? median(logged) : null);
  }
  if (variable === "downForceMargin") return targets.downForceMarginN;
  if (variable === "speed") return targets.speedMetresPerSecond;
  return variable === "population" ? targets.populationPerHa : null;
}

function isOnTarget(variable: DepartingVariable, value: number, target: number | [number, number]): boolean {
  if (Array.isArray(target)) return value >= target[0] && value <= target[1];
  if (variable === "seedingDepth") return Math.abs(value - target) <= THRESHOLDS.depthTolerance.value;
  if (variable === "speed") return value <= target * (1 + THRESHOLDS.speedTolerance.value);
  return Math.abs(value / target - 1) <= THRESHOLDS.populationTolerance.value;
}

function overlap(cells: Int32Array, other: ReadonlySet<number>): number {
  return cells.reduce((count, cell) => count + (other.has(cell) ? 1 : 0), 0);
}
