/** The shape of `findings.json`, as one valibot schema; the JSON Schema in `docs/findings.schema.json` is generated from it. */

import * as v from "valibot";
import { CROPS } from "../../quantities/crops.ts";
import { LANGUAGES } from "../../texts/language.ts";
import { amount, described, shape, text, whole } from "../../vocabulary/described-shapes.ts";
import { FINDINGS_SCHEMA } from "../findings-document.ts";
import { comparisonRow } from "./comparison-row.ts";
import { finding } from "./finding.ts";
import { input } from "./parts.ts";
import { summary } from "./summary.ts";

export const findingsSchema = v.pipe(
  v.strictObject({
    schema: v.literal(FINDINGS_SCHEMA),
    written: v.exactOptional(
      shape(
        {
          language: v.picklist(LANGUAGES),
          locale: text("Language tag of whose way of writing figures the sentences have."),
        },
        "How the sentences are written; absent where language and figures are English.",
      ),
    ),
    field: shape(
      {
        name: text("Name of the field."),
        season: v.nullable(whole("Year of the harvest.")),
        crop: v.picklist(CROPS),
        planted: v.nullable(
          text("First day of planting, ISO date; null where neither manifest nor log has one."),
        ),
        areaHa: amount("Area, ha."),
      },
      "The field.",
    ),
    settings: described(v.record(v.string(), v.unknown()), "Settings the result depends on, by name."),
    inputs: v.array(input),
    summary,
    findings: described(v.array(finding), "Ranked, the costliest first."),
    comparison: described(v.array(comparisonRow), "Pass by soil zone and row unit by soil zone."),
  }),
  v.title("Evenstand findings"),
  v.description(
    "findings.json: what falls short in one field, where, why, what it cost and what to change. What is unknown is null, never absent.",
  ),
);
