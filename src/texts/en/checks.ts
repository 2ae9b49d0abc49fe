/** The check to make in the field before money is spent. */
export const checks = {
  digBoth:
    "Dig here and ten steps outside, in the same row units: depth, furrow wall and state of each seed decide it.",
  depthOfUnit: (unit: string): string =>
    `Set the planter on a level floor and compare unit ${unit} with its neighbours on blocks of the target depth; dig ten seeds of this row and ten of the next.`,
  depth: "Dig ten seeds here and ten outside; compare with the target.",
  depthOfTen: "Dig ten seeds in a run along one row and write down each depth.",
  contact:
    "Dig ten seeds here and ten on ordinary ground next to it, same row units: depth and soil around the seed.",
  pressed:
    "Dig here and look at the furrow wall: a shiny, smeared side that roots follow instead of crossing. Squeeze a ball of soil from seed depth: putty means wait.",
  rateOfRow: "Count plants over 1/1000 acre in this row and the next, and compare with the seeds in the log.",
  rate: "Count plants over 1/1000 acre here and outside, and compare with the seeds in the log.",
  gaps: "Measure forty plant gaps in a row here and in the next row.",
  speed: "Dig ten seeds in a row here and ten where it was driven slower: depth, gaps and doubles.",
  sensor: (units: string): string =>
    `Count plants over 1/1000 acre in row ${units} and in the rows beside it: where they agree the sensor is wrong, not the meter.`,
  trafficOfRows: (units: string): string =>
    `Dig ten seeds in rows ${units} and ten in the rows beside them: depth, and how hard the soil is around the seed.`,
  traffic: "Dig ten seeds on the end rows and ten a bar further in: depth, and how hard the soil is.",
  plantedTwice: "Walk there and look for rows that cross or lie closer than the row spacing.",
  notPlanted:
    "Walk there: a waterway, a pond or a tree line is no fault, cut it out of the boundary; plants standing mean that the log has a gap.",
  crust: "Dig along a bare stretch: seed leafed out or bent beneath a hard layer is crust.",
  ground: "Dig along a bare stretch and write down depth and state of every seed.",
};
