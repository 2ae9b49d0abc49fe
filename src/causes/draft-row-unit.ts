/** A departing row unit or set of rows -> a draft: the loss counts show in its row, sensor or planting, its strip of ground. */
import { Z90 } from "../numerics/distributions.ts";
import type { Passes } from "../passes/passes.ts";
import { overPoints } from "../stand-model/points.ts";
import type { StandView } from "../stand-model/stand-view.ts";
import type { Basis, Cause } from "../vocabulary/causes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Draft } from "./draft.ts";
import type { Deficit } from "./evidence/attribution.ts";
import { digsInRow } from "./evidence/dig-evidence.ts";
import { fillEffect } from "./find/fill-state.ts";
import { attributeRowUnit, type RowUnitCase } from "./find/find-row-units.ts";
import { ABOVE_TARGET } from "./rate-surplus.ts";
import { rowStrips } from "./row-strips.ts";

/** A unit's row counts as counted from this share of exposure over the spots: one whole counted row and a bit. */
const LEAST_ROW_EXPOSURE = 1.5;
/** The covariance is itself estimated: standard errors are widened, as for places (measured on simulated fields). */
const WIDEN_ROW_ERROR = 1.2;
/** Healthy rows differ in stand by about this, share of target (our judgement). */
const ROW_TO_ROW_SD = 0.012;

/** Drafts one row unit; `row` is what the counts say of it, null without them. */
export function draftRowUnit(
  field: Field,
  passes: Passes,
  rowCase: RowUnitCase,
  row: CountedRow | null,
): Draft {
  const counted = row?.deficit ?? null;
  const digs = rowCase.rowUnits.flatMap((rowUnit) => digsInRow(field.digs, rowUnit));
  const knowsRow = digs.length > 0 || (row?.named ?? 0) >= LEAST_ROW_EXPOSURE;
  const attribution = attributeRowUnit(field, passes, rowCase, counted, digs, knowsRow);
  const strips = rowStrips(field, passes, rowCase.inside);
  const everyPass = rowCase.main.passes.length === passes.passes.length;
  const dug = rowCase.main.variable === "seedingDepth" && digs.length > 0;
  const short = counted !== null && counted.estimate - Z90 * counted.standardError > 0;
  return {
    ...attribution,
    kind: rowCase.set ? "section" : "row-unit",
    basis: basisOf(attribution.cause, dug || short, knowsRow),
    detail: rowCase.surplus > rowCase.totalPredicted ? ABOVE_TARGET : null,
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
    spots: row ? [...row.share.keys()].filter((spot) => row.share[spot]! > 0.5) : [],
    digs,
    fill: fillEffect(field, passes, rowCase),
    trend: rowCase.trend,
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

/** What the counts say of the rows of a case. */
export interface CountedRow {
  /** Share of each spot's counted rows that these rows planted. */
  share: Float64Array;
  /** Loss in the rows, null where too few counts touch them. */
  deficit: Deficit | null;
  /** Counts that name one of these rows, as a share of exposure: only they can speak of the sensor. */
  named: number;
}

/** Loss of plants in departing rows by the counts, everything else in the model taken out. */
export function countedRow(view: StandView, k: number): CountedRow {
  const share = view.rowShare(k);
  const exposure = share.reduce((sum, value) => sum + value, 0);
  const named = share.reduce((sum, value, spot) => sum + value * view.exposure.named[spot]!, 0);
  if (exposure < LEAST_ROW_EXPOSURE) return { share, deficit: null, named };
  const key = view.rowKey(k);
  const { estimate, standardError } = view.posterior.plainLoss(
    overPoints(view.points, (spot) => share[spot]!),
    (other) => other === key,
  );
  return {
    share,
    deficit: { estimate, standardError: Math.hypot(WIDEN_ROW_ERROR * standardError, ROW_TO_ROW_SD) },
    named,
  };
}
