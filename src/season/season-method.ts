/** How a season is worked out, in words, with the sources. */
import { formatPercent } from "../quantities/format.ts";

export function methodParagraphs(falseShare: number): string[] {
  return [
    "Each field is analysed by itself; its report says how. What stands here is put together from their results.",
    "Row units: in each field a unit is compared with the middle of its bar at the same moments, so that soil, speed and day fall out; its error comes from the differences between the passes. Over the fields the departures are averaged with room for the fields to differ (random effects; DerSimonian and Laird 1986, moments of Hedges and Olkin 1985, interval by Hartung and Knapp 2001), and the units of a bar are pulled towards its middle as far as their own uncertainty demands (empirical Bayes; Morris 1983).",
    "Sound units differ a little for good. A unit is named only where it lies apart from the others of its bar over all fields (Student's t against those that do not lie apart themselves; Rosner 1983), or where it stands out, from its bar and from its own usual place, in more fields than the others (Fisher 1935), which is a fault that comes and goes; and by more than matters: 0.9 points of skips or doubles, 3.6 % of the rate, 29 lb of load, 0.17 in of depth, 3 points of spacing or of ground contact (somewhat less where it comes and goes). These limits are our judgement.",
    `Many tests: all tests of the season are held together so that of the ones named about ${formatPercent(falseShare)} may be false (false discovery rate; Benjamini and Hochberg 1995).`,
    "Driving: drivers are compared by the means of their fields (Welch 1947). What goes with speed is taken within each field, pass by pass without the end rows, and averaged over the fields as above. Days of planting are compared like drivers, soils and seed lots with the rest of their own field (Student's t over the fields). None of this proves a cause: a driver may have had the rougher fields, a day the wetter ones.",
    "Money is that of the fields' own findings. Causes may share ground, so the lines of the ledger can come to more than the total.",
  ];
}
