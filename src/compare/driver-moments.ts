/** Moments of the whole bar with what may drive depth and load: one entry a moment. */
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import { slopesAlong } from "./slope.ts";
import { plantedRecords } from "./tables/planted-records.ts";

export interface Moments {
  /** Mean of the variable over the records of the moment, inside unit, and their number. */
  value: Float64Array;
  weight: Float64Array;
  /** Soil zone, 0 where none, else its index + 1; number of levels. */
  zone: Int32Array;
  zones: number;
  /** Our pass number. */
  pass: Int32Array;
  headingDeg: Float64Array;
  /** Mean speed, m/s; null where the log has none on some moment. */
  speed: Float64Array | null;
  /** Slope in the direction of travel, percent, 0 where it cannot be told (near the ends of a pass); null without elevations. */
  slope: Float64Array | null;
  /** Hour of the day, UTC; null without clock times. */
  hour: Float64Array | null;
}

/** Passes inside the end rows from which these stand for the field. */
const ENOUGH_INSIDE = 6;

/** Share of the moments whose slope has to be known. */
const LEAST_TOLD = 0.6;

/** Moments with a value, end rows left out where there are enough other passes; null without the variable. */
export function momentsOf(
  field: Field,
  passes: Passes,
  zoneOfRecord: Int32Array,
  variable: "seedingDepth" | "downForceMargin",
): Moments | null {
  const values = field.log.values[variable];
  if (!values) return null;
  const { speed, time, elevation } = field.log.values;
  const planted = plantedRecords(field);
  const inside = passes.passes.filter((pass) => !pass.headland).length;
  const leavesEndRows = inside >= ENOUGH_INSIDE;
  const count = passes.momentCount;
  const sums = { value: new Float64Array(count), speed: new Float64Array(count) };
  const records = { value: new Int32Array(count), speed: new Int32Array(count) };
  const one = new Int32Array(count).fill(-1);
  for (let i = 0; i < values.length; i++) {
    const pass = passes.passOf[i]!;
    if (planted[i] === 0 || pass === 0 || Number.isNaN(values[i]!)) continue;
    if (leavesEndRows && passes.passes[pass - 1]!.headland) continue;
    const at = passes.momentOf[i]!;
    sums.value[at]! += values[i]!;
    records.value[at]!++;
    one[at] = i;
    if (!speed || Number.isNaN(speed[i]!)) continue;
    sums.speed[at]! += speed[i]!;
    records.speed[at]!++;
  }
  const used = Int32Array.from(one.keys()).filter((at) => one[at]! >= 0);
  if (used.length === 0) return null;
  const allHaveSpeed = used.every((at) => records.speed[at]! > 0);
  const hasTime =
    time !== undefined && field.log.hasClockTime && used.every((at) => !Number.isNaN(time[one[at]!]!));
  // Elevation of the one record: the bar is level for our purpose. Pass by pass, each in order of planting.
  const bySlope = elevation ? slopesOf(used, one, elevation, passes) : null;
  const figures = (of: (at: number) => number): Float64Array => Float64Array.from(used, of);
  return {
    value: figures((at) => sums.value[at]! / records.value[at]!),
    weight: figures((at) => records.value[at]!),
    zone: used.map((at) => zoneOfRecord[one[at]!]! + 1),
    zones: (field.soilZones?.names.length ?? 0) + 1,
    pass: used.map((at) => passes.passOf[one[at]!]!),
    headingDeg: figures((at) => passes.headingDeg[one[at]!]!),
    speed: allHaveSpeed ? figures((at) => sums.speed[at]! / records.speed[at]!) : null,
    slope: bySlope && figures((at) => bySlope.get(at)!),
    hour: hasTime ? figures((at) => (time[one[at]!]! / 3600) % 24) : null,
  };
}

/** Slope by moment; 0 where it cannot be told. Null where hardly any can. */
function slopesOf(
  used: Int32Array,
  one: Int32Array,
  elevation: Float64Array,
  passes: Passes,
): Map<number, number> | null {
  const passAt = (at: number): number => passes.passOf[one[at]!]!;
  const known = [...used]
    .filter((at) => !Number.isNaN(elevation[one[at]!]!))
    .sort((a, b) => passAt(a) - passAt(b) || a - b);
  const slopes = slopesAlong(
    Float64Array.from(known, (at) => elevation[one[at]!]!),
    Float64Array.from(known, (at) => passes.alongM[one[at]!]!),
    Int32Array.from(known, passAt),
  );
  const told = slopes.filter((slope) => !Number.isNaN(slope)).length;
  if (told < LEAST_TOLD * used.length) return null;
  const result = new Map(Array.from(used, (at) => [at, 0]));
  known.forEach((at, k) => {
    if (!Number.isNaN(slopes[k]!)) result.set(at, slopes[k]!);
  });
  return result;
}
