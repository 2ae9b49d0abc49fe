/** How a season is worked out, in words, with the sources. */
import { formatPercent } from "../format.ts";

export function methodParagraphs(falseShare: number): string[] {
  return [
    "Each field is analysed by itself; its report says how. What stands here is put together from their results.",
    "Row units: in each field a unit is compared with the middle of its bar at the same moments, so that soil, speed and day fall out; its error comes from the differences between the passes. Over the fields the departures are averaged with room for the fields to differ (random effects; DerSimonian and Laird 1986, interval by Hartung and Knapp 2001), and the units of a bar are pulled towards its middle as far as their own uncertainty demands (empirical Bayes; Morris 1983).",
    "Sound units differ a little for good. A unit is named only where it lies apart from the others of its bar (Student's t against those that do not lie apart themselves; Rosner 1983), by more than matters: half a point of skips or doubles, 2 % of the rate, 12 lb of load, 0.08 in of depth, 2 points of spacing or of ground contact. These limits are our judgement.",
    `Many tests: all tests of the season are held together so that of the ones named about ${formatPercent(falseShare)} may be false (false discovery rate; Benjamini and Hochberg 1995).`,
    "Driving: drivers are compared by the means of their fields (Welch 1947). What goes with speed is taken within each field, pass by pass without the end rows, and averaged over the fields as above. Neither proves that speed is the cause: a driver may have had the rougher fields.",
    "Money is that of the fields' own findings. Causes may share ground, so the lines of the ledger can come to more than the total.",
  ];
}
