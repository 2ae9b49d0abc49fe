/** One row of the comparison tables in `findings.json`. */
import * as v from "valibot";
import {
  amount,
  described,
  figure,
  shape,
  share,
  text,
  whole,
  yesNo,
} from "../../vocabulary/described-shapes.ts";

export const comparisonRow = shape(
  {
    pass: v.nullable(whole("Our pass number; null where the row runs over all.", 1)),
    soilZone: v.nullable(text("Soil zone; null where the row runs over all.")),
    rowUnit: v.nullable(whole("Row unit; null where the row runs over all.", 1)),
    variable: described(
      v.picklist([
        "seedingDepth",
        "downForceMargin",
        "groundContact",
        "singulation",
        "multiples",
        "misses",
        "population",
        "speed",
        "acceleration",
        "downForce",
        "spacingVariation",
      ]),
      "What is compared.",
    ),
    unit: text("Unit of mean, sd, p10, p50, p90, difference, low and high."),
    records: whole("Records with a value.", 0),
    areaHa: amount("Ground they stand for, ha."),
    mean: figure("Mean."),
    sd: v.nullable(amount("Sample standard deviation (n - 1); null for one record.")),
    p10: figure("10th percentile (type 7 of Hyndman and Fan 1996)."),
    p50: figure("Median."),
    p90: figure("90th percentile."),
    shareOutside: v.nullable(share("Share of records outside the target; null without a target.")),
    difference: v.nullable(
      figure(
        "Mean minus the mean of the others: other passes of the zone, other row units at the same moments; null where there are none.",
      ),
    ),
    low: v.nullable(figure("Lower end of the interval of the difference.")),
    high: v.nullable(figure("Upper end of the interval of the difference.")),
    level: v.pipe(v.number(), v.gtValue(0), v.ltValue(1), v.description("Coverage the interval aims at.")),
    robustSd: v.nullable(
      amount(
        "1.4826 times the median absolute deviation from the median (p50), in the unit of the row; null for one record.",
      ),
    ),
    shareBelow: v.nullable(share("Share of records below the target; null without a target.")),
    shareAbove: v.nullable(share("Share of records above the target; null without a target.")),
    withinTolerance: v.nullable(
      share(
        "Depth only: share of records within 6 mm of the target; null for other variables and without a target.",
      ),
    ),
    spreadAlongRow: v.nullable(
      amount(
        "Depth only: SD along the row from steps between successive records of a row unit, mm; null for other variables and where it cannot be told.",
      ),
    ),
    noLoadShare: v.nullable(
      share("Load only: share of records without load on the gauge wheels; null for other variables."),
    ),
    headland: v.nullable(
      yesNo("Whether the pass is one of the end rows; null where the row runs over all passes."),
    ),
  },
  "One row of the comparison tables.",
);
