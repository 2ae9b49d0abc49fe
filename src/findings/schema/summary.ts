/** The summary of `findings.json`. */

import * as v from "valibot";
import { ROW_UNIT_VARIABLES } from "../../rows/row-unit-series.ts";
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
import { emergence } from "./emergence.ts";
import { ground } from "./ground.ts";
import { moneyEstimate } from "./parts.ts";
import { contrasts, replant, spacing, stand } from "./stand.ts";

export const summary = shape(
  {
    affectedHa: amount("Ground with a finding, counted once, ha."),
    nothingFoundHa: amount("Ground that was judged, without a finding, ha."),
    notJudged: described(
      v.array(
        v.strictObject({
          what: text("Quantity or question."),
          why: text("What was missing."),
        }),
      ),
      "What could not be judged, and why.",
    ),
    sentence: text("The result in one plain sentence."),
    form: described(
      v.picklist(["even", "places", "unsettled"]),
      "Which verdict the sentence gives: tested and even, places found, not enough to say.",
    ),
    wanted: described(
      v.array(
        v.strictObject({
          key: described(
            v.picklist([
              "seedingDepth",
              "depthSensed",
              "downForceMargin",
              "population",
              "speed",
              "grain",
              "expectedYield",
            ]),
            "Which answer.",
          ),
          asked: text("What is asked, as a sentence names it."),
          why: text("What it would change."),
        }),
      ),
      "Answers that were not given and would change what is said, the most telling first.",
    ),
    stand,
    contrasts,
    money: described(
      v.nullable(moneyEstimate),
      "Loss of all findings together, nothing counted twice; null without prices.",
    ),
    ground,
    drivers: described(
      v.array(
        v.strictObject({
          variable: described(v.picklist(["seedingDepth", "downForceMargin"]), "What changes."),
          unit: described(v.picklist(["mm", "N"]), "Unit of the effect."),
          driver: described(
            v.picklist(["speed", "slope", "heading", "time-of-day", "date"]),
            "What it may change with.",
          ),
          contrast: text("What is set against what, in words."),
          effect: figure("Change, soil zone and the other drivers held."),
          low: figure("Lower end of the interval, passes being clusters."),
          high: figure("Upper end."),
          level: share("Coverage the interval aims at."),
          passes: whole("Passes it rests on.", 0),
          words: text("The same in a sentence, in farm units."),
        }),
      ),
      "What drives depth and load within the soil zones.",
    ),
    emergence,
    departingRows: described(
      v.array(
        v.strictObject({
          rowUnits: described(
            v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
            "Row units, 1 the leftmost in the direction of travel.",
          ),
          set: described(
            v.nullable(v.picklist(["wheel-track", "wing"])),
            "What joins the rows; null for a single row unit.",
          ),
          variable: described(v.picklist(ROW_UNIT_VARIABLES), "What departs."),
          unit: text("Unit of the shift; a shift of population is a share of the bar's."),
          shift: figure("Mean departure from the rest of the bar over the passes."),
          passes: described(
            v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
            "Our numbers of the passes.",
          ),
          pValue: share("Chance of such a departure anywhere on a bar with nothing wrong."),
          inFinding: yesNo("Whether a finding names it; else no harm is predicted of it."),
        }),
      ),
      "Every row unit and set of rows that departs from the bar, with and without harm.",
    ),
    spacing,
    moneyBy: shape(
      {
        soilZones: described(
          v.array(
            shape(
              {
                of: text("Name of the soil zone, number of the row unit."),
                areaHa: amount("Its ground that lost something, ha."),
                money: moneyEstimate,
              },
              "One soil zone or row unit.",
            ),
          ),
          "Largest loss first; empty without a soil map or prices.",
        ),
        rowUnits: described(
          v.array(
            shape(
              {
                of: text("Name of the soil zone, number of the row unit."),
                areaHa: amount("Its ground that lost something, ha."),
                money: moneyEstimate,
              },
              "One soil zone or row unit.",
            ),
          ),
          "By number; empty where the log does not tell row units, or without prices.",
        ),
      },
      "The same money by part of the field; a finding's money spread evenly over its ground, ground under several findings paid for once.",
    ),
    replant,
  },
  "The result in short.",
);
