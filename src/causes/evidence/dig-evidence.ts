/**
 * What digs say for or against a cause. Each sign has a chance of being seen under each cause; the chances
 * are our judgement, built from the scouting signs of extension guides (seed leafed out underground: crust;
 * swollen, not sprouted: poor contact or dry; rotted: cool and wet; hollow: insects - Iowa State corn
 * diagnostic guide and North Carolina State scouting list; smeared wall: pressed or planted too wet).
 */
import { THRESHOLDS } from "../../compare/thresholds.ts";
import type { Cause, Sign } from "../../vocabulary/causes.ts";
import type { Digs, Field, LocalPolygon } from "../../vocabulary/field.ts";
import { CAUSE_DEFINITIONS } from "./cause-definitions.ts";
import { distanceToPolygons } from "./place-geometry.ts";

/** Chance that one dig shows the sign when nothing in particular is wrong there (our judgement). */
const BACKGROUND: Record<Sign, number> = {
  "smeared wall": 0.12,
  "leafed out underground": 0.05,
  rotted: 0.06,
  swollen: 0.06,
  hollow: 0.03,
  "dug shallow": 0.1,
  "dug deep": 0.08,
  "open furrow": 0.06,
  "residue in furrow": 0.05,
};

/** Digs of one place are alike: each counts as half an independent look (our judgement). */
const WEIGHT_OF_A_DIG = 0.5;

/**
 * Indices of the digs in a place.
 * @param reachM how far outside the outline a dig still counts: the outline of a place that counts alone show is
 *   known only to about half the distance between counts
 */
export function digsInside(digs: Digs | null, polygons: readonly LocalPolygon[], reachM: number): number[] {
  if (!digs) return [];
  return [...digs.x.keys()].filter((d) => distanceToPolygons(polygons, digs.x[d]!, digs.y[d]!) <= reachM);
}

/** Indices of the digs in the row of a unit. */
export function digsInRow(digs: Digs | null, rowUnit: number): number[] {
  return digs ? [...digs.rowUnit.keys()].filter((d) => digs.rowUnit[d] === rowUnit) : [];
}

/** Middle of the advice for soybeans, 1 to 1.5 in (Iowa State Univ.; Michigan State Univ.), mm. */
const SOYBEAN_DEPTH_MM = 31.75;

/** Depth that dug seed is held against, mm; null without a target, where corn has its own limits. */
export function dugDepthTargetMm({ crop, targets }: Pick<Field, "crop" | "targets">): number | null {
  return targets.seedingDepthMm ?? (crop === "soybean" ? SOYBEAN_DEPTH_MM : null);
}

/** The signs one dig shows; null where the dig did not look (no entry in the file). */
function signsOf(digs: Digs, d: number, targetMm: number | null): Partial<Record<Sign, boolean>> {
  const signs: Partial<Record<Sign, boolean>> = {};
  const smear = digs.smear[d];
  if (smear) signs["smeared wall"] = smear !== "none";
  const state = digs.seedState[d];
  if (state) {
    for (const sign of ["leafed out underground", "rotted", "swollen", "hollow"] as const)
      signs[sign] = state === sign;
  }
  const depth = digs.depthMm[d]!;
  if (!Number.isNaN(depth)) {
    const tolerance = THRESHOLDS.depthTolerance.value;
    signs["dug shallow"] = depth < (targetMm === null ? THRESHOLDS.shallowKnee.value : targetMm - tolerance);
    signs["dug deep"] = depth > (targetMm === null ? THRESHOLDS.deepKnee.value : targetMm + tolerance);
  }
  const furrow = digs.furrow[d];
  if (furrow) {
    signs["open furrow"] = furrow === "open";
    signs["residue in furrow"] = furrow === "residue";
  }
  return signs;
}

/** How many of the digs that looked for a sign saw it; signs that at least a third saw, the commonest first. */
export function signsSeen(
  digs: Digs | null,
  which: readonly number[],
  targetMm: number | null,
): { sign: Sign; seen: number; looked: number }[] {
  if (!digs) return [];
  const all = which.map((d) => signsOf(digs, d, targetMm));
  return (Object.keys(BACKGROUND) as Sign[])
    .map((sign) => ({
      sign,
      seen: all.filter((signs) => signs[sign] === true).length,
      looked: all.filter((signs) => signs[sign] !== undefined).length,
    }))
    .filter((entry) => entry.seen > 0 && 3 * entry.seen >= entry.looked)
    .sort((a, b) => b.seen / b.looked - a.seen / a.looked);
}

/** Log likelihood of the digs under a cause, relative to nothing in particular being wrong. */
export function digLogLikelihood(
  digs: Digs | null,
  which: readonly number[],
  cause: Cause,
  targetMm: number | null,
): number {
  if (!digs) return 0;
  let sum = 0;
  for (const d of which) {
    const signs = signsOf(digs, d, targetMm);
    for (const [sign, seen] of Object.entries(signs) as [Sign, boolean][]) {
      const background = BACKGROUND[sign];
      const chance = CAUSE_DEFINITIONS[cause].signs[sign] ?? background;
      sum += WEIGHT_OF_A_DIG * Math.log(seen ? chance / background : (1 - chance) / (1 - background));
    }
  }
  return sum;
}

/** What the digs say of a deficit that planting does not explain: the commonest telling sign, null where none. */
export function soilDetail(digs: Digs | null, which: readonly number[]): string | null {
  if (!digs) return null;
  const votes = new Map<string, number>();
  const details: Record<string, string> = {
    "leafed out underground": "crust",
    rotted: "cold-wet",
    hollow: "pests",
  };
  for (const d of which) {
    const detail = details[digs.seedState[d] ?? ""];
    if (detail) votes.set(detail, (votes.get(detail) ?? 0) + 1);
  }
  const best = [...votes].sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0]))[0];
  return best && best[1] * 2 >= which.length ? best[0] : null;
}

/** Digs that have to show what only digs can show, before it is weighed as a cause at all (our judgement). */
const FEWEST_SHOWING = 2;

/** What a dig has to show for a cause that leaves no trace in the log; null where it did not look. */
const SHOWN_BY: Readonly<Partial<Record<Cause, (digs: Digs, d: number) => boolean | null>>> = {
  "furrow-not-closed": ({ furrow }, d) => (furrow[d] ? furrow[d] === "open" : null),
  "residue-in-furrow": ({ furrow }, d) => (furrow[d] ? furrow[d] === "residue" : null),
  "dry-seedbed": ({ moisture, seedState }, d) =>
    moisture[d] && seedState[d] ? moisture[d] === "dry" && seedState[d] === "swollen" : null,
};

/** Causes without a trace in the log that two digs or more, and at least half of those that looked, show. */
export function causesShown(digs: Digs | null, which: readonly number[]): Cause[] {
  if (!digs) return [];
  return (Object.keys(SHOWN_BY) as Cause[]).filter((cause) => {
    const looks = which.map((d) => SHOWN_BY[cause]!(digs, d)).filter((look) => look !== null);
    const shown = looks.filter(Boolean).length;
    return shown >= FEWEST_SHOWING && 2 * shown >= looks.length;
  });
}
