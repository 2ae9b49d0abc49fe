/**
 * Where the stand or the planting falls short: places the log points to, tested on the counts where there
 * are any, and places the counts show without the log.
 */
import type { Cells } from "../cluster/cells.ts";
import { type CountedLoss, countedLoss } from "../cluster/counterfactual.ts";
import { usualSpacing } from "../cluster/covariance-fit.ts";
import { findGroups } from "../cluster/find-groups.ts";
import { findRiskRegions, guidedCandidates, type RiskRegion } from "../cluster/guided.ts";
import { cellNeighbours, type Neighbours, neighboursWithin, withNeighbours } from "../cluster/neighbours.ts";
import { layOutPasses } from "../cluster/pass-layout.ts";
import { FACTORS, type Factor, type PredictedLoss } from "../cluster/predicted-loss.ts";
import type { ScanGroup } from "../cluster/score-scan.ts";
import type { StandModel } from "../cluster/stand-model.ts";
import { freeCandidates } from "../cluster/windows.ts";
import { THRESHOLDS } from "../compare/thresholds.ts";
import { hashNumbers } from "../numerics/random.ts";
import type { Spots } from "../stand/spots.ts";
import type { Basis } from "./causes.ts";
import { drawnIn, measuredSpots } from "./counted-place.ts";

/** Fewer counts than this cannot tell the field's own patchiness from a place (our judgement). */
export const FEWEST_COUNTS = 12;

/** One place: its cells and what counts say of it. */
export interface Place {
  cells: Int32Array;
  basis: Basis;
  /** Counted loss of plants, share of target; null where counts say nothing. */
  deficit: CountedLoss | null;
  /** Chance of such a place anywhere on a field with nothing wrong; null for the log alone. */
  pValue: number | null;
  /** True where the log points to the place. */
  guided: boolean;
  /** Spots inside (indices into Spots). */
  spots: number[];
  /** How well the outline is known, m: 0 where the log draws it, half the distance between counts where counts do. */
  outlineErrorM: number;
}

export interface RowUnitColumn {
  rowUnit: number;
  /** Share of each spot's counted rows that this unit planted, 0..1. */
  share: Float64Array;
  /** Loss in its row that the log predicts, share of stand. */
  predicted: number;
}

export interface PlaceSearch {
  places: Place[];
  /** Null without (enough) counts. */
  model: StandModel | null;
}

export interface PlaceSearchInput {
  cells: Cells;
  swathWidthM: number;
  losses: PredictedLoss;
  spots: Spots | null;
  cellOfSpot: Int32Array | null;
  rowUnits: readonly RowUnitColumn[];
}

/** Finds the places, counted ones first in order of strength, then those the log alone predicts, then cleared ones. */
export function findPlaces(input: PlaceSearchInput): PlaceSearch {
  const { cells, losses, swathWidthM, spots, cellOfSpot } = input;
  const neighbours = cellNeighbours(cells, swathWidthM);
  const regions = findRiskRegions(cells, neighbours, losses, {
    minimumLoss: THRESHOLDS.predictedLoss.value,
    minimumAreaM2: THRESHOLDS.smallestRegion.value,
  });
  if (!spots || !cellOfSpot || spots.count < FEWEST_COUNTS) {
    const places = regions.map(
      (region): Place => ({
        cells: region.cells,
        basis: "predicted",
        deficit: null,
        pValue: null,
        spots: [],
        outlineErrorM: 0,
        guided: true,
      }),
    );
    return { places: withoutOverlap(places), model: null };
  }

  const spotLosses: Record<string, Float64Array> = {};
  for (const factor of FACTORS) {
    const values = Float64Array.from(cellOfSpot, (cell) => losses[factor][cell]!);
    if (values.some((value) => value > 0)) spotLosses[factor] = values;
  }
  const planting = Float64Array.from(cellOfSpot, (cell) =>
    FACTORS.reduce((sum, factor) => sum + losses[factor][cell]!, 0),
  );
  for (const unit of input.rowUnits) {
    if (unit.share.some((value) => value > 0)) {
      spotLosses[`row unit ${unit.rowUnit}`] = unit.share.map((value) => value * unit.predicted);
    }
  }
  const { candidates, regionOf } = guidedCandidates(regions, cellOfSpot);
  const free = freeCandidates(spots, layOutPasses(cells, swathWidthM));
  const rowColumns = input.rowUnits
    .map((unit) => unit.share)
    .filter((share) => share.some((value) => value > 0));
  const spacingM = usualSpacing(spots.x, spots.y);
  const search = findGroups(
    {
      x: spots.x,
      y: spots.y,
      response: spots.response,
      zone: spots.zone,
      losses: spotLosses,
      countingVariance: spots.countingVariance,
      candidates: [...candidates, ...free],
      neighbours: neighboursWithin(spots.x, spots.y, 1.4 * spacingM),
      furtherColumns: rowColumns,
    },
    { seed: hashNumbers(spots.response) },
  );
  const { model } = search;

  const nearestSpot = nearestSpotOfCells(cells, spots);
  const confirmed: Ground[] = [];
  const confirmedRegions = new Set<RiskRegion>();
  for (const group of search.groups) {
    const region = group.family === "guided" ? regions[regionOf[group.candidate]!]! : null;
    if (region) confirmedRegions.add(region);
    confirmed.push({
      cells: region ? region.cells : cellsAround(lowSpots(group, model.adjusted), cells, nearestSpot),
      pValue: group.pValue,
      members: [...group.members],
      guided: region !== null,
    });
  }
  const grounds = mergeTouching(confirmed, neighbours);
  const inGroup = new Uint8Array(spots.count);
  for (const ground of grounds) {
    // What counts draw is known to a cell or two only: sound ground begins further out.
    const beside = withNeighbours(ground.cells, neighbours);
    const wide = ground.guided ? beside : withNeighbours(beside, neighbours);
    for (const spot of [...ground.members, ...spotsOn(wide, cellOfSpot)]) inGroup[spot] = 1;
  }
  const lossOf = (members: readonly number[]): CountedLoss | null =>
    countedLoss({
      spots,
      model,
      members,
      inGroup,
      planting,
      rowColumns: input.rowUnits.map((unit) => unit.share),
    });

  const found = grounds.map((ground): Place => {
    const inside = spotsOn(ground.cells, cellOfSpot);
    const members = inside.length >= 2 ? inside : ground.members;
    const own = lossOf(ground.guided ? members : measuredSpots(members, ground.members));
    return {
      cells: ground.cells,
      basis: "counted",
      deficit: ground.guided || !own ? own : drawnIn(own),
      pValue: ground.pValue,
      spots: members,
      outlineErrorM: ground.guided ? 0 : 0.5 * spacingM,
      guided: ground.guided,
    };
  });
  // The test sees the whole shape, the loss is measured against the ground around it: a place that only the counts
  // point to must be short by that measure too.
  const places = found.filter(
    ({ guided, deficit }) => guided || !deficit || deficit.estimate >= THRESHOLDS.smallestDeficit.value,
  );
  for (const region of regions) {
    if (confirmedRegions.has(region)) continue;
    const inside = spotsOn(region.cells, cellOfSpot);
    const deficit = inside.length >= 2 ? lossOf(inside) : null;
    places.push({
      cells: region.cells,
      basis: basisOfUnconfirmed(region, deficit),
      deficit,
      pValue: null,
      spots: inside,
      outlineErrorM: 0,
      guided: true,
    });
  }
  return { places: withoutOverlap(places), model };
}

/**
 * A place the log predicts and the counts do not confirm: cleared where the counts rule out half the
 * predicted loss (upper end of the 90 % interval), else still a risk.
 */
function basisOfUnconfirmed(region: RiskRegion, deficit: CountedLoss | null): Basis {
  if (!deficit) return "predicted";
  return deficit.estimate + 1.645 * deficit.standardError < Math.max(0.02, 0.5 * region.meanLoss)
    ? "cleared"
    : "predicted";
}

function spotsOn(cells: Int32Array, cellOfSpot: Int32Array): number[] {
  const inside = new Set(cells);
  return [...cellOfSpot.keys()].filter((spot) => inside.has(cellOfSpot[spot]!));
}

/** Nearest spot of each cell. */
function nearestSpotOfCells(cells: Cells, spots: Spots): Int32Array {
  const nearest = new Int32Array(cells.count);
  for (let cell = 0; cell < cells.count; cell++) {
    let best = Number.POSITIVE_INFINITY;
    for (let s = 0; s < spots.count; s++) {
      const distance = (cells.x[cell]! - spots.x[s]!) ** 2 + (cells.y[cell]! - spots.y[s]!) ** 2;
      if (distance < best) {
        best = distance;
        nearest[cell] = s;
      }
    }
  }
  return nearest;
}

/** Ground of a confirmed group. */
interface Ground {
  cells: Int32Array;
  pValue: number;
  /** Spots the test was made on. */
  members: number[];
  guided: boolean;
}

/** Spots of a group found by counts alone that are themselves short by half its deficit; its outline where fewer than two are. */
function lowSpots(group: ScanGroup, adjusted: Float64Array): Int32Array {
  const low = group.outline.filter((spot) => adjusted[spot]! < -0.5 * group.deficit);
  return low.length >= 2 ? low : group.outline;
}

/** Ground of a group found by counts alone: the cells nearer to its spots than to any other. */
function cellsAround(members: Int32Array, cells: Cells, nearestSpot: Int32Array): Int32Array {
  const own = new Set(members);
  const inside: number[] = [];
  for (let cell = 0; cell < cells.count; cell++) if (own.has(nearestSpot[cell]!)) inside.push(cell);
  return Int32Array.from(inside);
}

/** Groups found by counts alone whose ground touches are one place: shapes that were tested split what the ground does not. */
function mergeTouching(grounds: readonly Ground[], neighbours: Neighbours): Ground[] {
  const merged: Ground[] = [];
  for (const ground of grounds) {
    const host = ground.guided
      ? undefined
      : merged.find((other) => !other.guided && touch(other.cells, ground.cells, neighbours));
    if (!host) {
      merged.push({ ...ground });
      continue;
    }
    host.cells = Int32Array.from(new Set([...host.cells, ...ground.cells])).sort();
    host.members = [...new Set([...host.members, ...ground.members])].sort((a, b) => a - b);
    host.pValue = Math.min(host.pValue, ground.pValue);
  }
  return merged;
}

function touch(one: Int32Array, other: Int32Array, neighbours: Neighbours): boolean {
  const inside = new Set(other);
  return one.some((cell) => {
    if (inside.has(cell)) return true;
    for (let k = neighbours.start[cell]!; k < neighbours.start[cell + 1]!; k++)
      if (inside.has(neighbours.index[k]!)) return true;
    return false;
  });
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
