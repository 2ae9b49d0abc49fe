/** Each cause by a farmer's name, with what it means one step behind. */
import type { MeasuredKey } from "../findings/findings-document.ts";
import type { Cause, FindingKind } from "../vocabulary/causes.ts";

export interface CauseName {
  /** Short name on the page. */
  title: string;
  /** The same, as part of a sentence ("what else could do it: ..."). */
  phrase: string;
  /** Technical definition. */
  definition: string;
  /** Figures that speak for it, most telling first; null where the log says nothing of it. */
  telling: readonly MeasuredKey[] | null;
  /** The check to make in the field before money is spent. */
  check(place: CheckedPlace): string;
  /** What has to be minded before anyone acts on it. */
  caution: Caution;
}

/** What the wording of a check depends on. */
export interface CheckedPlace {
  kind: FindingKind;
  detail: string | null;
  /** True where it departs by row unit or section. */
  byRow: boolean;
  /** Its row units, "3 to 5 and 9". */
  units: string;
}

/** `machine`: reaching under a planter; `dig`: treated seed; `dig-and-stand`: that, and working or destroying a stand. */
export type Caution = "machine" | "dig" | "dig-and-stand";

export const CAUSE_NAMES: Record<Cause, CauseName> = {
  "too-shallow": {
    title: "Set too shallow",
    phrase: "seed set too shallow",
    definition: "actual seeding depth below the target while the gauge wheels carry load",
    telling: ["seedingDepthMm", "dugDepthMm"],
    check: depthCheck,
    caution: "machine",
  },
  "too-deep": {
    title: "Set too deep",
    phrase: "seed set too deep",
    definition: "actual seeding depth beyond the target in ground where deep seed is slow",
    telling: ["seedingDepthMm", "dugDepthMm"],
    check: depthCheck,
    caution: "machine",
  },
  "uneven-depth": {
    title: "Depth uneven along the row",
    phrase: "uneven depth along the row",
    definition: "spread (SD) of seeding depth along the row above the ordinary",
    telling: ["depthSdMm"],
    check: () => "Dig ten seeds in a run along one row and write down each depth.",
    caution: "machine",
  },
  "lost-ground-contact": {
    title: "Gauge wheels running light",
    phrase: "gauge wheels running light",
    definition: "down-force margin so low that gauge wheels lose the ground part of the time",
    telling: ["downForceMarginN", "noLoadShare", "seedingDepthMm", "dugDepthMm"],
    check: () =>
      "Dig ten seeds here and ten on ordinary ground next to it, same row units: depth and soil around the seed.",
    caution: "machine",
  },
  "excess-down-force": {
    title: "Pressed too hard for the moisture",
    phrase: "pressing too hard for the moisture",
    definition: "down-force margin above what the ground bears at its moisture: the furrow wall is packed",
    telling: ["downForceMarginN", "dugDepthMm"],
    check: () =>
      "Dig here and look at the furrow wall: a shiny, smeared side that roots follow instead of crossing. Squeeze a ball of soil from seed depth: putty means wait.",
    caution: "machine",
  },
  "rate-off-target": {
    title: "Rate off target",
    phrase: "a seeding rate off its target",
    definition: "population dropped differs from the target population",
    telling: ["populationPerHa"],
    check: ({ byRow }) =>
      `Count plants over 1/1000 acre ${byRow ? "in this row and the next" : "here and outside"}, and compare with the seeds in the log.`,
    caution: "machine",
  },
  misses: {
    title: "Skips",
    phrase: "skips",
    definition: "misses: seeds the meter did not deliver (ISO 7256-1)",
    telling: ["missesShare", "populationPerHa"],
    check: gapCheck,
    caution: "machine",
  },
  multiples: {
    title: "Doubles",
    phrase: "doubles",
    definition: "multiples: two or more seeds where one belongs (ISO 7256-1)",
    telling: ["multiplesShare"],
    check: gapCheck,
    caution: "machine",
  },
  "irregular-spacing": {
    title: "Irregular spacing",
    phrase: "irregular spacing",
    definition: "spread of plant spacing beyond what misses and multiples explain",
    telling: null,
    check: gapCheck,
    caution: "machine",
  },
  "excess-speed": {
    title: "Too fast for this setup",
    phrase: "driving too fast for this setup",
    definition: "speed at which load, depth and metering begin to bounce",
    telling: ["speedMetresPerSecond", "missesShare", "depthSdMm"],
    check: () => "Dig ten seeds in a row here and ten where it was driven slower: depth, gaps and doubles.",
    caution: "machine",
  },
  "sensor-fault": {
    title: "A sensor reads wrong",
    phrase: "a sensor that reads wrong",
    definition: "the reading departs, plants and digs do not",
    telling: ["populationPerHa", "missesShare"],
    check: ({ units }) =>
      `Count plants over 1/1000 acre in row ${units} and in the rows beside it: where they agree the sensor is wrong, not the meter.`,
    caution: "machine",
  },
  "wheel-traffic": {
    title: "Tire and track rows",
    phrase: "tire or track traffic",
    definition: "the rows behind tires or tracks, or on the end rows, differ as a set",
    telling: ["seedingDepthMm", "downForceMarginN", "noLoadShare", "dugDepthMm"],
    check: ({ byRow, units }) =>
      byRow
        ? `Dig ten seeds in rows ${units} and ten in the rows beside them: depth, and how hard the soil is around the seed.`
        : "Dig ten seeds on the end rows and ten a bar further in: depth, and how hard the soil is.",
    caution: "machine",
  },
  "planted-twice": {
    title: "Planted twice",
    phrase: "ground planted twice",
    definition: "footprints of two passes overlap",
    telling: null,
    check: () => "Walk there and look for rows that cross or lie closer than the row spacing.",
    caution: "machine",
  },
  "not-planted": {
    title: "Not planted",
    phrase: "ground left unplanted",
    definition: "a strip without a footprint",
    telling: null,
    check: () =>
      "Walk there: a waterway, a pond or a tree line is no fault, cut it out of the boundary; plants standing mean that the log has a gap.",
    caution: "machine",
  },
  "furrow-not-closed": {
    title: "Furrow left open",
    phrase: "a furrow left open",
    definition: "dug furrows not closed over the seed",
    telling: null,
    check: digHere,
    caution: "machine",
  },
  "residue-in-furrow": {
    title: "Residue in the furrow",
    phrase: "residue in the furrow",
    definition: "residue pushed into the seed furrow",
    telling: null,
    check: digHere,
    caution: "machine",
  },
  "dry-seedbed": {
    title: "Seed lay dry",
    phrase: "a dry seedbed",
    definition: "seed swollen or hard in dry soil",
    telling: null,
    check: digHere,
    caution: "machine",
  },
  "worn-row-unit": {
    title: "Worn row unit",
    phrase: "a worn row unit",
    definition: "worn opener discs, arms or bushings of one unit",
    telling: null,
    check: digHere,
    caution: "machine",
  },
  "seed-lot": {
    title: "Seed lot",
    phrase: "the seed lot",
    definition: "the deficit follows the seed lot",
    telling: null,
    check: digHere,
    caution: "machine",
  },
  "not-in-the-log": {
    title: "Short, and the log does not say why",
    phrase: "something this log does not show (ground, weather, seed, closing, pests)",
    definition:
      "a real deficit that nothing in this log explains: ground, weather, seed, closing, residue, pests are all open",
    telling: null,
    check: groundCheck,
    caution: "dig-and-stand",
  },
  "soil-or-weather": {
    title: "The ground or the weather",
    phrase: "the ground or the weather",
    definition:
      "a deficit that nothing in the log explains, where digs, weather or ground wet by nature speak for it",
    telling: null,
    check: groundCheck,
    caution: "dig-and-stand",
  },
  undetermined: {
    title: "Can't tell yet",
    phrase: "something not seen here",
    definition: "no cause reaches a probability of 0.7",
    telling: null,
    check: digHere,
    caution: "dig",
  },
};

function digHere(): string {
  return "Dig here and ten steps outside, in the same row units: depth, furrow wall and state of each seed decide it.";
}

function depthCheck({ kind, units }: CheckedPlace): string {
  return kind === "row-unit"
    ? `Set the planter on a level floor and compare unit ${units} with its neighbours on blocks of the target depth; dig ten seeds of this row and ten of the next.`
    : "Dig ten seeds here and ten outside; compare with the target.";
}

function gapCheck(): string {
  return "Measure forty plant gaps in a row here and in the next row.";
}

function groundCheck({ detail }: CheckedPlace): string {
  return detail === "crust"
    ? "Dig along a bare stretch: seed leafed out or bent beneath a hard layer is crust."
    : "Dig along a bare stretch and write down depth and state of every seed.";
}

/** Farmer's names of the details that digs, lots, weather or the log add to a cause. */
export const DETAIL_NAMES: Record<string, string> = {
  "above-target": "Rate above its target",
  "unlike-the-rest": "Planted unlike the rest of the field",
  crust: "Crust over the seed",
  "cold-wet": "Cold, wet ground",
  ponded: "Ponded water",
  pests: "Insects",
  injury: "Chemical or fertiliser injury",
};
