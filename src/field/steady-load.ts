/** A load that hardly moves is a setting, or the force that is applied: no gauge wheel carries the same load all over a field. */
import { mean, median, standardDeviation } from "../numerics/descriptive.ts";
import { presentOf } from "../numerics/present.ts";
import { NEWTONS_PER_POUND_FORCE } from "../quantities/units.ts";
import type { LayerReading } from "../recognise/layer-reading.ts";
import type { PlantingLog } from "../vocabulary/field.ts";

/**
 * Spread of the load within a short run of readings of one row unit, SD over mean, below which it is none (our judgement;
 * on one no-till field the load varied with a CV of 0.4 to 0.7, and a mean of 16 rows over 6 m still by some 5 %).
 */
const LEAST_SPREAD = 0.035;
/**
 * A mean below this may well be a steady load: bars that hold it by themselves move little on even ground (a public log of a
 * real field has 2.9 %). Above it so little movement is the force (our judgement).
 */
const HEAVY_N = 200 * NEWTONS_PER_POUND_FORCE;
/** Readings in a run: shorter than the way across a soil (our judgement). */
const RUN = 10;
const READINGS_TO_TELL = 100;

/**
 * Takes a load without spread out of the values, with a note that asks whether it is the force; it becomes the down force
 * where the log has none. A column that the manifest names is left as it is: the user has said what it is.
 */
export function dropSteadyLoad(reading: LayerReading, values: PlantingLog["values"]): void {
  const found = reading.found("downForceMargin");
  const load = values.downForceMargin;
  if (!found || !load || found.confidence === 1) return;
  const present = presentOf(load);
  const usual = mean(present);
  if (usual < HEAVY_N || present.length < READINGS_TO_TELL) return;
  const spread = spreadOf(load, values.rowUnit, usual);
  if (spread === null || spread >= LEAST_SPREAD) return;
  delete values.downForceMargin;
  values.downForce ??= load;
  reading.notes.add({
    reason: `hardly moves from record to record (by ${(100 * spread).toFixed(1)} % of its mean): no load on gauge wheels is that steady, so it reads like the force that is applied, or a setting, and is not judged as the load; name the column as "downForceMargin" in the manifest where it is the load`,
    effect: "left out",
    field: found.group.label,
    count: load.length,
  });
}

/**
 * SD of a row unit's load within short runs of its readings, the median over the runs (so that borders of soils and turns
 * do not count), as a share of the mean load; null where few. A reading that is written several times counts once where
 * enough others are left.
 */
function spreadOf(load: Float64Array, rowUnit: Float64Array | undefined, usual: number): number | null {
  const changing = spreadsOf(load, rowUnit, true);
  const spreads = changing.length * RUN < READINGS_TO_TELL ? spreadsOf(load, rowUnit, false) : changing;
  return spreads.length === 0 || !(usual > 0) ? null : median(spreads) / usual;
}

/** SD of each full run of {@link RUN} readings of a row unit, in the order of the log. */
function spreadsOf(load: Float64Array, rowUnit: Float64Array | undefined, withoutRepeats: boolean): number[] {
  const spreads: number[] = [];
  const open = new Map<number, number[]>();
  const last = new Map<number, number>();
  for (let record = 0; record < load.length; record++) {
    const value = load[record]!;
    const unit = rowUnit?.[record] ?? 0;
    if (Number.isNaN(value) || (withoutRepeats && last.get(unit) === value)) continue;
    last.set(unit, value);
    let run = open.get(unit);
    if (!run) {
      run = [];
      open.set(unit, run);
    }
    run.push(value);
    if (run.length < RUN) continue;
    spreads.push(standardDeviation(run));
    run.length = 0;
  }
  return spreads;
}
