/** Each cause by a farmer's name, with what it means one step behind. */
import type { Cause } from "../causes/causes.ts";

export interface CauseName {
  /** Short name on the page. */
  title: string;
  /** The same, as part of a sentence ("what else could do it: ..."). */
  phrase: string;
  /** Technical definition. */
  definition: string;
}

export const CAUSE_NAMES: Record<Cause, CauseName> = {
  "too-shallow": {
    title: "Set too shallow",
    phrase: "seed set too shallow",
    definition: "actual seeding depth below the target while the gauge wheels carry load",
  },
  "too-deep": {
    title: "Set too deep",
    phrase: "seed set too deep",
    definition: "actual seeding depth beyond the target in ground where deep seed is slow",
  },
  "uneven-depth": {
    title: "Depth uneven along the row",
    phrase: "uneven depth along the row",
    definition: "spread (SD) of seeding depth along the row above the ordinary",
  },
  "lost-ground-contact": {
    title: "Gauge wheels running light",
    phrase: "gauge wheels running light",
    definition: "down-force margin so low that gauge wheels lose the ground part of the time",
  },
  "excess-down-force": {
    title: "Pressed too hard for the moisture",
    phrase: "pressing too hard for the moisture",
    definition: "down-force margin above what the ground bears at its moisture: the furrow wall is packed",
  },
  "rate-off-target": {
    title: "Rate off target",
    phrase: "a seeding rate off its target",
    definition: "population dropped differs from the target population",
  },
  misses: {
    title: "Skips",
    phrase: "skips",
    definition: "misses: seeds the meter did not deliver (ISO 7256-1)",
  },
  multiples: {
    title: "Doubles",
    phrase: "doubles",
    definition: "multiples: two or more seeds where one belongs (ISO 7256-1)",
  },
  "irregular-spacing": {
    title: "Irregular spacing",
    phrase: "irregular spacing",
    definition: "spread of plant spacing beyond what misses and multiples explain",
  },
  "excess-speed": {
    title: "Too fast for this setup",
    phrase: "driving too fast for this setup",
    definition: "speed at which load, depth and metering begin to bounce",
  },
  "sensor-fault": {
    title: "A sensor reads wrong",
    phrase: "a sensor that reads wrong",
    definition: "the reading departs, plants and digs do not",
  },
  "wheel-traffic": {
    title: "Tire and track rows",
    phrase: "tire or track traffic",
    definition: "the rows behind tires or tracks, or on the end rows, differ as a set",
  },
  "planted-twice": {
    title: "Planted twice",
    phrase: "ground planted twice",
    definition: "footprints of two passes overlap",
  },
  "not-planted": {
    title: "Not planted",
    phrase: "ground left unplanted",
    definition: "a strip without a footprint",
  },
  "furrow-not-closed": {
    title: "Furrow left open",
    phrase: "a furrow left open",
    definition: "dug furrows not closed over the seed",
  },
  "residue-in-furrow": {
    title: "Residue in the furrow",
    phrase: "residue in the furrow",
    definition: "residue pushed into the seed furrow",
  },
  "dry-seedbed": {
    title: "Seed lay dry",
    phrase: "a dry seedbed",
    definition: "seed swollen or hard in dry soil",
  },
  "worn-row-unit": {
    title: "Worn row unit",
    phrase: "a worn row unit",
    definition: "worn opener discs, arms or bushings of one unit",
  },
  "seed-lot": {
    title: "Seed lot",
    phrase: "the seed lot",
    definition: "the deficit follows the seed lot",
  },
  "not-in-the-log": {
    title: "Short, and the log does not say why",
    phrase: "something this log does not show (ground, weather, seed, closing, pests)",
    definition:
      "a real deficit that nothing in this log explains: ground, weather, seed, closing, residue, pests are all open",
  },
  "soil-or-weather": {
    title: "The ground or the weather",
    phrase: "the ground or the weather",
    definition:
      "a deficit that nothing in the log explains, where digs, weather or ground wet by nature speak for it",
  },
  undetermined: {
    title: "Can't tell yet",
    phrase: "something not seen here",
    definition: "no cause reaches a probability of 0.7",
  },
};

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
