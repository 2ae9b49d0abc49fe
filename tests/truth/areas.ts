/** One invented field through the tool's own stages, and what it found held against the truth. */

import type { Cells } from "../../src/cells/cells.ts";
import { makeCells } from "../../src/cells/make-cells.ts";
import { cellNeighbours, type Neighbours, neighboursWithin } from "../../src/cells/neighbours.ts";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import type { Finding } from "../../src/findings/findings-document.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { ringContains } from "../../src/numerics/coverage-grid.ts";
import { median } from "../../src/numerics/descriptive.ts";
import { normalCdf } from "../../src/numerics/distributions.ts";
import { getisOrdGStar } from "./local-statistics.ts";
import { BAR_M } from "./worlds/layout.ts";
import {
  type Counting,
  type FieldKind,
  makeField,
  type TrueEvent,
  type TrueField,
  type World,
} from "./worlds/make-field.ts";

/** A finding is true when at least this share of it lies where the true loss is above {@link HURT}. */
const TRUE_SHARE = 0.3;
const HURT = 0.02;
/** An event is found when a finding holds this share of it and lies in it by this share. */
const OVERLAP = 0.3;

/** A confirmed place. */
export interface ScoredFinding {
  isTrue: boolean;
  /** True mean loss over its ground, and what the tool says of it. */
  loss: number;
  estimate: number;
  low: number;
  high: number;
  /** Likeliest cause with its probability, named or not; null where the place belongs to no event. */
  cause: string;
  probability: number;
  causeIsRight: boolean | null;
}

export interface ScoredField {
  world: World;
  kind: FieldKind;
  counting: Counting;
  seed: number;
  findings: ScoredFinding[];
  /** True places, with the loss over them and whether a confirmed finding found them. */
  events: { loss: number; found: boolean; causes: string[] }[];
  /** Cells of the places that were found: truly hurt and reported, reported, truly hurt. */
  overlap: { both: number; reported: number; hurt: number };
  /** Whether Gi* with Benjamini-Hochberg raises an alarm on the dense stand (null fields only). */
  hotSpotAlarm: boolean | null;
  /** Confirmed findings of other kinds than places (row units, sections). */
  otherConfirmed: number;
}

/** Analyses one field of a world and scores it. */
export async function scoreField(
  world: World,
  kind: FieldKind,
  counting: Counting,
  seed: number,
): Promise<ScoredField> {
  const truth = makeField(world, kind, counting, seed);
  const { cells, passes, document } = await analyseField(truth.field);
  const { cellOf } = makeCells(truth.field, passes, joinSoilZones(truth.field));
  const confirmed = document.findings.filter((finding) => finding.basis === "counted");
  const places = confirmed.filter(({ kind }) => kind === "area" || kind === "pass");
  const loss = onCells(truth, cells, cellOf, (moment) => truth.loss[moment]!);
  const hurt = Uint8Array.from(loss, (value) => (value > HURT ? 1 : 0));
  const neighbours = cellNeighbours(cells, BAR_M);
  const nearHurt = widened(hurt, neighbours);
  const masks = places.map((finding) => cellsOf(finding, cells));
  const eventMasks = eventCells(truth, cells, cellOf);
  const overlap = { both: 0, reported: 0, hurt: 0 };
  const events = truth.events.map((event, e) => {
    const found = masks.some((mask) => finds(mask, eventMasks[e]!));
    return { loss: event.loss, found, causes: event.components.map(({ cause }) => cause) };
  });
  events.forEach(({ found }, e) => {
    if (!found) return;
    const reported = new Uint8Array(cells.count);
    for (const mask of masks) {
      if (common(mask, eventMasks[e]!) < OVERLAP * total(mask)) continue;
      mask.forEach((value, cell) => {
        if (value) reported[cell] = 1;
      });
    }
    overlap.both += common(reported, eventMasks[e]!);
    overlap.reported += total(reported);
    overlap.hurt += total(eventMasks[e]!);
  });
  return {
    world,
    kind,
    counting,
    seed,
    findings: places.map((draft, k) =>
      scorePlace(draft, masks[k]!, loss, nearHurt, truth.events, eventMasks),
    ),
    events,
    overlap,
    hotSpotAlarm: kind === "null" ? hotSpotAlarm(world, seed) : null,
    otherConfirmed: confirmed.length - places.length,
  };
}

/** Mean over each cell of what holds at the moments of its records. */
function onCells(
  truth: TrueField,
  cells: Cells,
  cellOf: Int32Array,
  ofMoment: (moment: number) => number,
): Float64Array {
  const sum = new Float64Array(cells.count);
  for (let i = 0; i < cellOf.length; i++)
    if (cellOf[i]! >= 0) sum[cellOf[i]!]! += ofMoment(truth.momentOf[i]!);
  return sum.map((value, cell) => value / cells.records[cell]!);
}

/** Cells of each true place, at least half of them inside. */
export function eventCells(truth: TrueField, cells: Cells, cellOf: Int32Array): Uint8Array[] {
  return truth.events.map((event) =>
    Uint8Array.from(
      onCells(truth, cells, cellOf, (moment) => event.inside[moment]!),
      (share) => (share >= 0.5 ? 1 : 0),
    ),
  );
}

/** True where a finding holds enough of a true place and lies in it with enough of itself. */
export function finds(mask: Uint8Array, event: Uint8Array): boolean {
  const both = common(mask, event);
  return both >= OVERLAP * total(event) && both >= OVERLAP * total(mask);
}

function scorePlace(
  finding: Finding,
  mask: Uint8Array,
  loss: Float64Array,
  nearHurt: Uint8Array,
  events: readonly TrueEvent[],
  eventMasks: readonly Uint8Array[],
): ScoredFinding {
  const named = finding.cause === "undetermined" ? finding.alternatives[0]! : finding;
  const shared = eventMasks.map((event) => common(mask, event));
  const own = shared.indexOf(Math.max(0, ...shared));
  const isTrue = common(mask, nearHurt) >= TRUE_SHARE * total(mask);
  const { deficitShare } = finding.stand;
  return {
    isTrue,
    loss: mask.reduce((sum, value, cell) => sum + value * loss[cell]!, 0) / total(mask),
    estimate: deficitShare?.estimate ?? Number.NaN,
    low: deficitShare?.low ?? Number.NaN,
    high: deficitShare?.high ?? Number.NaN,
    cause: named.cause,
    probability: named.probability,
    causeIsRight: isTrue && own >= 0 && shared[own]! > 0 ? isRight(named.cause, events[own]!) : null,
  };
}

/**
 * The cause with the largest true loss is right; of two within 1.5 times of each other either one is. A loss that no log can
 * show is told rightly as the ground's and as not in the log alike: the invented counts cannot tell one from the other.
 */
function isRight(cause: string, event: TrueEvent): boolean {
  const largest = Math.max(...event.components.map(({ loss }) => loss));
  return event.components.some((part) => isSame(cause, part.cause) && part.loss * 1.5 > largest);
}

const WITHOUT_TRACE = ["soil-or-weather", "not-in-the-log"];

export function isSame(cause: string, truth: string): boolean {
  return cause === truth || (WITHOUT_TRACE.includes(cause) && WITHOUT_TRACE.includes(truth));
}

/** Cells whose middle lies in the finding; the fields have no longitude, their findings stand in local metres. */
export function cellsOf({ where }: Finding, cells: Cells): Uint8Array {
  return Uint8Array.from(cells.x, (x, cell) => {
    const inside = where.geometry.coordinates.some(
      (rings) =>
        rings.filter((ring) => ringContains(ring as [number, number][], x, cells.y[cell]!)).length % 2 === 1,
    );
    return inside ? 1 : 0;
  });
}

/** The marked cells and their neighbours. */
function widened(mask: Uint8Array, { start, index }: Neighbours): Uint8Array {
  const wide = mask.slice();
  for (let cell = 0; cell < mask.length; cell++) {
    if (!mask[cell]) continue;
    for (let k = start[cell]!; k < start[cell + 1]!; k++) wide[index[k]!] = 1;
  }
  return wide;
}

function total(mask: Uint8Array): number {
  return mask.reduce((sum, value) => sum + value, 0);
}

function common(one: Uint8Array, other: Uint8Array): number {
  return one.reduce((sum, value, i) => sum + (value && other[i] ? 1 : 0), 0);
}

/**
 * What an ordinary hot-spot map says of a sound field: Gi* of the densely counted stand, soil zones taken out
 * by their medians, low spots by Benjamini & Hochberg (1995) at 5 %.
 */
function hotSpotAlarm(world: World, seed: number): boolean {
  const { field } = makeField(world, "null", "dense", seed);
  const counts = field.standCounts!;
  const zones = joinSoilZones({
    ...field,
    log: { ...field.log, recordCount: counts.spotCount, x: counts.x, y: counts.y },
  });
  const medians = new Map(
    [...new Set(zones)].map((zone) => [zone, median(counts.standPerHa.filter((_, i) => zones[i] === zone))]),
  );
  const values = counts.standPerHa.map((value, i) => value - medians.get(zones[i]!)!);
  const scores = getisOrdGStar(values, neighboursWithin(counts.x, counts.y, 36));
  const ascending = scores.map((score) => normalCdf(score)).sort();
  return ascending.some((p, rank) => p <= (0.05 * (rank + 1)) / ascending.length);
}
