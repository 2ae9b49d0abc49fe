/** The law of the largest score on a field without groups, by simulation: the whitened stand is then N(0, I). */
import { removeBasis } from "../numerics/least-squares.ts";
import { fillNormal, seededRandom } from "../numerics/random.ts";
import type { Candidate, CandidateFamily } from "./score-scan.ts";
import type { WhitenedField } from "./whitened-field.ts";

/** Fields simulated side by side, so that each entry of the inverse is fetched once for all of them. */
const SIDE_BY_SIDE = 4;

/** Largest score of each family on each simulated field, ascending; -Infinity where the family has no candidate. */
export function simulateMaxima(
  field: WhitenedField,
  candidates: readonly Candidate[],
  usable: readonly boolean[],
  settings: { seed: number; simulations: number },
): Record<CandidateFamily, Float64Array> {
  const random = seededRandom(settings.seed);
  const rounds = Math.ceil(settings.simulations / SIDE_BY_SIDE);
  const maxima = {
    guided: new Float64Array(rounds * SIDE_BY_SIDE).fill(Number.NEGATIVE_INFINITY),
    free: new Float64Array(rounds * SIDE_BY_SIDE).fill(Number.NEGATIVE_INFINITY),
  };
  const noise = new Float64Array(field.size);
  const whitened = new Float64Array(field.size * SIDE_BY_SIDE);
  const process = new Float64Array(field.size * SIDE_BY_SIDE);
  for (let round = 0; round < rounds; round++) {
    for (let side = 0; side < SIDE_BY_SIDE; side++) {
      fillNormal(random, noise);
      removeBasis(field.basis, noise);
      for (let i = 0; i < field.size; i++) whitened[i * SIDE_BY_SIDE + side] = noise[i]!;
    }
    unwhitenFour(field.inverse, field.size, whitened, process);
    candidates.forEach(({ family, members }, index) => {
      if (!usable[index]) return;
      raiseFour(
        maxima[family],
        round * SIDE_BY_SIDE,
        process,
        members,
        -1 / Math.sqrt(field.information[index]!),
      );
    });
  }
  return {
    guided: maxima.guided.subarray(0, settings.simulations).sort(),
    free: maxima.free.subarray(0, settings.simulations).sort(),
  };
}

/** C^-T times four interleaved vectors, by the columns of C^-1. */
function unwhitenFour(inverse: Float64Array, size: number, whitened: Float64Array, out: Float64Array): void {
  for (let column = 0; column < size; column++) {
    let [a, b, c, d] = [0, 0, 0, 0];
    const start = column * size;
    for (let row = column; row < size; row++) {
      const entry = inverse[start + row]!;
      const at = row * SIDE_BY_SIDE;
      a += entry * whitened[at]!;
      b += entry * whitened[at + 1]!;
      c += entry * whitened[at + 2]!;
      d += entry * whitened[at + 3]!;
    }
    const at = column * SIDE_BY_SIDE;
    out[at] = a;
    out[at + 1] = b;
    out[at + 2] = c;
    out[at + 3] = d;
  }
}

/** Raises four running maxima to the scores of one candidate. */
function raiseFour(
  maxima: Float64Array,
  first: number,
  process: Float64Array,
  members: Int32Array,
  scale: number,
): void {
  let [a, b, c, d] = [0, 0, 0, 0];
  for (let k = 0; k < members.length; k++) {
    const at = members[k]! * SIDE_BY_SIDE;
    a += process[at]!;
    b += process[at + 1]!;
    c += process[at + 2]!;
    d += process[at + 3]!;
  }
  if (a * scale > maxima[first]!) maxima[first] = a * scale;
  if (b * scale > maxima[first + 1]!) maxima[first + 1] = b * scale;
  if (c * scale > maxima[first + 2]!) maxima[first + 2] = c * scale;
  if (d * scale > maxima[first + 3]!) maxima[first + 3] = d * scale;
}
