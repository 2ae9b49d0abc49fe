/**
 * Where the stand or the planting falls short: places that the counts show, with what explains each, from the one model of
 * the counts; places the log points to that no count confirms; and those that the counts clear.
 */
import type { Cells } from "../../cells/cells.ts";
import { cellNeighbours, closeHoles, connectedParts, type Neighbours } from "../../cells/neighbours.ts";
import { FACTORS, type Factor, type PredictedLoss } from "../../cells/predicted-loss.ts";
import { THRESHOLDS } from "../../compare/thresholds.ts";
import { LEVEL, ONE_IN_TEN_Z, Z90 } from "../../numerics/distributions.ts";
import { findRiskRegions, type RiskRegion } from "../../places/guided.ts";
import { overGround } from "../../stand-model/ground-shares.ts";
import type { GroundLoss } from "../../stand-model/posterior.ts";
import type { StandView } from "../../stand-model/stand-view.ts";
import type { Basis } from "../../vocabulary/causes.ts";
import type { Deficit } from "../evidence/attribution.ts";

/** One place: its cells and what counts say of it. */
export interface Place {
  cells: Int32Array;
  basis: Basis;
  /** What the counts say of it; null where they say nothing. */
  deficit: CountedLoss | null;
  /** What the model of the counts says of it and what leads there; null where the log alone speaks. */
  loss: GroundLoss | null;
  pValue: number | null;
  /** True where the log points to the place. */
  guided: boolean;
  /** Spots inside (indices into Spots). */
  spots: number[];
  /** How well the outline is known, m: 0 where the log draws it, half the distance between counts where counts do. */
  outlineErrorM: number;
}

/** Loss of plants by the counts, share of target stand. */
export interface CountedLoss extends Deficit {
  low: number;
  high: number;
  level: number;
  count: number;
}

export interface PlaceSearchInput {
  cells: Cells;
  swathWidthM: number;
  losses: PredictedLoss;
  /** Null without (enough) counts. */
  view: StandView | null;
}

/** A cell belongs to a place from this probability of a loss of {@link HURT} on. */
const BELONGS = 0.2;
const HURT = 0.025;
/**
 * A place is counted from this probability of a loss of two points on; where the log points to it less is enough when the loss
 * is one of four points (our judgement, tuned on simulated fields: harmless departures are taken for small losses).
 */
const COUNTED_FROM = { guided: 0.9, guidedMuch: 0.62, unlisted: 0.9 } as const;
/** Counts on a counted place, at least. */
const FEWEST_SPOTS = 2;
const SMALLEST_PLACE_M2 = 1500;
/**
 * Where only counts show a place, its edge lies anywhere between the last short count and the first sound one, and the ground
 * drawn reaches past it: the mean over the ground drawn is so much less than the loss at the counts, give or take as much
 * (measured on simulated fields of the side that is tuned on). Beyond so many counts on the place they draw its edge.
 */
const DRAWN_WIDE = { less: 0.15, upToCounts: 30 } as const;
/** Terms that lie on ground of their own: they make places; the others are contrasts of the whole field. */
const isPlaceLabel = (label: string): boolean => label === "unlisted" || label.startsWith("factor ");

/** Finds the places, counted ones first, then those the log alone predicts, then cleared ones. */
export function findPlaces(input: PlaceSearchInput): Place[] {
  const { cells, losses, swathWidthM, view } = input;
  const neighbours = cellNeighbours(cells, swathWidthM);
  const regions = findRiskRegions(cells, neighbours, losses, {
    minimumLoss: THRESHOLDS.predictedLoss.value,
    minimumAreaM2: THRESHOLDS.smallestRegion.value,
  });
  if (!view) {
    return withoutOverlap(regions.map((region) => placeFromLog(region.cells)));
  }
  const places = countedPlaces(view, cells, neighbours);
  const taken = new Set(places.flatMap((place) => [...place.cells]));
  for (const region of regions) {
    const free = region.cells.filter((cell) => !taken.has(cell));
    if (free.length < 0.5 * region.cells.length) continue;
    places.push(unconfirmed(view, region, free));
  }
  return withoutOverlap(places);
}

/** A place that the log alone draws. */
export function placeFromLog(cells: Int32Array, spots: number[] = []): Place {
  return {
    cells,
    basis: "predicted",
    deficit: null,
    loss: null,
    pValue: null,
    spots,
    outlineErrorM: 0,
    guided: true,
  };
}

/** Connected ground that the counts show short, by the term that takes most of it. */
function countedPlaces(view: StandView, cells: Cells, neighbours: Neighbours): Place[] {
  const { probability, label } = view.posterior.byCell(HURT);
  const labels = [...new Set(label)].filter(isPlaceLabel).sort();
  const places: Place[] = [];
  for (const own of labels) {
    const marked = Uint8Array.from(label, (name, cell) =>
      name === own && probability[cell]! >= BELONGS ? 1 : 0,
    );
    closeHoles(marked, neighbours);
    for (const part of connectedParts(marked, neighbours)) {
      if (areaOf(cells, part) < SMALLEST_PLACE_M2) continue;
      const spots = view.spotsOn(part);
      const loss = view.posterior.lossOver(part);
      const guided = own !== "unlisted";
      if (!isCounted(loss, guided)) continue;
      if (spots.length < FEWEST_SPOTS) continue;
      // A curve that harms one place reaches others too: each has to show its own loss.
      if (loss.estimate < ONE_IN_TEN_Z * loss.standardError) continue;
      if (loss.estimate < THRESHOLDS.smallestDeficit.value) continue;
      places.push({
        cells: part,
        basis: "counted",
        deficit: countedLoss(guided ? loss : overDrawnGround(loss, spots.length), spots.length),
        loss,
        pValue: null,
        spots,
        outlineErrorM: guided ? 0 : 0.5 * view.spacingM,
        guided,
      });
    }
  }
  return places.sort((a, b) => b.loss!.probability - a.loss!.probability || b.cells.length - a.cells.length);
}

function isCounted({ probability, probabilityOfMuch }: GroundLoss, guided: boolean): boolean {
  if (!guided) return probability >= COUNTED_FROM.unlisted;
  return probability >= COUNTED_FROM.guided || probabilityOfMuch >= COUNTED_FROM.guidedMuch;
}

/** The loss at the counts of a place without a trace in the log -> the mean over the ground drawn around them. */
function overDrawnGround(loss: GroundLoss, counts: number): GroundLoss {
  const open = Math.min(1, DRAWN_WIDE.upToCounts / counts);
  const share = 1 - DRAWN_WIDE.less * open;
  const estimate = share * loss.estimate;
  const standardError = Math.hypot(
    share * loss.standardError,
    DRAWN_WIDE.less * Math.sqrt(open) * loss.estimate,
  );
  return {
    ...loss,
    estimate,
    standardError,
    low: estimate - Z90 * standardError,
    high: estimate + Z90 * standardError,
  };
}

function countedLoss(loss: GroundLoss, count: number): CountedLoss {
  const { estimate, standardError, low, high } = loss;
  return { estimate, standardError, low, high, level: LEVEL, count };
}

/** A place that the log predicts and the counts do not confirm: cleared where they rule out half of it, else a risk. */
function unconfirmed(view: StandView, region: RiskRegion, members: Int32Array): Place {
  const spots = view.spotsOn(members);
  const deficit = spots.length >= 2 ? plainLoss(view, members, spots.length) : null;
  const cleared =
    deficit !== null &&
    deficit.estimate + Z90 * deficit.standardError < Math.max(0.02, 0.5 * region.meanLoss);
  return {
    cells: members,
    basis: cleared ? "cleared" : "predicted",
    deficit,
    loss: null,
    pValue: null,
    spots,
    outlineErrorM: 0,
    guided: true,
  };
}

/** Loss over some cells by their counts alone, against the rest of the field. */
function plainLoss(view: StandView, members: Int32Array, count: number): CountedLoss {
  const inside = new Float64Array(view.cellCount);
  for (const cell of members) inside[cell] = 1;
  const { estimate, standardError } = view.posterior.plainLoss(overGround(view.shares, inside), isPlaceLabel);
  return {
    estimate,
    standardError,
    low: estimate - Z90 * standardError,
    high: estimate + Z90 * standardError,
    level: LEVEL,
    count,
  };
}

function areaOf(cells: Cells, members: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < members.length; k++) sum += cells.areaM2[members[k]!]!;
  return sum;
}

/** Ground belongs to one place: what an earlier (stronger) place took is cut from later ones; scraps are dropped. */
function withoutOverlap(places: readonly Place[]): Place[] {
  const order: Record<Basis, number> = { counted: 0, predicted: 1, cleared: 2 };
  const sorted = places
    .map((place, k) => ({ place, k }))
    .sort((a, b) => order[a.place.basis] - order[b.place.basis] || a.k - b.k);
  const taken = new Set<number>();
  const kept: Place[] = [];
  for (const { place } of sorted) {
    const own = place.cells.filter((cell) => !taken.has(cell));
    if (own.length < 0.5 * place.cells.length) continue;
    for (const cell of own) taken.add(cell);
    kept.push({ ...place, cells: own });
  }
  return kept;
}

/** Mean predicted loss by factor over the cells. */
export function predictedOver(losses: PredictedLoss, cells: ArrayLike<number>): Record<Factor, number> {
  const mean = {} as Record<Factor, number>;
  for (const factor of FACTORS) {
    let sum = 0;
    for (const cell of Array.from(cells)) sum += losses[factor][cell]!;
    mean[factor] = cells.length > 0 ? sum / cells.length : 0;
  }
  return mean;
}
