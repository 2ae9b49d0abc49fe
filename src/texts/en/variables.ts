/** Quantities of planting as sentences and lists name them. */

export const variableNames = {
  seedingDepth: "seeding depth",
  downForceMargin: "gauge-wheel load",
  downForce: "down force added",
  groundContact: "ground contact",
  singulation: "singulation",
  multiples: "doubles",
  misses: "skips",
  population: "seeds dropped",
  speed: "speed",
  acceleration: "change of speed",
  spacingVariation: "spacing variation",
  depthSd: "spread of depth along the row",
  marginP10: "gauge-wheel load at its lightest",
  noLoad: "readings without load",
};

/** In a narrow place. */
export const variableShortNames = {
  seedingDepth: "depth",
  downForceMargin: "load",
  downForce: "force",
  groundContact: "contact",
  singulation: "singulation",
  multiples: "doubles",
  misses: "skips",
  population: "rate",
  speed: "speed",
  acceleration: "change of speed",
  spacingVariation: "spacing",
  depthSd: "spread of depth",
  marginP10: "lightest load",
  noLoad: "without load",
};

/** Figures of counts and digs. */
export const countedNames = {
  dugDepthMm: "dug depth",
  standPerHa: "plants standing",
  lateShare: "plants late",
};
