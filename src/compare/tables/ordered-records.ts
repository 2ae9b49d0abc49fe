/** Records laid out so that each group of a table is one stretch, or a few of them. */

/** Records by soil zone, then by pass or row unit, then in order of planting. */
export interface OrderedRecords {
  /** Record at each place, and place of each record (-1 for one that is not laid out). */
  records: Int32Array;
  placeOf: Int32Array;
  /** Run r takes the places from start[r] to start[r + 1], not included; each run has one zone and one part. */
  start: Int32Array;
  /** Zone index of each run, -1 outside all zones. */
  zone: Int32Array;
  /** Pass or row unit of each run, 0 for none. */
  part: Int32Array;
}

/** A group of a table: the runs that make it up, and their places as start, end, start, end ... */
export interface Group {
  runs: number[];
  stretches: Int32Array;
}

/**
 * Lays out records.
 * @param inOrder records in order of planting, as many as are to be laid out
 * @param partOf pass or row unit of each record, 0..partCount
 */
export function orderRecords(
  inOrder: Int32Array,
  zoneOf: Int32Array,
  zoneCount: number,
  partOf: Int32Array | Int16Array,
  partCount: number,
): OrderedRecords {
  const byPart = sortedBy(inOrder, partOf, 0, partCount);
  const records = sortedBy(byPart, zoneOf, -1, zoneCount);
  const start: number[] = [];
  const zone: number[] = [];
  const part: number[] = [];
  let zoneBefore = -2;
  let partBefore = -1;
  for (let place = 0; place < records.length; place++) {
    const record = records[place]!;
    if (zoneOf[record] === zoneBefore && partOf[record] === partBefore) continue;
    zoneBefore = zoneOf[record]!;
    partBefore = partOf[record]!;
    start.push(place);
    zone.push(zoneBefore);
    part.push(partBefore);
  }
  start.push(records.length);
  const placeOf = new Int32Array(zoneOf.length).fill(-1);
  for (let place = 0; place < records.length; place++) placeOf[records[place]!] = place;
  return {
    records,
    placeOf,
    start: Int32Array.from(start),
    zone: Int32Array.from(zone),
    part: Int32Array.from(part),
  };
}

/** Stable counting sort of records by a label from `least` to `most`. */
function sortedBy(
  records: Int32Array,
  labelOf: Int32Array | Int16Array,
  least: number,
  most: number,
): Int32Array {
  const next = new Int32Array(most - least + 2);
  for (let place = 0; place < records.length; place++) next[labelOf[records[place]!]! - least + 1]!++;
  for (let label = 1; label < next.length; label++) next[label]! += next[label - 1]!;
  const sorted = new Int32Array(records.length);
  for (let place = 0; place < records.length; place++) {
    const record = records[place]!;
    const label = labelOf[record]! - least;
    sorted[next[label]!] = record;
    next[label]!++;
  }
  return sorted;
}

/** Group of some runs. */
export function groupOf({ start }: OrderedRecords, runs: number[]): Group {
  return { runs, stretches: Int32Array.from(runs.flatMap((run) => [start[run]!, start[run + 1]!])) };
}

/**
 * Fills in what stands at each place. Records are gone through in the order of the file: reading them by place would
 * jump about in memory.
 * @param laidOut one entry a place; overwritten and returned
 */
export function layOut(
  column: Float64Array,
  { placeOf }: OrderedRecords,
  laidOut: Float64Array,
): Float64Array {
  for (let record = 0; record < placeOf.length; record++) {
    const place = placeOf[record]!;
    if (place >= 0) laidOut[place] = column[record]!;
  }
  return laidOut;
}

/** The same for whole numbers; apart, as a loop over one kind of array runs several times as fast as one over three. */
export function layOutWhole<T extends Int32Array | Uint16Array>(
  column: T,
  { placeOf }: OrderedRecords,
  laidOut: T,
): T {
  for (let record = 0; record < placeOf.length; record++) {
    if (placeOf[record]! >= 0) laidOut[placeOf[record]!] = column[record]!;
  }
  return laidOut;
}
