/**
 * Dense Cholesky factor and its triangular solves (Golub & Van Loan, Matrix Computations, ch. 4).
 * Matrices are row-major `Float64Array`s of length size * size; only the lower triangle is read.
 */

/**
 * Lower factor C of a symmetric positive definite matrix S = C C'.
 * @returns row-major size x size, zero above the diagonal.
 * @throws {RangeError} when the matrix is not positive definite to working precision (a pivot below
 * 1e-13 of its diagonal entry): a relative test, so that the unit of the data does not matter.
 */
export function cholesky(matrix: Float64Array, size: number): Float64Array {
  if (matrix.length !== size * size) {
    throw new RangeError(
      `expected ${size * size} entries for a matrix of size ${size}, got ${matrix.length}`,
    );
  }
  const factor = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    const rowStart = row * size;
    for (let column = 0; column < row; column++) {
      const columnStart = column * size;
      const rest = matrix[rowStart + column]! - dotFrom(factor, rowStart, columnStart, column);
      factor[rowStart + column] = rest / factor[columnStart + column]!;
    }
    const diagonal = matrix[rowStart + row]!;
    const pivot = diagonal - dotFrom(factor, rowStart, rowStart, row);
    if (!(pivot > 1e-13 * diagonal)) {
      throw new RangeError(
        `matrix is not positive definite at row ${row}: pivot ${pivot}, entry ${diagonal}`,
      );
    }
    factor[rowStart + row] = Math.sqrt(pivot);
  }
  return factor;
}

/** Inner product of two runs of one array; four sums let the processor overlap the additions. */
function dotFrom(values: Float64Array, first: number, second: number, length: number): number {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  let k = 0;
  for (; k + 3 < length; k += 4) {
    a += values[first + k]! * values[second + k]!;
    b += values[first + k + 1]! * values[second + k + 1]!;
    c += values[first + k + 2]! * values[second + k + 2]!;
    d += values[first + k + 3]! * values[second + k + 3]!;
  }
  for (; k < length; k++) a += values[first + k]! * values[second + k]!;
  return a + b + (c + d);
}

/** Inner product of two vectors of equal length. */
export function dot(left: Float64Array, right: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < left.length; i++) sum += left[i]! * right[i]!;
  return sum;
}

/** x of C x = right, for a lower factor C. `right` is left untouched. */
export function solveLower(factor: Float64Array, size: number, right: Float64Array): Float64Array {
  const x = new Float64Array(size);
  for (let row = 0; row < size; row++) {
    const start = row * size;
    let rest = right[row]!;
    for (let k = 0; k < row; k++) rest -= factor[start + k]! * x[k]!;
    x[row] = rest / factor[start + row]!;
  }
  return x;
}

/** x of C' x = right, for a lower factor C. `right` is left untouched. */
export function solveLowerTransposed(factor: Float64Array, size: number, right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  for (let row = size - 1; row >= 0; row--) {
    const start = row * size;
    const value = x[row]! / factor[start + row]!;
    x[row] = value;
    for (let k = 0; k < row; k++) x[k] = x[k]! - factor[start + k]! * value;
  }
  return x;
}

/** x of S x = right, where S = C C'. */
export function solveCholesky(factor: Float64Array, size: number, right: Float64Array): Float64Array {
  return solveLowerTransposed(factor, size, solveLower(factor, size, right));
}

/** log |S| for S = C C'. */
export function logDeterminant(factor: Float64Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += Math.log(factor[i * size + i]!);
  return 2 * sum;
}
