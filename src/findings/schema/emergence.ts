/** Emergence and weather, in the summary of `findings.json`. */
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

export const emergence = described(
  v.nullable(
    v.strictObject({
      days: described(
        v.array(
          shape(
            {
              planted: text("Planting day, ISO date."),
              expected: v.nullable(
                text(
                  "Day on which emergence is to be expected, ISO date; null where the weather ends before.",
                ),
              ),
              earliest: v.nullable(text("Its early limit.")),
              latest: v.nullable(text("Its late limit.")),
              degreeDaysF: shape(
                {
                  low: figure("Low limit."),
                  estimate: figure("Estimate."),
                  high: figure("High limit."),
                },
                "Degree days F taken to emergence.",
              ),
              basis: described(v.picklist(["soil", "air"]), "Which temperature was summed."),
              lowestSoilC: v.nullable(
                figure(
                  "Lowest soil temperature, C: of the 48 hours after each pass where log and weather know the hour, else of the planting day and the next.",
                ),
              ),
              coldStart: v.nullable(yesNo("True where that is under 50 F.")),
              coldPasses: described(
                v.nullable(
                  v.strictObject({
                    cold: whole("Passes with a cold start.", 0),
                    of: whole("Passes with soil temperatures.", 1),
                  }),
                ),
                "Passes of that day with soil under 50 F in their own 48 hours; null where log or weather do not know the hour.",
              ),
              rainMm: amount("Rain from the day after planting to the late limit, mm."),
              heaviestRain: described(
                v.nullable(
                  v.strictObject({
                    date: text("ISO date."),
                    rainMm: amount("Rain, mm."),
                    beating: yesNo("True from 25 mm on: bare ground may crust."),
                  }),
                ),
                "The wettest of those days.",
              ),
              words: text("The same in words."),
            },
            "One planting day.",
          ),
        ),
        "Planting days in order.",
      ),
      flagTests: described(
        v.nullable(
          v.strictObject({
            spots: whole("Flagged rows.", 1),
            plants: v.pipe(v.number(), v.minValue(1), v.description("Flagged plants.")),
            lateShareByDays: v.nullable(share("Share of plants up more than 3 days after the first.")),
            lateShareByDegreeDays: v.nullable(
              share(
                "Share of plants up more than 25 degree days F after the first; null where the weather does not cover it.",
              ),
            ),
            definitions: shape(
              {
                byDays: text("Source."),
                byDegreeDays: text("Source."),
              },
              "Where the two definitions come from.",
            ),
            words: text("The same in words."),
          }),
        ),
        "Flag tests, all spots together.",
      ),
      rain: described(
        v.array(
          shape(
            {
              soilZone: text("Soil zone."),
              rainFrom: text(
                "First entry of the weather with that rain: ISO date, with hour and minute where timed by the hour.",
              ),
              rainTo: text("Last entry with that rain."),
              rainMm: amount("Rain between the two plantings, mm."),
              timedBy: described(
                v.picklist(["hour", "day"]),
                "Whether planting and rain are timed by the hour or by the day.",
              ),
              shareOf: described(
                v.picklist(["seeds", "target"]),
                "Plants as a share of the seeds dropped at the counts, or of the target where the log has no rate there.",
              ),
              before: shape(
                {
                  share: amount("Mean of the passes, each the mean of its counts."),
                  counts: whole("Stand counts.", 4),
                  passes: whole("Passes they stand on.", 2),
                },
                "Planted before the rain.",
              ),
              after: shape(
                {
                  share: amount("Mean of the passes, each the mean of its counts."),
                  counts: whole("Stand counts.", 4),
                  passes: whole("Passes they stand on.", 2),
                },
                "Planted after it.",
              ),
              leftOut: whole(
                "Counts of the soil zone that were left out: they lie in confirmed places with a cause in the planting.",
                0,
              ),
              difference: figure("After less before, share."),
              low: figure("Low limit."),
              high: figure("High limit."),
              level: share("Coverage of the interval."),
              words: text("The same in words: an association, since other things change by day too."),
            },
            "One soil zone and rain.",
          ),
        ),
        "Stand on the same soil planted before and after a rain; empty where the counts do not allow it.",
      ),
    }),
  ),
  "Emergence by planting day, flag tests, and the stand before and after a rain; null without any of them.",
);
