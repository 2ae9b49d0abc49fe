/** The `prescription` part of the manifest. Quantities are text with a unit, as everywhere in the manifest. */

import * as v from "valibot";
import { MOISTURES } from "../vocabulary/moisture.ts";

const quantity = (what: string, example: string) =>
  v.pipe(v.string(), v.nonEmpty(), v.description(`${what}, with its unit, such as "${example}".`));
const optionalQuantity = (what: string, example: string) => v.optional(quantity(what, example));
const count = (what: string, least: number, most: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(least), v.maxValue(most), v.description(what));

const pointText = v.pipe(v.string(), v.nonEmpty());

export const prescriptionSchema = v.pipe(
  v.strictObject({
    moisture: v.optional(
      v.pipe(
        v.picklist(MOISTURES),
        v.description("State of the ground the files are written for; fit when left out."),
      ),
    ),
    channel: v.optional(
      v.pipe(
        v.picklist(["margin", "added-force", "pressure"]),
        v.description(
          "What the machine's channel takes: the load on the gauge wheels, the force added to the row unit's own weight, or a pressure. Left out: only the cab sheet and the margin layer are written.",
        ),
      ),
    ),
    smallestMargin: optionalQuantity("Smallest load on the gauge wheels", "50 lbf"),
    largestMargin: optionalQuantity("Largest load on the gauge wheels", "180 lbf"),
    largestStep: optionalQuantity("Largest step from today's load", "40 lbf"),
    rateStep: optionalQuantity("Loads are whole multiples of this", "5 lbf"),
    system: v.optional(
      v.pipe(
        v.picklist(["air", "hydraulic"]),
        v.description(
          "Kind of down-force system: air bags follow in 15 to 40 s, hydraulic cylinders in 1 to 5 s; a pressure is written only where it is given.",
        ),
      ),
    ),
    lag: optionalQuantity(
      "Time the down-force system takes to follow a new target, where it differs from that of its kind",
      "10 s",
    ),
    flat: v.optional(
      v.pipe(
        v.boolean(),
        v.description(
          "Write files of one load over the whole field where no zone changes; false when left out.",
        ),
      ),
    ),
    allowUncovered: v.optional(
      v.pipe(
        v.boolean(),
        v.description(
          "Write files although more than 5 % of the planted ground lies outside the boundary or the soil map; false when left out.",
        ),
      ),
    ),
    smallestArea: optionalQuantity("Smallest piece of ground with a load of its own", "1.5 ac"),
    smallestWidthBars: v.optional(
      v.pipe(
        v.number(),
        v.minValue(0),
        v.maxValue(50),
        v.description("Narrowest piece of ground with a load of its own, in bar widths."),
      ),
    ),
    mostRates: v.optional(count("Most distinct loads, 1 to 16.", 1, 16)),
    mostPolygons: v.optional(count("Most polygons in a file.", 1, 10_000)),
    mostVertices: v.optional(count("Most corners in a file.", 4, 1_000_000)),
    proofStrips: v.optional(
      v.pipe(
        v.boolean(),
        v.description("Leave a strip at today's load in each changed zone; true when left out."),
      ),
    ),
    outside: optionalQuantity("Load sent outside the boundary", "100 lbf"),
    lostPosition: optionalQuantity("Load sent when the position is lost", "100 lbf"),
    usableWeight: v.optional(
      v.pipe(
        v.strictObject({
          centre: quantity("Weight the centre of the bar can spare at the least fill", "4000 lbf"),
          wing: quantity("Weight one wing can spare at the least fill", "2200 lbf"),
          centreRowUnits: count("Row units on the centre.", 1, 96),
          wingRowUnits: count("Row units on one wing; 0 where the bar has none.", 0, 48),
        }),
        v.description("Weight that holds the bar down against the force added to its row units."),
      ),
    ),
    cylinder: v.optional(
      v.pipe(
        v.strictObject({
          points: v.pipe(
            v.tuple([v.tuple([pointText, pointText]), v.tuple([pointText, pointText])]),
            v.description(
              'Two pairs of added force and the pressure it takes, from the manual or measured, such as [["100 lbf", "300 psi"], ["300 lbf", "700 psi"]].',
            ),
          ),
        }),
        v.description("Your own cylinder: the pressure that makes a force."),
      ),
    ),
    gridCell: optionalQuantity("Width of a cell where a grid is written", "10 m"),
    last: v.optional(
      v.pipe(
        v.record(v.string(), v.pipe(v.string(), v.nonEmpty())),
        v.description(
          'Loads last year\'s prescription asked for, by name of the soil zone, such as { "clay": "90 lbf" }.',
        ),
      ),
    ),
  }),
  v.description("Limits and settings of the down-force prescription."),
);
