/**
 * Score scan: which candidate places have fewer plants than the soil zones and the field's own patchiness
 * can account for, with the chance of one false alarm over all candidates held down.
 *
 * With stand ratio y = X b + e, e ~ N(0, S), and P = S^-1 - S^-1 X (X' S^-1 X)^-1 X' S^-1, a place W has
 * deficit -(1_W' P y) / (1_W' P 1_W) and score Z = -(1_W' P y) / sqrt(1_W' P 1_W) (score test of generalised
 * least squares: Rao 1948, Proc. Camb. Phil. Soc. 44:50-57; scan: Kulldorff 1997, Commun. Stat. 26:1481-1496).
 * With no group at all the whitened y is N(0, I), so the law of the largest score over all candidates is
 * simulated exactly (maximum statistic: Westfall & Young 1993). After a group is found, its points and the
 * ring about them are projected out and the search goes on.
 */
import type { Neighbours } from "./neighbours.ts";
import { outlineGroup, ringAround } from "./outline.ts";
import { simulateMaxima } from "./simulated-maxima.ts";
import { sumAt, WhitenedField } from "./whitened-field.ts";

/** Guided candidates come from the planting log, free ones from geometry alone. */
export type CandidateFamily = "guided" | "free";

export interface Candidate {
  family: CandidateFamily;
  /** Indices of the points (or cells) inside, ascending. */
  members: Int32Array;
  /** What the candidate stands for, handed through to the group: the factors of a guided one, a shape's name. */
  label: string;
  /** Smallest deficit of this candidate, share of target stand, where it is more than that of all. */
  minimumDeficit?: number;
}

export interface ScanInput {
  /** Stand ratio (plants / target) at each point. */
  response: Float64Array;
  /** Columns of X: soil-zone dummies, each as long as the response. */
  columns: readonly Float64Array[];
  /** Lower Cholesky factor of S, row-major. */
  factor: Float64Array;
  candidates: readonly Candidate[];
  /** Who lies beside whom, for the outline of a group and the ring about it. */
  neighbours: Neighbours;
  /** Zone-adjusted response for drawing outlines (see the zone model), same length. */
  adjusted: Float64Array;
}

export interface ScanOptions {
  /** Seed of the simulations; take it from the input so that the same input gives the same answer. */
  seed: number;
  /** Simulated fields without any group. */
  simulations: number;
  /** Chance of one false alarm over the whole field. */
  alpha: number;
  /** Smallest deficit reported, share of target stand: smaller ones are of no use to a grower (our judgement). */
  minimumDeficit: number;
  /** The free family's scores are divided by this: the covariance is itself estimated (measured on simulated fields). */
  inflation: number;
  /** The guided family's share of alpha where both families have candidates. */
  guidedShare: number;
}

export const SCAN_DEFAULTS: Omit<ScanOptions, "seed"> = {
  simulations: 999,
  alpha: 0.05,
  minimumDeficit: 0.03,
  inflation: 1.15,
  guidedShare: 0.5,
};

export interface ScanGroup {
  /** Index into the candidates. */
  candidate: number;
  family: CandidateFamily;
  label: string;
  /** The tested points. */
  members: Int32Array;
  /** The points drawn as the group: connected low ones in and about the tested place. */
  outline: Int32Array;
  /** Deficit over the tested place, share of target stand, positive where plants are missing, and its standard error. */
  deficit: number;
  standardError: number;
  /** Score Z as defined above (before the inflation). */
  score: number;
  /** Chance of a score this large anywhere on a field without groups; holds over both families. */
  pValue: number;
}

export interface ScanResult {
  groups: ScanGroup[];
  /** Candidates that could be told apart from the zones, by family. */
  tested: Record<CandidateFamily, number>;
  /** Score a candidate must pass (inflation included), by family; null where the family is empty. */
  critical: Record<CandidateFamily, number | null>;
}

/** A further group may share this part of its points with what is explained already. */
const LARGEST_OVERLAP = 0.2;

/**
 * Finds groups, strongest first.
 * @throws {RangeError} when lengths do not agree.
 */
export function scanForGroups(
  input: ScanInput,
  options: Partial<ScanOptions> & { seed: number },
): ScanResult {
  const settings = { ...SCAN_DEFAULTS, ...options };
  const size = input.response.length;
  if (input.factor.length !== size * size) throw new RangeError("the factor does not fit the response");
  const state = new WhitenedField(
    input.factor,
    size,
    input.columns,
    input.candidates.map(({ members }) => members),
  );
  const usable = input.candidates.map((_, index) => state.isUsable(index));
  const countOf = (family: CandidateFamily): number =>
    input.candidates.filter((candidate, index) => usable[index] && candidate.family === family).length;
  const tested = { guided: countOf("guided"), free: countOf("free") };
  const result: ScanResult = { groups: [], tested, critical: { guided: null, free: null } };
  if (tested.guided + tested.free === 0) return result;

  const share = {
    guided: tested.free === 0 ? 1 : settings.guidedShare,
    free: tested.guided === 0 ? 1 : 1 - settings.guidedShare,
  };
  const inflation = { guided: 1, free: settings.inflation };
  const maxima = simulateMaxima(state, input.candidates, usable, settings);
  const pValueOf = (family: CandidateFamily, score: number): number =>
    Math.min(1, upperShare(maxima[family], score / inflation[family]) / share[family]);
  for (const family of ["guided", "free"] as const) {
    if (tested[family] > 0) {
      const rank = Math.floor((1 + settings.simulations) * (1 - settings.alpha * share[family]));
      const index = Math.min(settings.simulations, rank) - 1;
      result.critical[family] = maxima[family][index]! * inflation[family];
    }
  }

  const explained = new Uint8Array(size);
  const inGuided = new Uint8Array(size);
  for (const { family, members } of input.candidates) {
    if (family === "guided") for (const member of members) inGuided[member] = 1;
  }
  const taken = new Set<number>();
  for (;;) {
    const process = state.process(input.response);
    const passing: { index: number; score: number; deficit: number; ratio: number; pValue: number }[] = [];
    input.candidates.forEach((candidate, index) => {
      if (!usable[index] || taken.has(index) || !state.isUsable(index)) return;
      if (shareMarked(candidate.members, explained) > LARGEST_OVERLAP) return;
      const information = state.information[index]!;
      const total = sumAt(process, candidate.members);
      const deficit = -total / information;
      const score = -total / Math.sqrt(information);
      if (deficit < Math.max(settings.minimumDeficit, candidate.minimumDeficit ?? 0)) return;
      const pValue = pValueOf(candidate.family, score);
      if (pValue > settings.alpha) return;
      passing.push({ index, score, deficit, ratio: score / result.critical[candidate.family]!, pValue });
    });
    const best = choose(passing, input.candidates);
    if (!best) return result;
    const candidate = input.candidates[best.index]!;
    // Points that the log puts into another place are left to it, here and in the ring below.
    const elsewhere = explained.map((value, point) => (value || inGuided[point] ? 1 : 0));
    for (const member of candidate.members) elsewhere[member] = explained[member]!;
    const outline = outlineGroup(candidate.members, input.adjusted, input.neighbours, elsewhere);
    result.groups.push({
      candidate: best.index,
      family: candidate.family,
      label: candidate.label,
      members: candidate.members,
      outline,
      deficit: best.deficit,
      standardError: 1 / Math.sqrt(state.information[best.index]!),
      score: best.score,
      pValue: best.pValue,
    });
    taken.add(best.index);
    const ring = ringAround(candidate.members, outline, input.neighbours).filter((point) => !inGuided[point]);
    for (const set of [candidate.members, outline, ring]) {
      for (const member of set) {
        explained[member] = 1;
        state.projectOut(member);
      }
    }
  }
}

/** The candidate furthest above its critical value; a guided one that covers about the same ground goes first. */
function choose<T extends { index: number; ratio: number }>(
  passing: readonly T[],
  candidates: readonly Candidate[],
): T | undefined {
  const strongest = (list: readonly T[]): T | undefined =>
    list.reduce<T | undefined>((best, item) => (best && best.ratio >= item.ratio ? best : item), undefined);
  const best = strongest(passing);
  if (!best || candidates[best.index]!.family === "guided") return best;
  const own = candidates[best.index]!.members;
  const inside = new Set(own);
  const guided = passing.filter(({ index }) => {
    const { family, members } = candidates[index]!;
    if (family !== "guided") return false;
    const shared = members.reduce((count, member) => count + (inside.has(member) ? 1 : 0), 0);
    return shared >= 0.5 * Math.min(members.length, own.length);
  });
  return strongest(guided) ?? best;
}

/** (1 + number of values at or above the score) / (1 + number of values); values ascending. */
function upperShare(ascending: Float64Array, score: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! < score) low = middle + 1;
    else high = middle;
  }
  return (1 + ascending.length - low) / (1 + ascending.length);
}

function shareMarked(members: Int32Array, marked: Uint8Array): number {
  let count = 0;
  for (const member of members) count += marked[member]!;
  return count / members.length;
}
