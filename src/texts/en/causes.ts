/** What each cause is called. */

/** Short name, as a heading. */
export const causeTitles = {
  "too-shallow": "Set too shallow",
  "too-deep": "Set too deep",
  "uneven-depth": "Depth uneven along the row",
  "lost-ground-contact": "Gauge wheels running light",
  "excess-down-force": "Pressed too hard for the moisture",
  "rate-off-target": "Rate off target",
  misses: "Skips",
  multiples: "Doubles",
  "irregular-spacing": "Irregular spacing",
  "excess-speed": "Too fast for this setup",
  "sensor-fault": "A sensor reads wrong",
  "wheel-traffic": "Tire and track rows",
  "planted-twice": "Planted twice",
  "not-planted": "Not planted",
  "furrow-not-closed": "Furrow left open",
  "residue-in-furrow": "Residue in the furrow",
  "dry-seedbed": "Seed lay dry",
  "worn-row-unit": "Worn row unit",
  "seed-lot": "Seed lot",
  "not-in-the-log": "Short, and the log does not say why",
  "soil-or-weather": "The ground or the weather",
  undetermined: "Can't tell yet",
};

/** The same within a sentence or a list. */
export const causePhrases = {
  "too-shallow": "seed set too shallow",
  "too-deep": "seed set too deep",
  "uneven-depth": "uneven depth along the row",
  "lost-ground-contact": "gauge wheels running light",
  "excess-down-force": "pressing too hard for the moisture",
  "rate-off-target": "a seeding rate off its target",
  misses: "skips",
  multiples: "doubles",
  "irregular-spacing": "irregular spacing",
  "excess-speed": "driving too fast for this setup",
  "sensor-fault": "a sensor that reads wrong",
  "wheel-traffic": "tire or track traffic",
  "planted-twice": "ground planted twice",
  "not-planted": "ground left unplanted",
  "furrow-not-closed": "a furrow left open",
  "residue-in-furrow": "residue in the furrow",
  "dry-seedbed": "a dry seedbed",
  "worn-row-unit": "a worn row unit",
  "seed-lot": "the seed lot",
  "not-in-the-log": "something this log does not show (ground, weather, seed, closing, pests)",
  "soil-or-weather": "the ground or the weather",
  undetermined: "something not seen here",
};

/** What is meant by it, exactly. */
export const causeDefinitions = {
  "too-shallow": "actual seeding depth below the target while the gauge wheels carry load",
  "too-deep": "actual seeding depth beyond the target in ground where deep seed is slow",
  "uneven-depth": "spread (SD) of seeding depth along the row above the ordinary",
  "lost-ground-contact": "down-force margin so low that gauge wheels lose the ground part of the time",
  "excess-down-force":
    "down-force margin above what the ground bears at its moisture: the furrow wall is packed",
  "rate-off-target": "population dropped differs from the target population",
  misses: "misses: seeds the meter did not deliver (ISO 7256-1)",
  multiples: "multiples: two or more seeds where one belongs (ISO 7256-1)",
  "irregular-spacing": "spread of plant spacing beyond what misses and multiples explain",
  "excess-speed": "speed at which load, depth and metering begin to bounce",
  "sensor-fault": "the reading departs, plants and digs do not",
  "wheel-traffic": "the rows behind tires or tracks, or on the end rows, differ as a set",
  "planted-twice": "footprints of two passes overlap",
  "not-planted": "a strip without a footprint",
  "furrow-not-closed": "dug furrows not closed over the seed",
  "residue-in-furrow": "residue pushed into the seed furrow",
  "dry-seedbed": "seed swollen or hard in dry soil",
  "worn-row-unit": "worn opener discs, arms or bushings of one unit",
  "seed-lot": "the deficit follows the seed lot",
  "not-in-the-log":
    "a real deficit that nothing in this log explains: ground, weather, seed, closing, residue, pests are all open",
  "soil-or-weather":
    "a deficit that nothing in the log explains, where digs, weather or ground wet by nature speak for it",
  undetermined: "no cause reaches a probability of 0.7",
};

/** What digs, lots, weather or the log add to a cause, as a heading. */
export const causeDetails = {
  "above-target": "Rate above its target",
  "unlike-the-rest": "Planted unlike the rest of the field",
  crust: "Crust over the seed",
  "cold-wet": "Cold, wet ground",
  ponded: "Ponded water",
  pests: "Insects",
  injury: "Chemical or fertiliser injury",
};
