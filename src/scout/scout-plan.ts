/**
 * Where to count next: inside the places the log points to and just outside them on the same row units, in every soil
 * zone, and evenly over the rest, where the log knows nothing. Deterministic: ties go to the earlier cell.
 */
import { distanceToPolygons } from "../causes/evidence/place-geometry.ts";
import type { Cells } from "../cells/cells.ts";
import { CELL_LENGTH_M } from "../cells/make-cells.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { Finding } from "../findings/findings-document.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import { type Bar, barOf, type CountedRows, rowsBeside, usualRows } from "./bar.ts";
import { heartOf } from "./core-of-place.ts";
import { needOf } from "./counts-needed.ts";
import { SpotPicker } from "./spot-picker.ts";
import { walkingOrder } from "./walking-order.ts";

/** Share of the spots kept for zones and even cover: places no log points to are found by nothing else (our judgement). */
const KEPT_FOR_COVER = 0.4;
/** Spots wanted in each soil zone on ordinary ground, counts that are there already included (our judgement). */
const SPOTS_A_ZONE = 3;
/** "Just outside": farther from the edge than a cell, nearer than this, m (our judgement). */
const BESIDE_M = [12, 70] as const;

export type Purpose = "inside" | "beside" | "zone" | "cover";

export interface ScoutSpot {
  /** 1..n in walking order. */
  number: number;
  x: number;
  y: number;
  /** The finding it speaks for, null for zones and even cover. */
  finding: string | null;
  purpose: Purpose;
  pass: number;
  logPasses: string[];
  headingDeg: number;
  /** From the start of the pass, and the pass's length, m. */
  alongM: number;
  passLengthM: number;
  rows: CountedRows;
  soilZone: string | null;
  /** True where a dig is asked for too. */
  dig: boolean;
}

/** A finding and how many counts it takes to settle it. */
export interface ScoutNeed {
  finding: string;
  title: string;
  /** Counts wanted inside, counts there already, counts given now inside and beside. */
  wanted: number;
  already: number;
  inside: number;
  beside: number;
}

export interface ScoutPlan {
  spots: ScoutSpot[];
  needs: ScoutNeed[];
  rowLengthM: number;
  rowSpacingM: number;
  /** What was assumed, in plain words. */
  notes: string[];
}

export interface ScoutOptions {
  /** Spots to count, 1..500. */
  spots: number;
  /** Digs asked for, 0..spots. */
  digs: number;
}

interface Place {
  finding: Finding;
  /** Distance of each cell's middle from the place, m; 0 inside. */
  awayM: Float64Array;
  wanted: number;
  already: number;
  /** The heart of the place, where the counts inside go; null where it has none. */
  heart: Uint8Array | null;
  /** Row of the departing unit or set, null where the place is ground. */
  row: number | null;
  inside: number[];
  beside: number[];
}

/** Chooses the spots. */
export function scoutPlan(analysis: Analysis, options: ScoutOptions): ScoutPlan {
  const { cells, field, document } = analysis;
  const notes: string[] = [];
  const bar = barOf(analysis, notes);
  const picker = new SpotPicker(cells, usable(analysis), countsSoFar(analysis));
  const places = placesOf(analysis);
  const budget = Math.floor(options.spots * (1 - KEPT_FOR_COVER));
  handOut(picker, places, cells, budget);

  const taken = places.flatMap((place) => [...place.inside, ...place.beside]).length;
  const outside = (cell: number): boolean => isOutside(places, cell);
  const rest: [number, Purpose][] = [];
  for (let zone = 0; zone < (field.soilZones?.names.length ?? 0); zone++) {
    const inZone = (cell: number): boolean => cells.zone[cell] === zone && outside(cell);
    for (
      let have = picker.countIn(inZone);
      have < SPOTS_A_ZONE && taken + rest.length < options.spots;
      have++
    ) {
      const cell = picker.farthest(inZone);
      if (cell < 0) break;
      rest.push([cell, "zone"]);
    }
  }
  while (taken + rest.length < options.spots) {
    const cell = picker.farthest(outside);
    if (cell < 0) break;
    rest.push([cell, "cover"]);
  }

  const usual = usualRows(bar);
  const spots: Omit<ScoutSpot, "number">[] = [
    ...places.flatMap((place) => spotsOfPlace(analysis, bar, place)),
    ...rest.map(([cell, purpose]) => spotAt(analysis, bar, cell, usual, purpose, null)),
  ];
  askForDigs(spots, places, options.digs);
  const order = walkingOrder(
    spots.map(({ x }) => x),
    spots.map(({ y }) => y),
  );
  if (spots.length < options.spots)
    notes.push(`the ground has room for ${spots.length} spots only, ${options.spots} were asked for`);
  return {
    spots: order.map((index, place) => ({ number: place + 1, ...spots[index]! })),
    needs: places.map(({ finding, wanted, already, inside, beside }) => ({
      finding: finding.id,
      title: document.findings.find(({ id }) => id === finding.id)!.words.title,
      wanted,
      already,
      inside: inside.length,
      beside: beside.length,
    })),
    rowLengthM: bar.rowLengthM,
    rowSpacingM: bar.rowSpacingM,
    notes,
  };
}

/** Cells worth walking to: on ordinary passes, not the first or last piece, where the bar turns. */
function usable({ cells, passes }: Analysis): (cell: number) => boolean {
  return (cell) => {
    const pass = passes.passes[cells.pass[cell]! - 1]!;
    const middleM = alongOf(cells, cell);
    const isEnd = middleM < 12 || middleM > pass.lengthM - 12;
    return !pass.headland && !isEnd;
  };
}

function countsSoFar({ field }: Analysis): { x: number[]; y: number[] } {
  const counts = field.standCounts;
  return { x: [...(counts?.x ?? [])], y: [...(counts?.y ?? [])] };
}

/** The findings that counts can settle, in the order of the document; the whole field is covered anyway. */
function placesOf(analysis: Analysis): Place[] {
  const { document, field, cells, parts } = analysis;
  const awayOf = (finding: Finding): Float64Array => {
    const polygons: LocalPolygon[] = finding.where.geometry.coordinates.map((rings) =>
      rings.map((ring) => ring.map(([lon, lat]) => field.frame.toLocal(lon!, lat!))),
    );
    return cells.x.map((x, cell) => distanceToPolygons(polygons, x, cells.y[cell]!));
  };
  return document.findings
    .filter((finding) => finding.kind !== "field")
    .map((finding) => {
      const isGround = finding.where.rowUnits.length === 0;
      const awayM = isGround ? awayOf(finding) : new Float64Array(cells.count);
      return {
        finding,
        awayM,
        heart: isGround ? heartOf(cells, parts.causes.predictedLoss, (cell) => awayM[cell] === 0) : null,
        ...needOf(analysis, finding),
        row: finding.where.rowUnits[Math.floor(finding.where.rowUnits.length / 2)] ?? null,
        inside: [],
        beside: [],
      };
    });
}

/** Hands the budget out in turns, one inside for each place that wants more, one beside for every two inside. */
function handOut(picker: SpotPicker, places: readonly Place[], cells: Cells, budget: number): void {
  let left = budget;
  for (let isGiving = true; isGiving && left > 0; ) {
    isGiving = false;
    for (const place of places) {
      if (left < 1 || place.already + place.inside.length >= place.wanted) continue;
      const cell = picker.farthest(insideOf(place, cells));
      if (cell < 0) continue;
      place.inside.push(cell);
      left--;
      isGiving = true;
      // A row is compared with its neighbour at the very same place: a pair each time.
      if (place.row !== null) {
        if (left > 0) {
          place.beside.push(cell);
          left--;
        }
      } else if (left > 0 && place.beside.length * 2 < place.inside.length) {
        const beside = picker.farthest(besideOf(place, places));
        if (beside < 0) continue;
        place.beside.push(beside);
        left--;
      }
    }
  }
}

function insideOf(place: Place, cells: Cells): (cell: number) => boolean {
  const { passes } = place.finding.where;
  if (place.row !== null) return (cell) => passes.length === 0 || passes.includes(cells.pass[cell]!);
  const { heart } = place;
  return (cell) => place.awayM[cell] === 0 && (heart === null || heart[cell] === 1);
}

/** Ground near the place, in none of the others. */
function besideOf(place: Place, places: readonly Place[]): (cell: number) => boolean {
  const [nearest, farthest] = BESIDE_M;
  return (cell) => place.awayM[cell]! >= nearest && place.awayM[cell]! <= farthest && isOutside(places, cell);
}

/** True outside every place that is ground of its own. */
function isOutside(places: readonly Place[], cell: number): boolean {
  return places.every(({ awayM, row }) => row !== null || awayM[cell]! > 0);
}

function spotsOfPlace(analysis: Analysis, bar: Bar, place: Place): Omit<ScoutSpot, "number">[] {
  const { id } = place.finding;
  const own: CountedRows =
    place.row === null ? usualRows(bar) : { first: place.row, last: place.row, rowUnit: place.row };
  const others = place.row === null ? own : rowsBeside(bar, place.row);
  return [
    ...place.inside.map((cell) => spotAt(analysis, bar, cell, own, "inside", id)),
    ...place.beside.map((cell) => spotAt(analysis, bar, cell, others, "beside", id)),
  ];
}

function spotAt(
  { cells, passes, field }: Analysis,
  bar: Bar,
  cell: number,
  rows: CountedRows,
  purpose: Purpose,
  finding: string | null,
): Omit<ScoutSpot, "number"> {
  const pass = passes.passes[cells.pass[cell]! - 1]!;
  const heading = (cells.headingDeg[cell]! * Math.PI) / 180;
  const rightM = bar.offsetOfRowsM(rows);
  return {
    x: cells.x[cell]! + rightM * Math.cos(heading),
    y: cells.y[cell]! - rightM * Math.sin(heading),
    finding,
    purpose,
    pass: pass.number,
    logPasses: pass.logPasses,
    headingDeg: cells.headingDeg[cell]!,
    alongM: alongOf(cells, cell),
    passLengthM: pass.lengthM,
    rows,
    soilZone: cells.zone[cell]! >= 0 ? (field.soilZones?.names[cells.zone[cell]!] ?? null) : null,
    dig: false,
  };
}

function alongOf(cells: Cells, cell: number): number {
  return (cells.piece[cell]! + 0.5) * CELL_LENGTH_M;
}

/** Digs go where the cause is in doubt first: in turns over the places, one inside and one beside each time. */
function askForDigs(spots: Omit<ScoutSpot, "number">[], places: readonly Place[], digs: number): void {
  const inDoubt = [...places].sort((a, b) => doubtOf(b.finding) - doubtOf(a.finding));
  let left = digs;
  for (let isGiving = true; isGiving && left > 0; ) {
    isGiving = false;
    for (const { finding } of inDoubt) {
      for (const purpose of ["inside", "beside"] as const) {
        const spot = spots.find((one) => one.finding === finding.id && one.purpose === purpose && !one.dig);
        if (!spot || left < 1) continue;
        spot.dig = true;
        left--;
        isGiving = true;
      }
    }
  }
}

/** 1 where nothing is known of the cause, 0 where it is certain and dug already. */
function doubtOf(finding: Finding): number {
  return (1 - finding.probability) / (1 + finding.stand.digs) + (finding.cause === "undetermined" ? 1 : 0);
}
