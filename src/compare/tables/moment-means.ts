/** Means of the moments of a pass, in order of planting: the series whose neighbours are alike. */

/**
 * Means of the moments among some records.
 * @param records in order of planting; those of the stretch `from` to `to` (not included) are looked at
 * @param means room for the result, at least as long as the stretch
 * @returns the filled part of `means`
 */
export function momentMeans(
  values: Float64Array,
  records: Int32Array,
  momentOf: Int32Array,
  from: number,
  to: number,
  means: Float64Array,
): Float64Array {
  let count = 0;
  let at = -1;
  let sum = 0;
  let within = 0;
  for (let place = from; place < to; place++) {
    const record = records[place]!;
    const value = values[record]!;
    if (Number.isNaN(value)) continue;
    if (momentOf[record] !== at) {
      if (within > 0) means[count++] = sum / within;
      at = momentOf[record]!;
      sum = 0;
      within = 0;
    }
    sum += value;
    within++;
  }
  if (within > 0) means[count++] = sum / within;
  return means.subarray(0, count);
}
