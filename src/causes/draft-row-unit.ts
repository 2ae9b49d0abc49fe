/** A departing row unit or set of rows -> a draft: the loss counts show in its row, sensor or planting, its strip of ground. */
import { zoneColumns } from "../cluster/zone-model.ts";
import type { Field } from "../field/field.ts";
import { generalisedLeastSquares } from "../numerics/least-squares.ts";
import type { Passes } from "../passes/passes.ts";
import type { Spots } from "../stand/spots.ts";
import type { Deficit } from "./attribution.ts";
import type { Basis, Cause } from "./causes.ts";
import { digsInRow } from "./dig-evidence.ts";
import type { Draft } from "./draft.ts";
import { fillEffect } from "./fill-state.ts";
import type { PlaceSearch, RowUnitColumn } from "./find-places.ts";
import { attributeRowUnit, type RowUnitCase } from "./find-row-units.ts";
import { rowStrips } from "./row-strips.ts";

/** A unit's row counts as counted from this share of exposure over the spots: one whole counted row and a bit. */
const LEAST_ROW_EXPOSURE = 1.5;
/** The covariance is itself estimated: standard errors are widened, as for places (measured on simulated fields). */
const WIDEN_ROW_ERROR = 1.2;
/** Healthy rows differ in stand by about this, share of target (our judgement). */
const ROW_TO_ROW_SD = 0.012;

/** Drafts one row unit; `counted` is the loss in its row by counts, `share` how much of each spot it planted. */
export function draftRowUnit(
  field: Field,
  passes: Passes,
  rowCase: RowUnitCase,
  counted: Deficit | null,
  share: Float64Array | null,
): Draft {
  const digs = rowCase.rowUnits.flatMap((rowUnit) => digsInRow(field.digs, rowUnit));
  const attribution = attributeRowUnit(field, passes, rowCase, counted, digs);
  const strips = rowStrips(field, passes, rowCase.inside);
  const everyPass = rowCase.main.passes.length === passes.passes.length;
  const dug = rowCase.main.variable === "seedingDepth" && digs.length > 0;
  const short = counted !== null && counted.estimate - 1.645 * counted.standardError > 0;
  return {
    ...attribution,
    kind: rowCase.set ? "section" : "row-unit",
    basis: basisOf(attribution.cause, dug || short, dug || counted !== null),
    detail: null,
    pValue: rowCase.main.pValue,
    polygons: strips.polygons,
    areaM2: strips.areaM2,
    inside: rowCase.inside,
    passes: everyPass ? [] : [...rowCase.main.passes],
    rowUnits: rowCase.rowUnits,
    soilZones: [],
    ground: "fit",
    predicted: rowCase.predicted,
    deficit: counted,
    // Only spots that are mostly this row speak for it in the figures.
    spots: share ? [...share.keys()].filter((spot) => share[spot]! > 0.5) : [],
    digs,
    fill: fillEffect(field, passes, rowCase),
    departure: {
      variable: rowCase.main.variable,
      shift: rowCase.main.shift,
      from: rowCase.main.passes[0]!,
      to: rowCase.main.passes.at(-1)!,
      ofPasses: rowCase.main.passes.length,
    },
  };
}

/** A sensor that counts or digs prove wrong is cleared; harm is counted where digs or plants show it. */
function basisOf(cause: Cause, harmSeen: boolean, looked: boolean): Basis {
  if (cause === "sensor-fault") return looked ? "cleared" : "predicted";
  return harmSeen ? "counted" : "predicted";
}

/**
 * Loss of plants in a unit's row by the counts: generalised least squares with zones, the places found and
 * every departing unit as columns.
 */
export function rowDeficit(
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
