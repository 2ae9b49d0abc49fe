/** From cells and counts to drafts of findings: row units first, then places, each with its cause. */
import type { Cells } from "../cluster/cells.ts";
import { findPassFaults } from "../cluster/pass-faults.ts";
import { layOutPasses } from "../cluster/pass-layout.ts";
import {
  FACTORS,
  type Factor,
  fastSpeed,
  type PredictedLoss,
  predictLoss,
  recordDoses,
  subtractUsual,
} from "../cluster/predicted-loss.ts";
import { findRowUnitFaults } from "../cluster/row-unit-faults.ts";
import { zoneColumns } from "../cluster/zone-model.ts";
import { type GroundState, groundState } from "../compare/ground-state.ts";
import type { Field, LocalPolygon } from "../field/field.ts";
import { median } from "../numerics/descriptive.ts";
import { generalisedLeastSquares } from "../numerics/least-squares.ts";
import type { Passes } from "../passes/passes.ts";
import { groupBy } from "../passes/record-groups.ts";
import { joinCounts, type Spots } from "../stand/spots.ts";
import { attribute, type Deficit } from "./attribution.ts";
import type { Cause } from "./causes.ts";
import { digLogLikelihood, digsInRow, digsInside, soilDetail } from "./dig-evidence.ts";
import type { Draft } from "./draft.ts";
import { checkField } from "./field-checks.ts";
import {
  findPlaces,
  type Place,
  type PlaceSearch,
  predictedOver,
  type RowUnitColumn,
} from "./find-places.ts";
import { attributeRowUnit, type RowUnitCase, rowUnitCases, shareOfSpots } from "./find-row-units.ts";
import { outlineCells } from "./place-outline.ts";
import { rowStrips } from "./row-strips.ts";

/** A unit's row counts as counted from this share of exposure over the spots: one whole counted row and a bit. */
const LEAST_ROW_EXPOSURE = 1.5;
/** Log likelihood from which digs by themselves show a cause: ten to one (our judgement). */
const PROOF_BY_DIGS = Math.log(10);
/** The covariance is itself estimated: standard errors are widened, as for places (measured on simulated fields). */
const WIDEN_ROW_ERROR = 1.2;
/** Healthy rows differ in stand by about this, share of target (our judgement). */
const ROW_TO_ROW_SD = 0.012;
/** Predicted loss from which a departing pass is listed, share of stand (our judgement). */
const WORTH_A_PASS = 0.012;
/** Passes of which at least this share lies in the place belong to it wholly: it is a matter of passes, not of ground. */
const WHOLE_PASS = 0.7;

export interface CausesResult {
  drafts: Draft[];
  spots: Spots | null;
  /** 1 for records outside every place and every departing row unit. */
  ordinary: Uint8Array;
  /** Spots and digs outside every place. */
  ordinarySpots: number[];
  ordinaryDigs: number[];
  /** How the stand model was fitted, for the settings of the report; null without counts. */
  model: PlaceSearch["model"];
}

/**
 * Finds what is wrong and why.
 * @param swathWidthM usual width of the bar, m
 * @param ground outline and area of the planted ground, for what concerns the whole field
 */
export function findCauses(
  field: Field,
  passes: Passes,
  zoneOfRecord: Int32Array,
  cells: Cells,
  cellOf: Int32Array,
  swathWidthM: number,
  ground: { outline: LocalPolygon[]; areaM2: number },
): CausesResult {
  const doses = recordDoses(field, passes, zoneOfRecord);
  const faults = findRowUnitFaults(field, passes);
  const cases = rowUnitCases(field, passes, doses, faults);
  const excluded = new Uint8Array(field.log.recordCount);
  for (const rowCase of cases) setWhere(excluded, rowCase.inside, 1);

  const fast = fastSpeed(field, doses.speed ?? new Float64Array(0));
  const losses = predictLoss(groupBy(cellOf, cells.count), doses, cells.depthSdMm, excluded, fast);
  subtractUsual(losses);

  const spots = joinCounts(field, passes, zoneOfRecord);
  const cellOfSpot = spots ? cellUnderSpots(spots, cells, cellOf) : null;
  const columns: RowUnitColumn[] = spots
    ? cases.map((rowCase) => ({
        rowUnit: rowCase.rowUnit,
        share: shareOfSpots(rowCase, spots),
        predicted: rowCase.totalPredicted,
      }))
    : [];
  const search = findPlaces({ cells, swathWidthM, losses, spots, cellOfSpot, rowUnits: columns });

  const context = { field, passes, cells, cellOf, swathWidthM };
  const places = [...search.places, ...departingPasses(cells, swathWidthM, losses, search.places)];
  const areaDrafts = places.map((place) => draftPlace(context, place, predictedOver(losses, place.cells)));
  const rowDrafts = cases.map((rowCase, k) =>
    draftRowUnit(
      context,
      rowCase,
      spots && search.model ? rowDeficit(spots, search, columns, k) : null,
      columns[k]?.share ?? null,
    ),
  );

  const drafts = [...areaDrafts, ...rowDrafts];
  const fieldDrafts = checkField(field, passes, doses, ground.outline, ground.areaM2);
  const ordinary = new Uint8Array(field.log.recordCount);
  for (let i = 0; i < ordinary.length; i++) ordinary[i] = passes.passOf[i]! > 0 ? 1 : 0;
  const offSpots = new Set<number>();
  const offDigs = new Set<number>();
  for (const draft of drafts) {
    setWhere(ordinary, draft.inside, 0);
    for (const spot of draft.spots) offSpots.add(spot);
    for (const dig of draft.digs) offDigs.add(dig);
  }
  return {
    drafts: [...drafts, ...fieldDrafts],
    spots,
    ordinary,
    ordinarySpots: spots ? [...Array(spots.count).keys()].filter((spot) => !offSpots.has(spot)) : [],
    ordinaryDigs: field.digs ? [...Array(field.digs.digCount).keys()].filter((dig) => !offDigs.has(dig)) : [],
    model: search.model,
  };
}

/**
 * Passes planted otherwise than their neighbours that no place covers yet, where the log predicts harm of it.
 * They rest on the log alone.
 */
function departingPasses(
  cells: Cells,
  swathWidthM: number,
  losses: PredictedLoss,
  places: readonly Place[],
): Place[] {
  const covered = new Set(places.flatMap((place) => [...place.cells]));
  const found: Place[] = [];
  for (const fault of findPassFaults(cells, layOutPasses(cells, swathWidthM))) {
    const passes = new Set(fault.passes);
    const own = [...cells.pass.keys()].filter((cell) => passes.has(cells.pass[cell]!));
    const free = own.filter((cell) => !covered.has(cell));
    if (free.length < 0.5 * own.length) continue;
    const predicted = predictedOver(losses, free);
    if (FACTORS.every((factor) => predicted[factor] < WORTH_A_PASS)) continue;
    for (const cell of free) covered.add(cell);
    found.push({
      cells: Int32Array.from(free),
      basis: "predicted",
      deficit: null,
      pValue: null,
      spots: [],
      outlineErrorM: 0,
      guided: true,
    });
  }
  return found;
}

/** Sets the entries where the mask is 1. */
function setWhere(target: Uint8Array, mask: Uint8Array, value: 0 | 1): void {
  for (let i = 0; i < mask.length; i++) if (mask[i]) target[i] = value;
}

interface DraftContext {
  field: Field;
  passes: Passes;
  cells: Cells;
  cellOf: Int32Array;
  swathWidthM: number;
}

function draftPlace(context: DraftContext, place: Place, predicted: Record<Factor, number>): Draft {
  const { field, passes, cells, cellOf, swathWidthM } = context;
  const polygons = outlineCells(cells, place.cells, swathWidthM);
  const digs = digsInside(field.digs, polygons, place.outlineErrorM);
  const inPlace = new Uint8Array(cells.count);
  for (const cell of place.cells) inPlace[cell] = 1;
  const inside = Uint8Array.from(cellOf, (cell) => (cell >= 0 ? inPlace[cell]! : 0));
  const touched = passesTouched(place.cells, cells, passes);
  const support = (cause: Cause): number =>
    digLogLikelihood(field.digs, digs, cause, field.targets.seedingDepthMm);
  const attribution = attribute(predicted, place.basis === "cleared" ? null : place.deficit, {
    digSupport: support,
    followsPasses: place.guided && touched.whole,
  });
  const dugProof = digs.length >= 2 && support(attribution.cause) >= PROOF_BY_DIGS;
  let areaM2 = 0;
  for (const cell of place.cells) areaM2 += cells.areaM2[cell]!;
  return {
    ...attribution,
    kind: touched.whole ? "pass" : "area",
    basis: place.basis === "predicted" && dugProof ? "counted" : place.basis,
    detail: attribution.cause === "soil-or-weather" ? soilDetail(field.digs, digs) : null,
    pValue: place.pValue,
    polygons,
    areaM2,
    inside,
    passes: touched.numbers,
    rowUnits: [],
    soilZones: zonesOf(place.cells, cells, field),
    ground: groundOf(place.cells, cells, field, passes),
    predicted,
    deficit: place.deficit,
    spots: place.spots,
    digs,
    departure: null,
  };
}

function draftRowUnit(
  context: DraftContext,
  rowCase: RowUnitCase,
  counted: Deficit | null,
  share: Float64Array | null,
): Draft {
  const { field, passes } = context;
  const digs = digsInRow(field.digs, rowCase.rowUnit);
  const attribution = attributeRowUnit(field, passes, rowCase, counted, digs);
  const strips = rowStrips(field, passes, rowCase.inside);
  const everyPass = rowCase.main.passes.length === passes.passes.length;
  const known = counted !== null || digs.length > 0;
  return {
    ...attribution,
    kind: "row-unit",
    basis: !known ? "predicted" : attribution.cause === "sensor-fault" ? "cleared" : "counted",
    detail: null,
    pValue: rowCase.main.pValue,
    polygons: strips.polygons,
    areaM2: strips.areaM2,
    inside: rowCase.inside,
    passes: everyPass ? [] : [...rowCase.main.passes],
    rowUnits: [rowCase.rowUnit],
    soilZones: [],
    ground: "fit",
    predicted: rowCase.predicted,
    deficit: counted,
    // Only spots that are mostly this row speak for it in the figures.
    spots: share ? [...share.keys()].filter((spot) => share[spot]! > 0.5) : [],
    digs,
    departure: {
      variable: rowCase.main.variable,
      shift: rowCase.main.shift,
      from: rowCase.main.passes[0]!,
      to: rowCase.main.passes.at(-1)!,
      ofPasses: rowCase.main.passes.length,
    },
  };
}

/**
 * Loss of plants in a unit's row by the counts: generalised least squares with zones, the places found and
 * every departing unit as columns.
 */
function rowDeficit(
  spots: Spots,
  search: PlaceSearch,
  columns: readonly RowUnitColumn[],
  k: number,
): Deficit | null {
  const exposure = columns[k]!.share.reduce((sum, value) => sum + value, 0);
  if (exposure < LEAST_ROW_EXPOSURE || !search.model) return null;
  const zones = zoneColumns(spots.zone).columns;
  const grounds = search.places
    .filter((place) => place.spots.length > 0)
    .map((place) => {
      const column = new Float64Array(spots.count);
      for (const spot of place.spots) column[spot] = 1;
      return column;
    });
  const units = columns.map((unit) => unit.share);
  const own = units.splice(k, 1)[0]!;
  const used = [own, ...zones, ...grounds, ...units.filter((share) => share.some((value) => value > 0))];
  const fit = generalisedLeastSquares(used, spots.response, search.model.factor);
  return {
    estimate: -fit.coefficients[0]!,
    standardError: Math.hypot(WIDEN_ROW_ERROR * Math.sqrt(fit.covariance[0]!), ROW_TO_ROW_SD),
  };
}

function cellUnderSpots(spots: Spots, cells: Cells, cellOf: Int32Array): Int32Array {
  return Int32Array.from({ length: spots.count }, (_, s) => {
    let best = -1;
    let bestDistance = Number.POSITIVE_INFINITY;
    for (let k = spots.beneath.start[s]!; k < spots.beneath.start[s + 1]!; k++) {
      const cell = cellOf[spots.beneath.records[k]!]!;
      if (cell < 0) continue;
      const distance = (cells.x[cell]! - spots.x[s]!) ** 2 + (cells.y[cell]! - spots.y[s]!) ** 2;
      if (distance < bestDistance) {
        bestDistance = distance;
        best = cell;
      }
    }
    return best;
  });
}

/** Passes with a fair part in the place, and whether the place is whole passes. */
function passesTouched(
  members: Int32Array,
  cells: Cells,
  passes: Passes,
): { numbers: number[]; whole: boolean } {
  const areaOfPass = new Float64Array(passes.passes.length + 1);
  const inside = new Float64Array(passes.passes.length + 1);
  for (let cell = 0; cell < cells.count; cell++) areaOfPass[cells.pass[cell]!]! += cells.areaM2[cell]!;
  let total = 0;
  for (const cell of members) {
    inside[cells.pass[cell]!]! += cells.areaM2[cell]!;
    total += cells.areaM2[cell]!;
  }
  const numbers: number[] = [];
  let whole = 0;
  for (let pass = 1; pass < inside.length; pass++) {
    // A cell or two at the edge of the place does not make it a matter of that pass.
    if (inside[pass]! > 0.02 * total) numbers.push(pass);
    if (inside[pass]! > WHOLE_PASS * areaOfPass[pass]!) whole += inside[pass]!;
  }
  return { numbers, whole: whole > 0.75 * total };
}

function zonesOf(members: Int32Array, cells: Cells, field: Field): string[] {
  if (!field.soilZones) return [];
  const area = new Float64Array(field.soilZones.names.length);
  let total = 0;
  for (const cell of members) {
    total += cells.areaM2[cell]!;
    if (cells.zone[cell]! >= 0) area[cells.zone[cell]!]! += cells.areaM2[cell]!;
  }
  return field.soilZones.names
    .map((name, k) => ({ name, share: area[k]! / total }))
    .filter((entry) => entry.share >= 0.2)
    .sort((a, b) => b.share - a.share)
    .map((entry) => entry.name);
}

/** State of the ground over most of the place. */
function groundOf(members: Int32Array, cells: Cells, field: Field, passes: Passes): GroundState {
  const votes: Record<GroundState, number> = { damp: 0, fit: 0, dry: 0 };
  for (const cell of members) {
    const date = passes.passes[cells.pass[cell]! - 1]?.date ?? field.planted;
    const texture = cells.zone[cell]! >= 0 ? (field.soilZones?.texture[cells.zone[cell]!] ?? null) : null;
    votes[groundState(field, date, texture)] += cells.areaM2[cell]!;
  }
  return (["fit", "dry", "damp"] as const).reduce((best, state) =>
    votes[state] > votes[best] ? state : best,
  );
}

/** Usual width of the bar, m: the median over moments of the summed width of their records. */
export function usualSwathWidth(passes: Passes): number {
  const widths = new Float64Array(passes.instantCount);
  for (let i = 0; i < passes.instantOf.length; i++) {
    if (passes.passOf[i]! > 0) widths[passes.instantOf[i]!]! += passes.widthM[i]!;
  }
  const present = widths.filter((width) => width > 0);
  return present.length > 0 ? median(present) : 0;
}

/** Total predicted loss of a draft, share of stand. */
export function predictedTotal(draft: Draft): number {
  return FACTORS.reduce((sum, factor) => sum + draft.predicted[factor], 0);
}
