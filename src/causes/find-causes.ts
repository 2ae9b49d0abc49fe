/** From cells and counts to drafts of findings: row units first, then places, each with its cause. */
import type { Cells } from "../cells/cells.ts";
import { FACTORS, fastSpeed, predictLoss, recordDoses, subtractUsual } from "../cells/predicted-loss.ts";
import { median } from "../numerics/descriptive.ts";
import type { GroundBalance } from "../passes/ground-balance.ts";
import type { Passes } from "../passes/passes.ts";
import { groupBy } from "../passes/record-groups.ts";
import { findPassFaults } from "../places/pass-faults.ts";
import { layOutPasses } from "../places/pass-layout.ts";
import { findRowFaults } from "../rows/row-faults.ts";
import { joinCounts, type Spots } from "../stand/spots.ts";
import type { ContrastResult } from "../stand-model/contrast.ts";
import { contrastTests } from "../stand-model/contrasts-of.ts";
import { type CountSettings, type StandView, viewOfStand } from "../stand-model/stand-view.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";
import type { Draft } from "./draft.ts";
import { draftContrasts, hasGroundOfItsOwn } from "./draft-contrasts.ts";
import { draftGround } from "./draft-ground.ts";
import { draftPlace } from "./draft-place.ts";
import { countedRow, draftRowUnit } from "./draft-row-unit.ts";
import { endRowPlaces } from "./end-row-places.ts";
import { checkField } from "./field-checks.ts";
import { findPlaces, type Place, placeFromLog, predictedOver } from "./find/find-places.ts";
import { rowUnitCases } from "./find/find-row-units.ts";
import { type PassTrend, passTrend } from "./find/pass-trend.ts";
import { type RowDeparture, rowDepartures } from "./find/row-departures.ts";
import { logDepartures } from "./log-departures.ts";
import { asSurplus, rateSurplus, surplusGround } from "./rate-surplus.ts";

/** Predicted loss from which a departing pass is listed, share of stand (our judgement). */
const WORTH_A_PASS = 0.012;

export interface CausesResult {
  drafts: Draft[];
  spots: Spots | null;
  /** Rows that depart from the bar, with and without harm. */
  departures?: RowDeparture[];
  /** 1 for records outside every place and every departing row unit. */
  ordinary: Uint8Array;
  /** Spots and digs outside every place. */
  ordinarySpots: number[];
  ordinaryDigs: number[];
  /** Loss the log predicts at each cell, all factors together, share of stand. */
  predictedLoss: Float64Array;
  /** The counts under the model; null with fewer than it takes. */
  view: StandView | null;
  /** Every plain contrast that was tested on the counts, with its verdict. */
  contrasts: readonly ContrastResult[];
}

/**
 * Finds what is wrong and why.
 * @param swathWidthM usual width of the bar, m
 * @param ground outline and area of the planted ground, for what concerns the whole field, and what was planted twice or left out
 */
export function findCauses(
  field: Field,
  passes: Passes,
  zoneOfRecord: Int32Array,
  cells: Cells,
  cellOf: Int32Array,
  swathWidthM: number,
  ground: { outline: LocalPolygon[]; areaM2: number; balance?: GroundBalance },
  settings: CountSettings = {},
): CausesResult {
  const doses = recordDoses(field, passes, zoneOfRecord);
  const faults = findRowFaults(field, passes);
  const cases = rowUnitCases(field, passes, doses, faults.units, faults.sets);
  const excluded = new Uint8Array(field.log.recordCount);
  for (const rowCase of cases) setWhere(excluded, rowCase.inside, 1);

  const fast = fastSpeed(field, doses.speed ?? new Float64Array(0));
  const losses = predictLoss(groupBy(cellOf, cells.count), doses, cells.depthSdMm, excluded, fast);
  subtractUsual(losses);

  const spots = joinCounts(field, passes, zoneOfRecord);
  const everyPass = passes.passes.length;
  const view = viewOfStand(
    field,
    passes,
    cells,
    cellOf,
    spots,
    losses,
    cases.map(({ rowUnits, main }) => ({
      rowUnits,
      passes: main.passes.length === everyPass ? [] : main.passes,
    })),
    swathWidthM,
    settings,
  );
  const found = findPlaces({ cells, swathWidthM, losses, view });

  const departingUnits = new Set(cases.flatMap((rowCase) => rowCase.rowUnits));
  const context = {
    field,
    passes,
    cells,
    cellOf,
    swathWidthM,
    departingUnits,
    repeated: (place: Place): boolean => {
      const leader = leadingTerm(place);
      return found.some(
        (other) =>
          other !== place && other.cells !== place.cells && leader !== null && leadingTerm(other) === leader,
      );
    },
  };
  const isWorthIt = (members: readonly number[]): boolean => {
    const predicted = predictedOver(losses, members);
    return FACTORS.some((factor) => predicted[factor] >= WORTH_A_PASS);
  };
  const endRows = endRowPlaces(cells, passes.passes, found, isWorthIt);
  const places = [...endRows.places, ...departingPasses(cells, swathWidthM, isWorthIt, endRows.places)];
  const surplus = rateSurplus(doses, field.log.values.multiples, cellOf, cells, excluded);
  const rich = surplus ? surplusGround(surplus, cells, swathWidthM) : [];
  const richPlaces = rich.map((own) => placeFromLog(own, view?.spotsOn(own)));
  const departures = logDepartures(context, [...places, ...richPlaces], losses, spots);
  const areaDrafts = places
    .filter((place) => !departures.absorbed.has(place))
    .map((place) => endRows.weigh(draftPlace(context, place, predictedOver(losses, place.cells)), place));
  const surplusDrafts = richPlaces.map((place) =>
    asSurplus(draftPlace(context, place, predictedOver(losses, place.cells))),
  );
  const rowDrafts = cases.map((rowCase, k) =>
    draftRowUnit(field, passes, rowCase, view && countedRow(view, k)),
  );

  const contrasts = view ? contrastTests(view) : [];
  const drafts = [
    ...areaDrafts,
    ...surplusDrafts,
    ...rowDrafts,
    ...departures.drafts,
    ...(view ? draftContrasts(context, view, contrasts, ground.outline, ground.areaM2) : []),
  ];
  const fieldDrafts = checkField(field, passes, doses, ground.outline, ground.areaM2);
  const ordinary = new Uint8Array(field.log.recordCount);
  for (let i = 0; i < ordinary.length; i++) ordinary[i] = passes.passOf[i]! > 0 ? 1 : 0;
  const offSpots = new Set<number>();
  const offDigs = new Set<number>();
  for (const draft of drafts) {
    // What is short as a whole leaves no ground beside it to compare with.
    if (draft.contrast && !hasGroundOfItsOwn(draft.contrast)) continue;
    setWhere(ordinary, draft.inside, 0);
    // Where counts and digs show no harm they are as good a measure of ordinary ground as any.
    if (draft.basis === "cleared") continue;
    for (const spot of draft.spots) offSpots.add(spot);
    for (const dig of draft.digs) offDigs.add(dig);
  }
  return {
    drafts: withTrends(field, passes, [
      ...drafts,
      ...(ground.balance ? draftGround(field, passes, ground.balance) : []),
      ...fieldDrafts,
    ]),
    spots,
    departures: rowDepartures(faults, cases),
    ordinary,
    ordinarySpots: spots ? [...Array(spots.count).keys()].filter((spot) => !offSpots.has(spot)) : [],
    ordinaryDigs: field.digs ? [...Array(field.digs.digCount).keys()].filter((dig) => !offDigs.has(dig)) : [],
    predictedLoss: cells.x.map((_, cell) => FACTORS.reduce((sum, factor) => sum + losses[factor][cell]!, 0)),
    view,
    contrasts: contrasts.map(({ result }) => result),
  };
}

/** Passes or a field with skips or doubles: whether all rows drift so from pass to pass. */
function withTrends(field: Field, passes: Passes, drafts: readonly Draft[]): Draft[] {
  const known = new Map<Cause, PassTrend | null>();
  return drafts.map((draft) => {
    const { cause, kind } = draft;
    if ((cause !== "misses" && cause !== "multiples") || draft.rowUnits.length > 0 || kind === "area")
      return draft;
    const values = field.log.values[cause];
    if (!values) return draft;
    const trend = known.has(cause) ? known.get(cause)! : passTrend(cause, values, passes, () => true, null);
    known.set(cause, trend);
    return { ...draft, trend };
  });
}

/**
 * Passes planted otherwise than their neighbours that no place covers yet, where the log predicts harm of it.
 * They rest on the log alone.
 */
function departingPasses(
  cells: Cells,
  swathWidthM: number,
  isWorthIt: (cells: readonly number[]) => boolean,
  places: readonly Place[],
): Place[] {
  const covered = new Set(places.flatMap((place) => [...place.cells]));
  const found: Place[] = [];
  for (const fault of findPassFaults(cells, layOutPasses(cells, swathWidthM))) {
    const passes = new Set(fault.passes);
    const own = [...cells.pass.keys()].filter((cell) => passes.has(cells.pass[cell]!));
    const free = own.filter((cell) => !covered.has(cell));
    if (free.length < 0.5 * own.length) continue;
    if (!isWorthIt(free)) continue;
    for (const cell of free) covered.add(cell);
    found.push(placeFromLog(Int32Array.from(free)));
  }
  return found;
}

/** Sets the entries where the mask is 1. */
function setWhere(target: Uint8Array, mask: Uint8Array, value: 0 | 1): void {
  for (let i = 0; i < mask.length; i++) if (mask[i]) target[i] = value;
}

/** The term that explains most of a counted place; null where none leads or the log alone speaks. */
function leadingTerm({ loss }: Place): string | null {
  if (!loss) return null;
  const ranked = [...loss.leading].sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0]));
  return ranked[0]?.[0] ?? null;
}

/** Usual width of the bar, m: the median over moments of the summed width of their records. */
export function usualSwathWidth(passes: Passes): number {
  const widths = new Float64Array(passes.momentCount);
  for (let i = 0; i < passes.momentOf.length; i++) {
    if (passes.passOf[i]! > 0) widths[passes.momentOf[i]!]! += passes.widthM[i]!;
  }
  const present = widths.filter((width) => width > 0);
  return present.length > 0 ? median(present) : 0;
}

/** Total predicted loss of a draft, share of stand. */
export function predictedTotal(draft: Draft): number {
  return FACTORS.reduce((sum, factor) => sum + draft.predicted[factor], 0);
}
