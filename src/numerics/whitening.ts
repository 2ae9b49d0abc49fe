/** A known covariance taken out of columns, so that plain inner products are those under it. */
import { cholesky, solveLower, solveLowerTransposed } from "./cholesky.ts";

export interface Whitening {
  /** W v with W'W the inverse of the covariance: entries are independent and of variance 1. */
  whiten: (values: Float64Array) => Float64Array;
  /** W'w: how strongly a whitened column pulls at each place. */
  pull: (whitened: Float64Array) => Float64Array;
}

/**
 * By the Cholesky factor of the whole matrix: exact, at a cost that grows with the cube of its size.
 * @param matrix row-major size x size, symmetric positive definite
 */
export function denseWhitening(matrix: Float64Array, size: number): Whitening {
  const factor = cholesky(matrix, size);
  return {
    whiten: (values) => solveLower(factor, size, values),
    pull: (whitened) => solveLowerTransposed(factor, size, whitened),
  };
}

/** Places that share an effect which is normal about 0: a group for each place, and the SD of the effect. */
export interface SharedEffect {
  groupOf: ArrayLike<number>;
  sd: number;
}

/**
 * Adds effects that places have in common to a covariance that is whitened already. With Y the whitened effects and
 * R R' = I + Y'Y, the root of (I + YY')^-1 is I - Y R'^-1 (R + I)^-1 Y' (Andrews 1968, AIAA J. 6:1165-1166).
 */
export function withSharedEffects(own: Whitening, size: number, effects: readonly SharedEffect[]): Whitening {
  const columns = effects.flatMap(({ groupOf, sd }) =>
    [...new Set(Array.from(groupOf))].map((group) =>
      own.whiten(Float64Array.from({ length: size }, (_, i) => (groupOf[i] === group ? sd : 0))),
    ),
  );
  const count = columns.length;
  // Few places touch most of the groups: only what is not 0 is kept.
  const rowsOf = columns.map((column) => Int32Array.from([...column.keys()].filter((i) => column[i] !== 0)));
  const valuesOf = columns.map((column, c) => Float64Array.from(rowsOf[c]!, (i) => column[i]!));
  const gathered = (whitened: Float64Array): Float64Array =>
    Float64Array.from(valuesOf, (values, c) => {
      const rows = rowsOf[c]!;
      let sum = 0;
      for (let k = 0; k < rows.length; k++) sum += values[k]! * whitened[rows[k]!]!;
      return sum;
    });
  const without = (whitened: Float64Array, sums: Float64Array): Float64Array => {
    const rest = whitened.slice();
    for (let c = 0; c < count; c++) {
      const rows = rowsOf[c]!;
      const values = valuesOf[c]!;
      for (let k = 0; k < rows.length; k++) rest[rows[k]!]! -= values[k]! * sums[c]!;
    }
    return rest;
  };
  const matrix = new Float64Array(count * count);
  for (let c = 0; c < count; c++) {
    matrix.set(gathered(columns[c]!), c * count);
    matrix[c * count + c]! += 1;
  }
  const root = cholesky(matrix, count);
  const rootAndOne = root.slice();
  for (let c = 0; c < count; c++) rootAndOne[c * count + c]! += 1;
  return {
    whiten(values) {
      const whitened = own.whiten(values);
      const sums = solveLower(root, count, gathered(whitened));
      return without(whitened, solveLowerTransposed(rootAndOne, count, sums));
    },
    pull(whitened) {
      const sums = solveLower(rootAndOne, count, gathered(whitened));
      return own.pull(without(whitened, solveLowerTransposed(root, count, sums)));
    },
  };
}
