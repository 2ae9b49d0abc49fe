/** Places on an invented field: patches, blocks of passes, whole passes; and the sites at which truth is kept. */
import { between, type Chance } from "./chance.ts";
import type { Ground, Spot } from "./ground.ts";

export type Inside = (spot: Spot) => boolean;

/** Way between the sites at which truth is kept, m. */
const SITE_STEP_M = 10;

/** A round patch with a wavy edge. */
export function patch(chance: Chance, ground: Ground, smallestM: number, largestM: number): Inside {
  const [x, y] = [
    between(chance, 0.08, 0.92) * ground.widthM,
    between(chance, 0.08, 0.92) * ground.spec.lengthM,
  ];
  const radius = between(chance, smallestM, largestM);
  const stretch = between(chance, 0.75, 1.35);
  const [one, other] = [between(chance, 0, 6.28), between(chance, 0, 6.28)];
  return (spot) => {
    const [dx, dy] = [(spot.across - x) * stretch, (spot.along - y) / stretch];
    const angle = Math.atan2(dy, dx);
    return (
      Math.hypot(dx, dy) < radius * (1 + 0.16 * Math.cos(2 * angle + one) + 0.1 * Math.cos(3 * angle + other))
    );
  };
}

/** Passes side by side over a stretch. */
export function block(chance: Chance, ground: Ground): Inside {
  const passes = Math.max(3, Math.round(between(chance, 45, 95) / ground.barM));
  const first = 1 + Math.floor(chance() * (ground.spec.passCount - passes));
  const length = between(chance, 130, 260);
  const from = chance() * (ground.spec.lengthM - length);
  return ({ pass, along }) =>
    pass >= first && pass < first + passes && along >= from && along < from + length;
}

/** Passes side by side from end to end. */
export function wholePasses(chance: Chance, ground: Ground): Inside {
  const passes = Math.max(2, Math.round(between(chance, 24, 50) / ground.barM));
  const first = 1 + Math.floor(chance() * (ground.spec.passCount - passes));
  return ({ pass }) => pass >= first && pass < first + passes;
}

/** Sites over the whole field: each pass, every 10 m, the middle of each quarter of the bar. */
export function sitesOf(ground: Ground): Spot[] {
  const rows = [0.125, 0.375, 0.625, 0.875].map((share) => Math.ceil(share * ground.rows));
  const sites: Spot[] = [];
  for (let pass = 1; pass <= ground.spec.passCount; pass++) {
    for (let along = SITE_STEP_M / 2; along < ground.spec.lengthM; along += SITE_STEP_M)
      for (const row of rows) sites.push(ground.spotAt(pass, row, along));
  }
  return sites;
}

/** Whether a site inside one lies within a distance of one inside the other; every fourth site is looked at. */
export function liesNear(sites: readonly Spot[], one: Inside, other: Inside, distanceM: number): boolean {
  const few = sites.filter((_, k) => k % 4 === 0);
  const others = few.filter(other);
  return few
    .filter(one)
    .some((a) => others.some((b) => Math.hypot(a.across - b.across, a.along - b.along) < distanceM));
}
