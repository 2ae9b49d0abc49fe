/** One finding of `findings.json`. */
import * as v from "valibot";
import { CAUSES } from "../../vocabulary/causes.ts";
import { amount, described, figure, shape, share, text, whole } from "../../vocabulary/described-shapes.ts";
import { estimate, measured, moneyEstimate, multiPolygon } from "./parts.ts";

export const finding = shape(
  {
    id: text("Name of the finding in this document, e.g. F1."),
    kind: described(
      v.picklist(["area", "pass", "row-unit", "section", "soil-zone", "field"]),
      "What the finding is about.",
    ),
    cause: described(v.picklist(CAUSES), "The most probable cause, or undetermined where none reaches 0.7."),
    detail: v.nullable(
      text("A closer description of the cause, such as crust; null where nothing shows one."),
    ),
    basis: described(
      v.picklist(["counted", "predicted", "cleared"]),
      "counted: stand counts or digs show it; predicted: from the log alone; cleared: the log looks bad, the counts show no harm.",
    ),
    probability: share("Probability of the cause, together with the alternatives 1."),
    pValue: v.nullable(
      share(
        "Chance of a group this strong somewhere in the field with nothing wrong; null where it was not tested so.",
      ),
    ),
    alternatives: described(
      v.array(
        v.strictObject({
          cause: v.picklist(CAUSES),
          probability: share("Probability."),
        }),
      ),
      "Other causes with their probabilities.",
    ),
    where: shape(
      {
        geometry: multiPolygon,
        areaHa: amount("Area, ha."),
        passes: described(
          v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
          "Our pass numbers; empty where not specific.",
        ),
        logPasses: described(v.array(v.string()), "The pass labels of the log on that ground."),
        rowUnits: described(
          v.array(v.pipe(v.number(), v.integer(), v.minValue(1))),
          "Row units, 1 the leftmost in the direction of travel; empty where not specific.",
        ),
        soilZones: described(v.array(v.string()), "Soil zones; empty where not specific."),
      },
      "Where it is.",
    ),
    measured: shape(
      {
        seedingDepthMm: v.exactOptional(
          described(measured, "Seeding depth of the log, mm below the surface."),
        ),
        depthSdMm: v.exactOptional(
          described(measured, "Standard deviation of seeding depth within a row unit, mm."),
        ),
        downForceMarginN: v.exactOptional(
          described(measured, "Mean down-force margin (load left on the gauge wheels), N."),
        ),
        downForceMarginP10N: v.exactOptional(described(measured, "10th percentile of the margin, N.")),
        noLoadShare: v.exactOptional(described(measured, "Share of records with nearly no load.")),
        speedMetresPerSecond: v.exactOptional(described(measured, "Speed, m/s.")),
        missesShare: v.exactOptional(described(measured, "Misses (skips), share of seeds.")),
        singulationShare: v.exactOptional(described(measured, "Singulation, share of seeds.")),
        multiplesShare: v.exactOptional(described(measured, "Multiples (doubles), share of seeds.")),
        populationPerHa: v.exactOptional(described(measured, "Seeds dropped per hectare.")),
        standPerHa: v.exactOptional(described(measured, "Plants per hectare, as counted.")),
        lateShare: v.exactOptional(described(measured, "Share of plants that came late, as counted.")),
        dugDepthMm: v.exactOptional(described(measured, "Depth as dug, mm.")),
      },
      "What was measured; only quantities the inputs carry.",
    ),
    stand: shape(
      {
        deficitShare: described(
          v.nullable(estimate),
          "(plants expected there had nothing been wrong - plants seen) / target plants; null where it cannot be told.",
        ),
        lateShare: described(v.nullable(measured), "Share of plants late; null where not counted."),
        counts: whole("Stand counts inside.", 0),
        digs: whole("Digs inside.", 0),
      },
      "What the plants show.",
    ),
    loss: shape(
      {
        notes: described(v.array(v.string()), "What was assumed or lacking for the figures, in plain words."),
        yieldShare: described(
          v.nullable(estimate),
          "Share of the yield of that ground lost; null where it cannot be told.",
        ),
        money: described(v.nullable(moneyEstimate), "The same in money; null without prices."),
        seed: described(
          v.nullable(
            v.strictObject({
              money: figure("Price of the seed beyond the target; below 0 saved."),
              seeds: figure("Seeds beyond the target; below 0 saved."),
              currency: text("Currency, three letters."),
            }),
          ),
          "Seed beyond or below the target of a wrong rate, not in the loss; null for other causes.",
        ),
      },
      "What it cost.",
    ),
    remedy: shape(
      {
        code: text("Name of the remedy."),
        parameter: v.nullable(text("Quantity to change; null where none.")),
        from: v.nullable(figure("Value now.")),
        to: v.nullable(figure("Value to aim at.")),
        unit: v.nullable(text("Unit of from and to.")),
        text: text("What to do, in plain words."),
        worth: described(
          v.nullable(
            v.strictObject({
              verdict: described(
                v.picklist([
                  "pays within a year",
                  "may pay within a year",
                  "does not pay within a year",
                  "unknown",
                ]),
                "Whether it pays.",
              ),
              years: described(
                v.nullable(
                  v.strictObject({
                    estimate: v.nullable(figure("Estimate.")),
                    low: v.nullable(figure("Low limit.")),
                    high: v.nullable(figure("High limit; null where the loss may be nothing.")),
                  }),
                ),
                "Years of the same loss that make up the cost; null when unknown.",
              ),
              note: text("What is supposed, or what is lacking."),
              cost: v.nullable(figure("What the user says the remedy costs.")),
              currency: text("Currency, three letters."),
              words: text("The same in words."),
            }),
          ),
          "Loss a year against the cost of the remedy; null where nothing is to be mended.",
        ),
      },
      "What to change before next spring.",
    ),
    words: shape(
      {
        title: text("The cause in plain words."),
        place: text("Where, in plain words."),
        seen: described(v.array(v.string()), "What was seen, one sentence each."),
        otherwise: text("What else could do it."),
        check: text("The check to make before money is spent."),
        caution: text(
          "Safety caution; follow the operator's manual, product label, adjuster and local rules.",
        ),
      },
      "The finding in plain words.",
    ),
  },
  "One place where the stand or the planting falls short.",
);
