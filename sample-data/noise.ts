/** Noise of the invented field: what hangs together from place to place, and separate random streams. */
import { normal, type Random, seededRandom } from "../src/numerics/random.ts";

/** Numbers of the independent random streams, so that a change in one part leaves the others as they are. */
const STREAMS = {
  rows: 1,
  log: 2,
  logFields: 3,
  standField: 4,
  counts: 5,
  digs: 6,
  weather: 7,
  places: 8,
} as const;

/** The random stream of one part of the generator. The upper bits of the seed tell the streams apart. */
export function streamOf(seed: number, stream: keyof typeof STREAMS): Random {
  return seededRandom((seed >>> 0) + STREAMS[stream] * 4294967296);
}

/** A smooth random surface: mean 0, SD 1 at any position (m, m). */
export type SmoothField = (u: number, v: number) => number;

/**
 * Smooth field with correlation exp(-3 d2 / range2): 0.05 at the range, as the sum of cosine waves with
 * random direction and length (random Fourier features, Rahimi & Recht 2007).
 */
export function smoothField(random: Random, rangeM: number): SmoothField {
  const waves = 64;
  const waveNumberSd = Math.sqrt(6) / rangeM;
  const kU = Float64Array.from({ length: waves }, () => waveNumberSd * normal(random));
  const kV = Float64Array.from({ length: waves }, () => waveNumberSd * normal(random));
  const phase = Float64Array.from({ length: waves }, () => 2 * Math.PI * random());
  const scale = Math.sqrt(2 / waves);
  return (u, v) => {
    let sum = 0;
    for (let wave = 0; wave < waves; wave++) sum += Math.cos(kU[wave]! * u + kV[wave]! * v + phase[wave]!);
    return scale * sum;
  };
}

/** Number of successes in `trials` tries of the given chance; by counting, exact. */
export function binomial(random: Random, trials: number, chance: number): number {
  let successes = 0;
  for (let trial = 0; trial < trials; trial++) if (random() < chance) successes++;
  return successes;
}

/** One entry of a list, all equally likely. */
export function pick<T>(random: Random, list: readonly T[]): T {
  return list[Math.floor(random() * list.length)] as T;
}
