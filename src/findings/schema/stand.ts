/** What the counts say of the whole field, in the summary of `findings.json`. */
import * as v from "valibot";
import { CONTRAST_KINDS, CONTRAST_VERDICTS } from "../../stand-model/contrast.ts";
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
import { estimate } from "./parts.ts";

export const stand = described(
  v.nullable(
    v.strictObject({
      counts: whole("Counts it rests on.", 1),
      perHa: described(estimate, "Plants/ha."),
      ofTarget: described(v.nullable(estimate), "Share of the target population; null where none is known."),
      lateShare: described(
        v.nullable(estimate),
        "Share of the plants that came late; null where no count looked.",
      ),
      clustered: yesNo(
        "True where so many counts lie in one spot that their plain mean would speak for that spot.",
      ),
      words: text("The same in a sentence."),
    }),
  ),
  "Mean stand of the field over its counts, spots that lie close together sharing one vote; null without counts.",
);

export const contrasts = described(
  v.array(
    v.strictObject({
      kind: described(v.picklist(CONTRAST_KINDS), "What is set against what."),
      name: text("What may be short."),
      against: text("What it is set against."),
      counts: whole("Counts on the side that may be short.", 0),
      shortShare: described(
        v.nullable(estimate),
        "How much shorter it stands, share of the other side; null where it was not tested.",
      ),
      probability: share("Probability that it is short."),
      pValue: v.nullable(share("Corrected for the number of contrasts; null where no test was made.")),
      verdict: described(
        v.picklist(CONTRAST_VERDICTS),
        "short: found; could-be: likely but not settled; tested: even as far as the counts can tell; too-few: not tested.",
      ),
      words: text("The same in a sentence."),
    }),
  ),
  "What was tested in the counts before any search for places, and what came out.",
);

export const spacing = described(
  v.nullable(
    v.strictObject({
      spots: whole("Spots with spacings.", 1),
      spacings: whole("Spacings.", 1),
      theoreticalMm: v.pipe(
        v.number(),
        v.gtValue(0),
        v.description("Spacing the target population asks for, mm."),
      ),
      meanMm: figure("Mean, mm."),
      sdMm: v.nullable(figure("Sample SD, mm.")),
      precision: v.nullable(figure("SD of the singles over the theoretical spacing.")),
      bySpacings: shape(
        {
          multiples: share("Multiples (doubles)."),
          singles: share("Singles (quality of feed)."),
          misses: share("Misses (skips)."),
        },
        "Shares of spacings.",
      ),
      bySeeds: shape(
        {
          multiples: share("Multiples (doubles)."),
          singles: share("Singles (quality of feed)."),
          misses: share("Misses (skips)."),
        },
        "Shares of seeds.",
      ),
      rules: shape(
        {
          bySpacings: text("Rule and source."),
          bySeeds: text("Rule and source."),
        },
        "Which rule each is.",
      ),
      words: text("The same in words."),
    }),
  ),
  "Plant spacings measured in the counts, all together; null where there are none.",
);

export const replant = described(
  v.nullable(
    shape(
      {
        name: text("Name of the field."),
        crop: described(v.picklist(["corn", "soybean"]), "Crop."),
        planted: text("Planting day, ISO date."),
        lastCounted: v.nullable(text("Day of the last dated count, ISO date.")),
        populationPerHa: v.nullable(amount("Target or usual rate, seeds/ha.")),
        standPerHa: described(
          v.nullable(
            shape(
              {
                estimate: amount("Mean."),
                low: amount("Lower end."),
                high: amount("Upper end."),
                counts: whole("Counts.", 1),
              },
              "Mean stand.",
            ),
          ),
          "Mean of the counts with its 90 % interval, plants/ha; null without counts.",
        ),
        late: described(
          v.nullable(
            shape(
              {
                share: share("Late plants over plants."),
                leafStagesBehind: v.nullable(amount("Leaf stages behind; null where not counted.")),
              },
              "Late plants.",
            ),
          ),
          "Late plants over the counts that looked for them; null where none did.",
        ),
        prices: shape(
          {
            grainPerBushel: v.nullable(figure("Money a bushel.")),
            expectedBushelPerAcre: v.nullable(figure("Bushels an acre.")),
            seedPer1000: v.nullable(figure("Money a thousand seeds.")),
            currency: text("Currency."),
          },
          "Prices of the manifest.",
        ),
      },
      "Figures of the field.",
    ),
  ),
  "What keeping or replanting is weighed by; null where crop or planting date allow no published table.",
);
