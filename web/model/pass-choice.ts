/** Which pass the furrow strip shows for a finding, and which pieces of it lie inside. */
import type { Finding } from "../../src/findings/findings-document.ts";
import { type Ground, positionOf } from "../protocol/ground.ts";
import { boundsOf, isInside } from "./geometry.ts";

/** True for the pieces of ground that lie in the finding. */
export function insideFinding(ground: Ground, finding: Finding, pieces: Iterable<number>): Set<number> {
  const bounds = boundsOf(finding.where.geometry);
  const inside = new Set<number>();
  if (!bounds) return inside;
  for (const i of pieces) {
    const [longitude, latitude] = positionOf(ground, i);
    if (longitude < bounds[0] || longitude > bounds[2] || latitude < bounds[1] || latitude > bounds[3]) {
      continue;
    }
    if (isInside(finding.where.geometry, longitude, latitude)) inside.add(i);
  }
  return inside;
}

/**
 * The pass with the most ground in the finding, one of the end rows only where no other has any; the first of
 * the finding's passes where none is found; null without any.
 */
export function longestPassInside(
  ground: Ground,
  finding: Finding,
  endRows: ReadonlySet<number>,
): number | null {
  const allowed = new Set(finding.where.passes);
  const counted = new Map<number, number>();
  const sampled: number[] = [];
  const step = Math.max(1, Math.floor(ground.count / 20_000));
  for (let i = 0; i < ground.count; i += step) {
    const pass = ground.pass[i]!;
    if (pass > 0 && (allowed.size === 0 || allowed.has(pass))) sampled.push(i);
  }
  for (const i of insideFinding(ground, finding, sampled)) {
    counted.set(ground.pass[i]!, (counted.get(ground.pass[i]!) ?? 0) + 1);
  }
  let best: number | null = finding.where.passes[0] ?? null;
  let most = 0;
  for (const [pass, pieces] of [...counted].sort((a, b) => a[0] - b[0])) {
    const weight = endRows.has(pass) ? pieces / ground.count : pieces;
    if (weight > most) {
      most = weight;
      best = pass;
    }
  }
  return best;
}
