/** The remedies a cost may be given for in `prices.remedies`. */
export const REMEDY_CODES = [
  "raise-margin",
  "lower-margin",
  "set-depth",
  "repair-row-unit",
  "check-depth-control",
  "slow-down",
  "service-meter",
  "set-rate",
  "clean-sensor",
  "move-traffic",
  "shut-off-rows",
  "check-guidance",
  "close-the-furrow",
  "clear-residue",
  "plant-into-moisture",
  "watch-the-ground",
  "dig-and-compare",
] as const;

export type RemedyCode = (typeof REMEDY_CODES)[number];
