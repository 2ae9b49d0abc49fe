/** The shape of what `evenstand check --json` prints, as one valibot schema; the JSON Schema in `docs/check.schema.json` is generated from it. */

import * as v from "valibot";
import { note } from "../findings/schema/parts.ts";
import { CROPS } from "../quantities/crops.ts";
import { ROW_UNIT_VARIABLES } from "../rows/row-unit-series.ts";
import { CAUSES } from "../vocabulary/causes.ts";
import { amount, described, figure, shape, whole } from "../vocabulary/described-shapes.ts";
import { PLANTING_VARIABLES } from "../vocabulary/variables.ts";
import { CHANGE_ORDER, CHECK_SCHEMA, CHECK_VARIABLES } from "./check-result.ts";

export const checkSchema = v.pipe(
  v.strictObject({
    schema: v.literal(CHECK_SCHEMA),
    field: v.strictObject({
      name: v.string(),
      crop: v.picklist(CROPS),
    }),
    seen: shape(
      {
        records: v.pipe(v.number(), v.integer(), v.minValue(0)),
        recordsOnPasses: v.pipe(v.number(), v.integer(), v.minValue(0)),
        passes: whole("Passes with the planter down.", 0),
        bothWays: v.boolean(),
        areaHa: amount("Planted so far, ha."),
        lengthM: amount("Length of the passes, m."),
        minutes: v.nullable(figure("From the first to the last record on a pass; null without clock times.")),
        rowUnits: whole("0 where the log knows no row units.", 0),
      },
      "How much has been seen.",
    ),
    figures: v.array(
      v.strictObject({
        variable: v.picklist(CHECK_VARIABLES),
        unit: v.string(),
        readings: v.pipe(v.number(), v.integer(), v.minValue(0)),
        mean: v.number(),
        usual: v.nullable(figure("Median over the stretches; null with few readings.")),
        p10: v.number(),
        p90: v.number(),
        aim: v.nullable(
          shape(
            {
              low: v.nullable(v.number()),
              high: v.nullable(v.number()),
              from: v.picklist(["manifest", "log", "usual"]),
              source: v.nullable(v.string()),
            },
            "What the figure is held against; null for nothing.",
          ),
        ),
        shareBelow: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
        shareAbove: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
        spreadAlongRow: v.nullable(figure("Of a sensed depth: usual SD along the row, mm.")),
        spreadLimit: v.nullable(v.number()),
        noLoadShare: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
        usualNoLoadShare: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
        noLoadLimit: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
        lastYear: v.nullable(figure("Mean of last year's findings.")),
      }),
    ),
    rows: described(
      v.array(
        v.strictObject({
          rowUnits: v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
          set: v.nullable(v.picklist(["wheel-track", "wing"])),
          variable: v.picklist(ROW_UNIT_VARIABLES),
          unit: v.string(),
          shift: figure("Departure from the bar."),
          passes: v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
          pValue: v.pipe(v.number(), v.minValue(0), v.maxValue(1)),
          ofPasses: v.pipe(v.number(), v.integer(), v.minValue(0)),
          lastYear: v.boolean(),
        }),
      ),
      "Rows that stand off the bar.",
    ),
    trends: described(
      v.array(
        v.strictObject({
          variable: v.picklist(PLANTING_VARIABLES),
          first: v.number(),
          last: v.number(),
          passes: v.pipe(v.number(), v.integer(), v.minValue(0)),
        }),
      ),
      "Steady changes along the passes.",
    ),
    changes: described(
      v.array(
        v.strictObject({
          matter: v.picklist(CHANGE_ORDER),
          cause: v.picklist(CAUSES),
          rowUnits: described(
            v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
            "Empty for the whole bar.",
          ),
          variable: v.picklist(CHECK_VARIABLES),
          measure: v.picklist(["mean", "spread", "time without load", "shift"]),
          value: v.number(),
          limit: v.nullable(v.number()),
        }),
      ),
      "What to change now, worst first. Empty says only that nothing of what was judged asks for a change.",
    ),
    judged: v.array(v.string()),
    notJudged: v.array(
      v.strictObject({
        what: v.string(),
        why: v.string(),
      }),
    ),
    dig: shape(
      {
        pass: v.pipe(v.number(), v.integer(), v.minValue(0)),
        headingDeg: v.number(),
        leftM: v.nullable(v.number()),
        withinM: v.number(),
        middle: v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
        wings: v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
        wheels: v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
        departing: v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
      },
      "Where to dig.",
    ),
    lastYear: v.nullable(
      shape(
        {
          field: v.string(),
          season: v.nullable(v.pipe(v.number(), v.integer())),
          doubts: described(v.array(v.string()), "Why its figures may not be comparable."),
        },
        "Null where none was given.",
      ),
    ),
    notes: described(v.array(note), "How the file was read."),
  }),
  v.title("Evenstand check"),
  v.description(
    "What `evenstand check --json` prints: the first passes of an unfinished log in figures, inside units (mm, N, shares, seeds/ha, m/s). What is unknown is null, never absent.",
  ),
);
