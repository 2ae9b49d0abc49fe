/** Parts of columns, by plain loops: `filter` of a typed array makes an object of each number on the way. */

/** The values that are numbers, in their order. */
export function presentOf(values: Float64Array): Float64Array {
  const present = new Float64Array(values.length);
  let count = 0;
  for (let index = 0; index < values.length; index++) {
    const value = values[index]!;
    if (!Number.isNaN(value)) present[count++] = value;
  }
  return present.subarray(0, count);
}

/** The values above zero, in their order. */
export function positiveOf(values: Float64Array): Float64Array {
  const positive = new Float64Array(values.length);
  let count = 0;
  for (let index = 0; index < values.length; index++) {
    const value = values[index]!;
    if (value > 0) positive[count++] = value;
  }
  return positive.subarray(0, count);
}

/** The record numbers that are wanted, in their order. */
export function recordsWhere(records: Int32Array, isWanted: (record: number) => boolean): Int32Array {
  const wanted = new Int32Array(records.length);
  let count = 0;
  for (let index = 0; index < records.length; index++) {
    const record = records[index]!;
    if (isWanted(record)) wanted[count++] = record;
  }
  return wanted.subarray(0, count);
}

/** How many different values there are; values that follow each other are mostly alike. NaN counts as one. */
export function distinctCount(values: Float64Array | Int32Array): number {
  const met = new Set<number>();
  const isSmall = new Uint8Array(1024);
  let small = 0;
  let last: number | null = null;
  for (let index = 0; index < values.length; index++) {
    const value = values[index]!;
    if (value === last) continue;
    last = value;
    if (value >= 0 && value < isSmall.length && (value | 0) === value) {
      if (isSmall[value] === 0) small++;
      isSmall[value] = 1;
    } else met.add(value);
  }
  return met.size + small;
}
