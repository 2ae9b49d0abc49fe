/** The shape of `prescription.json`, as one valibot schema; the JSON Schema in `docs/prescription.schema.json` is generated from it. */
import * as v from "valibot";
import { note } from "../findings/schema/parts.ts";
import { CHANNELS, DOWN_FORCE_SYSTEMS } from "../prescription/prescription.ts";
import { described, figure, shape, text, whole, yesNo } from "../vocabulary/described-shapes.ts";
import { MOISTURES } from "../vocabulary/moisture.ts";
import { PRESCRIPTION_SCHEMA } from "./prescription-document.ts";

const rates = v.strictObject({
  marginN: v.number(),
  forceN: v.nullable(figure("Added force, N.")),
  pressurePa: v.nullable(figure("Pressure of the down-force system, Pa.")),
});

const target = shape(
  {
    targetN: v.number(),
    lowN: v.number(),
    highN: v.number(),
  },
  "Best load and the range that is as good within 0.3 plants in 100.",
);

const decision = v.strictObject({
  soilZone: v.string(),
  place: v.nullable(
    text(
      "Finding whose place this is, cut out of its soil zone with a load of its own; null for a soil zone.",
    ),
  ),
  areaHa: v.number(),
  currentMarginN: v.nullable(figure("Mean load logged there.")),
  currentMarginP10N: v.nullable(figure("Its 10th percentile.")),
  currentForceN: v.nullable(figure("Mean added force logged there.")),
  loggedMoisture: v.nullable(v.picklist(MOISTURES)),
  loggedMoistureFrom: v.string(),
  outcome: v.picklist(["change", "keep", "held-back", "no-evidence"]),
  grade: v.picklist(["settled", "pointing", "starting-point"]),
  best: shape(
    {
      dry: target,
      fit: target,
      damp: target,
    },
    "Before limits.",
  ),
  prescribedN: shape(
    {
      dry: v.number(),
      fit: v.number(),
      damp: v.number(),
    },
    "After limits and whole steps.",
  ),
  gainShare: v.nullable(
    shape(
      {
        estimate: v.number(),
        low: v.number(),
        high: v.number(),
        level: v.number(),
      },
      "Stand gained against today's load, share of target plants.",
    ),
  ),
  evidence: v.strictObject({
    spots: v.pipe(v.number(), v.integer()),
    digs: v.pipe(v.number(), v.integer()),
    marginRangeN: v.nullable(v.tuple([v.number(), v.number()])),
    informative: v.boolean(),
  }),
  heldBackBy: v.array(
    v.strictObject({
      finding: v.nullable(v.string()),
      words: v.string(),
    }),
  ),
  notMended: described(
    v.array(
      v.strictObject({
        finding: v.string(),
        words: v.string(),
      }),
    ),
    "Findings of load on this zone that its load does not mend, and why.",
  ),
  reason: v.string(),
  lastAdvisedN: v.nullable(figure("What last year's prescription asked for here.")),
});

export const prescriptionSchema = v.pipe(
  v.strictObject({
    schema: v.literal(PRESCRIPTION_SCHEMA),
    field: v.strictObject({
      name: v.string(),
      season: v.nullable(v.pipe(v.number(), v.integer())),
      areaHa: v.number(),
    }),
    settings: shape(
      {
        moisture: described(v.picklist(MOISTURES), "State of the ground the files are for."),
        channel: described(
          v.nullable(v.picklist(CHANNELS)),
          "What the machine's channel takes, as declared.",
        ),
        minimumMarginN: v.number(),
        maximumMarginN: v.number(),
        largestStepN: figure("Largest step from today's load."),
        rateStepN: figure("Rates are whole multiples of this."),
        system: described(
          v.nullable(v.picklist(DOWN_FORCE_SYSTEMS)),
          "Kind of down-force system, null where nobody said.",
        ),
        lagS: figure("Lag of the down-force system, s."),
        smallestAreaHa: v.number(),
        smallestWidthBars: figure("In bar widths."),
        mostRates: v.pipe(v.number(), v.integer()),
        mostPolygons: v.pipe(v.number(), v.integer()),
        mostVertices: v.pipe(v.number(), v.integer()),
        proofStrips: v.boolean(),
        outsideMarginN: v.nullable(v.number()),
        lostPositionMarginN: v.nullable(v.number()),
        usableWeight: v.nullable(
          shape(
            {
              centreN: v.number(),
              wingN: v.number(),
              centreRowUnits: v.number(),
              wingRowUnits: v.number(),
            },
            "Weight the bar can spare at the least fill.",
          ),
        ),
        cylinder: v.nullable(
          shape(
            {
              pascalPerNewton: v.number(),
              pascalAtNoForce: v.number(),
              forceN: described(
                v.tuple([v.number(), v.number()]),
                "The two forces it was given at, N; it is not carried on beyond them.",
              ),
            },
            "The user's own cylinder.",
          ),
        ),
        gridCellM: v.number(),
        flat: yesNo("One load over the whole field was asked for where no zone changes."),
        allowUncovered: yesNo("Ground outside boundary or soil map was said to be right."),
      },
      "The choices the prescription was made with.",
    ),
    decisions: described(v.array(decision), "One entry a soil zone, and one a place cut out of one."),
    zones: described(
      v.array(
        v.strictObject({
          number: whole("Number of the zone in the files and on the sheet."),
          soilZones: described(
            v.array(v.string()),
            "Soil zones and places of its ground, the one with the most of it first.",
          ),
          proofStrip: v.boolean(),
          areaHa: v.number(),
          rates: rates,
        }),
      ),
      "Pieces of ground with one rate.",
    ),
    places: described(
      v.array(
        v.strictObject({
          finding: v.string(),
          title: v.string(),
          soilZone: text("Soil zone it lies in, or the place itself where it has a load of its own."),
          loggedN: v.number(),
          willBeN: figure("Load on the wheels there under the prescription."),
          mended: v.boolean(),
          why: text("Why it is not mended; empty where it is."),
        }),
      ),
      "Findings of load, each with what the load sent there does.",
    ),
    defaults: shape(
      {
        inside: rates,
        outside: rates,
        lostPosition: rates,
      },
      "What is sent where no zone is.",
    ),
    channel: shape(
      {
        quantity: v.nullable(v.picklist(CHANNELS)),
        formula: v.string(),
        reason: v.nullable(v.string()),
      },
      "The quantity the files carry and how it was worked out, or why there is none.",
    ),
    withheld: v.nullable(text("Why no file of rates is written; null where they may be.")),
    guards: described(
      v.array(
        v.strictObject({
          code: v.string(),
          result: v.picklist(["kept", "changed", "refused", "unchecked"]),
          words: v.string(),
        }),
      ),
      "Each limit and what it did.",
    ),
    advice: v.array(
      v.strictObject({
        kind: v.picklist(["repair", "speed", "depth", "dig", "test-strip"]),
        soilZone: v.nullable(v.string()),
        rowUnits: v.array(v.pipe(v.number(), v.integer())),
        finding: v.nullable(v.string()),
        words: v.string(),
      }),
    ),
    notes: v.array(note),
    cautions: v.array(v.string()),
  }),
  v.title("Evenstand prescription"),
  v.description(
    "prescription.json: the down-force prescription of one field without its polygons. Loads are gauge-wheel loads (margin) in N unless the key says otherwise; what is unknown is null, never absent.",
  ),
);
