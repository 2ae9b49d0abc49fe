/** Which of a few like values lie apart from the rest, and how unlikely that is where none does. */
import { mean, standardDeviation, variance as varianceOf } from "./descriptive.ts";
import { studentTCdf, studentTQuantile } from "./distributions.ts";

export interface LikeValue {
  value: number;
  /** Squared standard error of the value itself, >= 0. */
  variance: number;
}

export interface Outlying {
  /** Value less the mean of the other values that do not lie apart. */
  departure: number;
  /** Two-sided chance of such a departure among values of which none lies apart. */
  pValue: number;
}

/** Chance of a false call in choosing those that the rest is taken from. */
const ALPHA = 0.05;
/** At most this share of the values may lie apart (our judgement). */
const MOST_APART = 0.3;

/**
 * Each value against the others by Student's t, the others without those that lie apart themselves, so that one far value
 * neither hides another nor makes the rest look far. Those that lie apart are chosen by the generalised extreme
 * studentised deviate (Rosner 1983, Technometrics 25:165-172). The others' spread is taken as it is; where a value is less
 * certain than they are, its own error is added.
 * @returns null with fewer than five values
 */
export function outlying(values: readonly LikeValue[]): Outlying[] | null {
  if (values.length < 5) return null;
  const apart = lyingApart(values.map(({ value }) => value));
  return values.map(({ value, variance }, own) => {
    const others = values.filter((_, k) => k !== own && !apart.has(k));
    const centre = mean(others.map((other) => other.value));
    const spread = varianceOf(others.map((other) => other.value));
    const errors = mean(others.map((other) => other.variance));
    const scale = Math.sqrt(spread * (1 + 1 / others.length) + Math.max(0, variance - errors));
    const departure = value - centre;
    if (departure === 0) return { departure, pValue: 1 };
    const t = Math.abs(departure) / scale;
    return { departure, pValue: Math.min(1, 2 * studentTCdf(-t, others.length - 1)) };
  });
}

/** Places of the values that lie apart by Rosner's procedure. */
export function lyingApart(values: readonly number[]): Set<number> {
  const left = new Set(values.keys());
  const taken: number[] = [];
  let apart = 0;
  const most = Math.floor(MOST_APART * values.length);
  for (let step = 1; step <= most; step++) {
    const rest = [...left];
    const numbers = rest.map((k) => values[k]!);
    const [centre, spread] = [mean(numbers), standardDeviation(numbers)];
    if (!(spread > 0)) break;
    let furthest = rest[0]!;
    for (const k of rest) {
      if (Math.abs(values[k]! - centre) > Math.abs(values[furthest]! - centre)) furthest = k;
    }
    const n = rest.length;
    const t = studentTQuantile(1 - ALPHA / (2 * n), n - 2);
    const critical = ((n - 1) * t) / Math.sqrt((n - 2 + t * t) * n);
    taken.push(furthest);
    if (Math.abs(values[furthest]! - centre) / spread > critical) apart = step;
    left.delete(furthest);
  }
  return new Set(taken.slice(0, apart));
}
