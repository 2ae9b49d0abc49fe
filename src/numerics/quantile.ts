/**
 * Quantiles by definition 7 of Hyndman & Fan 1996 (Am. Stat. 50:361-365): with the values sorted and
 * h = (n - 1) p, the value between ranks floor(h) and floor(h) + 1 (0-based) in proportion. Values have to
 * be finite. An empty column gives NaN.
 */

/** Quantile of a column that is sorted already; probability 0..1. */
export function quantileSorted(
  sorted: ArrayLike<number>,
  probability: number,
  start = 0,
  end = sorted.length,
): number {
  const count = end - start;
  if (count <= 0) return Number.NaN;
  const rank = (count - 1) * probability;
  const below = Math.floor(rank);
  const low = sorted[start + below]!;
  if (below + 1 >= count) return low;
  return low + (rank - below) * (sorted[start + below + 1]! - low);
}

/** Quantile of an unsorted stretch, which is reordered by the work; mean cost grows with its length only. */
export function quantileInPlace(
  values: Float64Array,
  probability: number,
  start = 0,
  end = values.length,
): number {
  return quantilesInPlace(values, [probability], start, end)[0]!;
}

/** Several quantiles of one unsorted stretch, which is reordered; probabilities 0..1 in ascending order. */
export function quantilesInPlace(
  values: Float64Array,
  probabilities: readonly number[],
  start = 0,
  end = values.length,
): number[] {
  const count = end - start;
  let settled = start;
  return probabilities.map((probability) => {
    if (count <= 0) return Number.NaN;
    const rank = (count - 1) * probability;
    const below = Math.floor(rank);
    const position = start + below;
    selectInPlace(values, position, settled, end - 1);
    settled = position;
    const low = values[position]!;
    if (rank === below || below + 1 >= count) return low;
    // Everything right of the selected place is at least as large: its minimum is the next rank.
    let next = Number.POSITIVE_INFINITY;
    for (let index = position + 1; index < end; index++) if (values[index]! < next) next = values[index]!;
    return low + (rank - below) * (next - low);
  });
}

/** Reorders values[left..right] so that place `wanted` holds what sorting would put there (Hoare 1961). */
function selectInPlace(values: Float64Array, wanted: number, left: number, right: number): void {
  let low = left;
  let high = right;
  while (low < high) {
    const pivot = middleOfThree(values[low]!, values[(low + high) >>> 1]!, values[high]!);
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const swapped = values[i]!;
        values[i++] = values[j]!;
        values[j--] = swapped;
      }
    }
    if (wanted <= j) high = j;
    else if (wanted >= i) low = i;
    else return;
  }
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
