/** What can be wrong on an invented field: where, what it changes in the planting, and the cause it goes by. */

import type { Random } from "../../../src/numerics/random.ts";
import type { Cause } from "../../../src/vocabulary/causes.ts";
import { PASS_COUNT, type Way } from "./layout.ts";
import { between } from "./noise.ts";
import type { Planting } from "./response.ts";

/** Soil of an invented field; clay is damp. */
export const CLAY = 0;

export const PLANTING_FAULTS = [
  "low-margin",
  "high-margin",
  "shallow-block",
  "deep-block",
  "uneven-patch",
  "fast-passes",
  "meter-block",
  "rate-block",
] as const;
export type FaultKind = (typeof PLANTING_FAULTS)[number] | "crust";

/** Pairs of which one undoes the other: they cannot be wrong in the same place. */
const OPPOSITES: readonly (readonly FaultKind[])[] = [
  ["low-margin", "high-margin"],
  ["shallow-block", "deep-block"],
];

/** Whether two faults can share a place. */
export function canShareAPlace(one: FaultKind, other: FaultKind): boolean {
  return one !== other && !OPPOSITES.some((pair) => pair.includes(one) && pair.includes(other));
}

export interface Fault {
  kind: FaultKind;
  cause: Cause;
  /** 1 at the moments inside. */
  inside: Uint8Array;
  /** Changes the planting at a moment inside; null where the planting has no part in it. */
  change: ((planting: Planting) => void) | null;
  /** Loss without planting cause, share of target. */
  ownLoss: number;
}

/** A change of the planting too small to hurt, or a harmless one under a crust. */
export function drawDecoy(
  random: Random,
  way: Way,
  inside = patch(random, way),
): Omit<Fault, "kind" | "cause"> {
  const byDepth = random() < 0.5;
  const size = between(random, 0.6, 1);
  const change = (p: Planting): void => {
    if (byDepth) p.depthMm -= 7 * size;
    else p.marginN += 130 * size;
  };
  return { inside, change, ownLoss: 0 };
}

/** Draws a fault of a kind; `inside` puts it on given ground (for two in one place). */
export function drawFault(
  random: Random,
  way: Way,
  soil: Int32Array,
  kind: FaultKind,
  ground: Uint8Array | null = null,
): Fault {
  const size = random();
  const onClay = (mask: Uint8Array): Uint8Array => mask.map((value, i) => (soil[i] === CLAY ? value : 0));
  const make = (cause: Cause, inside: Uint8Array, change: Fault["change"], ownLoss = 0): Fault => ({
    kind,
    cause,
    inside: ground ?? inside,
    change,
    ownLoss,
  });
  switch (kind) {
    case "low-margin":
      return make("lost-ground-contact", onClay(patch(random, way, 60, 110)), (p) => {
        p.marginN = 150 - 110 * size;
        p.marginSdN = 110;
        p.depthMm -= 6 + 6 * size;
        p.depthSdMm += 1.5 + 1.5 * size;
      });
    case "high-margin":
      return make("excess-down-force", onClay(patch(random, way, 60, 110)), (p) => {
        p.marginN = 1030 + 450 * size;
      });
    case "shallow-block":
      return make("too-shallow", block(random, way), (p) => {
        p.depthMm = 31 - 7 * size;
      });
    case "deep-block":
      return make("too-deep", onClay(block(random, way, 5, 9)), (p) => {
        p.depthMm = 74 + 10 * size;
      });
    case "uneven-patch":
      return make("uneven-depth", patch(random, way), (p) => {
        p.depthSdMm += 5.5 + 4 * size;
      });
    case "fast-passes":
      return make("excess-speed", wholePasses(random, way), (p) => {
        p.speedMetresPerSecond = 3.2 + 0.5 * size;
        p.marginN *= 0.75;
        p.marginSdN *= 1.3;
        p.depthSdMm += 3 + 2 * size;
        p.misses += 0.02 + 0.03 * size;
      });
    case "meter-block":
      return make("misses", block(random, way), (p) => {
        p.misses += 0.055 + 0.07 * size;
      });
    case "rate-block":
      return make("rate-off-target", block(random, way), (p) => {
        p.rate -= 0.06 + 0.08 * size;
      });
    case "crust":
      return make("soil-or-weather", patch(random, way), null, 0.05 + 0.1 * size);
  }
}

/** A round patch with a wavy edge. */
function patch(random: Random, way: Way, smallestM = 38, largestM = 85): Uint8Array {
  const centre = Math.floor(random() * way.count);
  const radius = between(random, smallestM, largestM);
  const [waveA, waveB] = [between(random, 0, 6.3), between(random, 0, 6.3)];
  return Uint8Array.from(way.x, (x, i) => {
    const [dx, dy] = [x - way.x[centre]!, way.y[i]! - way.y[centre]!];
    const angle = Math.atan2(dy, dx);
    const edge = radius * (1 + 0.18 * Math.cos(2 * angle + waveA) + 0.1 * Math.cos(3 * angle + waveB));
    return Math.hypot(dx, dy) < edge ? 1 : 0;
  });
}

/** Some passes side by side over a stretch. */
function block(random: Random, way: Way, fewest = 3, most = 6): Uint8Array {
  const passes = Math.round(between(random, fewest, most));
  const first = 1 + Math.floor(random() * (PASS_COUNT - passes + 1));
  const length = between(random, 120, 280);
  const from = random() * (600 - length);
  return Uint8Array.from(way.pass, (pass, i) =>
    pass >= first && pass < first + passes && way.y[i]! >= from && way.y[i]! < from + length ? 1 : 0,
  );
}

function wholePasses(random: Random, way: Way): Uint8Array {
  const passes = 2 + Math.floor(random() * 3);
  const first = 1 + Math.floor(random() * (PASS_COUNT - passes + 1));
  return Uint8Array.from(way.pass, (pass) => (pass >= first && pass < first + passes ? 1 : 0));
}
