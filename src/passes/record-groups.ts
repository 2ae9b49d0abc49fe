/** Records gathered into groups (cells, counted spots) without copying their values. */

/** Groups of records: `records[start[g]..start[g+1])` are the record indices of group g. */
export interface RecordGroups {
  start: Int32Array;
  records: Int32Array;
}

/** Groups by a label per record (-1 = none). */
export function groupBy(labelOf: Int32Array, count: number): RecordGroups {
  const start = new Int32Array(count + 1);
  for (let i = 0; i < labelOf.length; i++) if (labelOf[i]! >= 0) start[labelOf[i]! + 1]!++;
  for (let g = 0; g < count; g++) start[g + 1]! += start[g]!;
  const next = start.slice();
  const records = new Int32Array(start[count]!);
  for (let i = 0; i < labelOf.length; i++) if (labelOf[i]! >= 0) records[next[labelOf[i]!]!++] = i;
  return { start, records };
}
