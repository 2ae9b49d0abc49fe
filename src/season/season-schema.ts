/**
 * The shape of a season's manifest (`season.json`), as one valibot schema; the JSON Schema in
 * `docs/season.schema.json` is generated from it. What is said once for all fields has the shape it has in a field's
 * manifest.
 */
import * as v from "valibot";
import { formatOf, harvestYear, manifestSchema } from "../manifest/manifest-schema.ts";

export const SEASON_SCHEMA = "evenstand/season/1";

const field = manifestSchema.entries;

const text = (description: string) => v.pipe(v.string(), v.nonEmpty(), v.description(description));

const place = text(
  "Folder of a field, or its manifest, relative to the season's manifest. A folder without field.json is recognised.",
);

/** What holds for a layer in every field that has it: everything but the name of the file. */
const everyFieldsLayer = (layer: "plantingLog" | "standCounts" | "digs", title: string) =>
  v.optional(
    v.pipe(
      v.strictObject(
        layer === "plantingLog"
          ? { columns: field.plantingLog.entries.columns, crs: field.plantingLog.entries.crs }
          : { columns: field[layer].wrapped.entries.columns, crs: field[layer].wrapped.entries.crs },
      ),
      v.description(`${title} of every field: columns and coordinate system, where recognition is unsure.`),
    ),
  );

export const seasonSchema = v.pipe(
  v.strictObject({
    ...formatOf(SEASON_SCHEMA),
    name: v.optional(text("Name of the season, as it shall stand on its page.")),
    season: harvestYear("Year of the harvest; fields of another year are left out and named."),
    fields: v.optional(
      v.pipe(
        v.array(
          v.union([
            place,
            v.strictObject({
              path: place,
              name: v.optional(text("Name of the field, in place of its manifest's.")),
              planter: v.optional(text("Name of the planter that planted it.")),
              grower: v.optional(text("Whose field it is.")),
              operator: v.optional(text("Who drove.")),
            }),
          ]),
        ),
        v.minLength(1),
        v.description("The fields; left out: every folder of a field below this manifest."),
      ),
    ),
    planters: v.optional(
      v.pipe(
        v.record(v.string(), field.planter.wrapped),
        v.description(
          "The planters by name, each as in a field's manifest. Where there is one, every field that names none was planted by it.",
        ),
      ),
    ),
    defaults: v.optional(
      v.pipe(
        v.strictObject({
          crop: field.crop,
          planter: field.planter,
          targets: field.targets,
          prices: field.prices,
          seedSize: field.seedSize,
          prescription: field.prescription,
          plantingLog: everyFieldsLayer("plantingLog", "The planting log"),
          standCounts: everyFieldsLayer("standCounts", "The stand counts"),
          digs: everyFieldsLayer("digs", "The digs"),
        }),
        v.description("What holds for every field whose own manifest does not say otherwise."),
      ),
    ),
  }),
  v.title("Evenstand season manifest"),
  v.description("Many fields of one season: where they are and what holds for all of them."),
);

export type SeasonManifest = v.InferOutput<typeof seasonSchema>;
export type FieldDefaults = NonNullable<SeasonManifest["defaults"]>;
