/** Ground planted once, twice and not at all, in the summary of `findings.json`. */
import * as v from "valibot";
import { amount, described, figure, share, text, yesNo } from "../../vocabulary/described-shapes.ts";

export const ground = described(
  v.nullable(
    v.strictObject({
      plantedHa: amount("Planted at least once, ha."),
      overlapHa: amount("Of it planted by two passes or more, ha."),
      skippedHa: amount("Not planted inside, ha."),
      within: described(
        v.picklist(["boundary", "outline"]),
        "Inside the boundary of the field, or, without one, inside the outline of the planted ground.",
      ),
      judgedHa: amount("Planted inside it by records with a reading of how well it was planted, ha."),
      placedShare: share(
        "Share of the log's records, lifted ones and repeats aside, that have a place on a pass.",
      ),
      wayTimesWidthHa: amount("Way times width of all placed records, ha."),
      wayTimesSpacingHa: v.nullable(
        figure(
          "Length of the passes times the distance between them, ha; null where that distance is not settled.",
        ),
      ),
      widthM: amount("Usual width of the bar, m."),
      spacingM: v.nullable(
        figure("Distance between neighbouring passes, m; null where too few places agree on one."),
      ),
      inDoubt: yesNo(
        "True where more than a quarter comes out as planted twice or left out: then the width of the bar or the positions are in doubt, and the sentence says so.",
      ),
      replanted: described(
        v.nullable(
          v.strictObject({
            areaHa: v.pipe(v.number(), v.minValue(0)),
            firstPlanted: text("ISO date of the first planting there."),
            again: described(
              v.tuple([v.string(), v.string()]),
              "ISO dates of the first and last day of planting again.",
            ),
          }),
        ),
        "What was planted again ten days or more later, judged by the later planting alone; null where nothing was.",
      ),
      machines: described(
        v.array(v.string()),
        "Names of the machines that planted; empty where the log names fewer than two.",
      ),
    }),
  ),
  "What was planted once, twice and not at all, and what of it was judged; null where it was not worked out.",
);
