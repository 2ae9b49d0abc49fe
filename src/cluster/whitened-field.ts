/** The algebra of the score scan: everything in whitened coordinates, sums over members in place of products. */
import { dot, invertLowerByColumns, solveLower, solveLowerTransposed } from "../numerics/cholesky.ts";
import { extendBasis, removeBasis } from "../numerics/least-squares.ts";

/** A candidate of which less than this share of its length is left beside the zones cannot be told from them. */
const CANDIDATE_TOLERANCE = 0.15;

/** The whitened field with everything explained projected out. */
export class WhitenedField {
  /** 1_W' P 1_W of every candidate. */
  readonly information: Float64Array;
  /** 1_W' S^-1 1_W of every candidate. */
  private readonly total: Float64Array;
  /** Orthonormal basis of the whitened columns explained so far. */
  readonly basis: Float64Array[] = [];
  /** C^-1, column after column. */
  readonly inverse: Float64Array;
  readonly size: number;
  private readonly factor: Float64Array;
  private readonly candidates: readonly Int32Array[];

  constructor(
    factor: Float64Array,
    size: number,
    columns: readonly Float64Array[],
    candidates: readonly Int32Array[],
  ) {
    this.size = size;
    this.factor = factor;
    this.candidates = candidates;
    this.inverse = invertLowerByColumns(factor, size);
    this.total = Float64Array.from(candidates, (members) => this.whitenedNorm(members));
    this.information = Float64Array.from(this.total);
    for (const column of columns) this.explain(solveLower(this.factor, this.size, column));
  }

  /** False when too little of the candidate is left beside the zones and what is projected out. */
  isUsable(index: number): boolean {
    return this.information[index]! > CANDIDATE_TOLERANCE ** 2 * this.total[index]!;
  }

  /** P v for a vector v: its sum over a candidate is 1_W' P v. */
  process(vector: Float64Array): Float64Array {
    const whitened = solveLower(this.factor, this.size, vector);
    removeBasis(this.basis, whitened);
    return solveLowerTransposed(this.factor, this.size, whitened);
  }

  /** Takes one place out of every later test: its own dummy joins X. */
  projectOut(member: number): void {
    this.explain(this.inverse.slice(member * this.size, (member + 1) * this.size));
  }

  private explain(whitenedColumn: Float64Array): void {
    if (!extendBasis(this.basis, whitenedColumn)) return;
    const share = solveLowerTransposed(this.factor, this.size, this.basis.at(-1)!);
    this.candidates.forEach((members, index) => {
      this.information[index] = this.information[index]! - sumAt(share, members) ** 2;
    });
  }

  private whitenedNorm(members: Int32Array): number {
    const sum = new Float64Array(this.size);
    for (const member of members) {
      const start = member * this.size;
      for (let row = member; row < this.size; row++) sum[row] = sum[row]! + this.inverse[start + row]!;
    }
    return dot(sum, sum);
  }
}

/** Sum of the values at the members. */
export function sumAt(values: Float64Array, members: Int32Array): number {
  let sum = 0;
  for (let k = 0; k < members.length; k++) sum += values[members[k]!]!;
  return sum;
}
