/**
 * The shape of the field manifest (`field.json`), as one valibot schema. Every key has a description; the JSON
 * Schema in `docs/field.schema.json` is generated from it. Quantities are text with a unit here; whether the
 * unit fits is checked in `manifest-quantities.ts`.
 */

import * as v from "valibot";
import { CROPS } from "../quantities/crops.ts";
import { REMEDY_CODES, type RemedyCode } from "../vocabulary/remedy-codes.ts";
import {
  COUNT_VARIABLES,
  DIG_VARIABLES,
  LOG_VARIABLES,
  SEED_LOT_VARIABLES,
  SOIL_VARIABLES,
  WEATHER_VARIABLES,
  YIELD_VARIABLES,
} from "../vocabulary/variables.ts";
import { prescriptionSchema } from "./prescription-schema.ts";

export const FIELD_SCHEMA = "evenstand/field/1";

const text = (description: string) => v.pipe(v.string(), v.nonEmpty(), v.description(description));
const rowNumber = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(96));

const columnName = v.pipe(v.string(), v.nonEmpty());
const columnNames = v.pipe(v.array(columnName), v.minLength(2), v.maxLength(96));

const columnChoiceObject = v.strictObject({
  column: v.pipe(
    v.union([columnName, columnNames]),
    v.description("Name of the column, or a list with one column per row unit, from the left."),
  ),
  unit: v.optional(text('Unit the column is in, such as "in", "mm", "lbf", "mph", "seeds/ac", "%".')),
  source: v.optional(
    v.pipe(
      v.picklist(["set", "sensed", "dug"]),
      v.description("Seeding depth only: whether the value is a setting, sensed at the row unit, or dug."),
    ),
  ),
});

/** Every way to name the column of a variable. */
export const columnForms = v.union([v.null(), columnName, columnNames, columnChoiceObject]);

const columnChoice = (title: string) =>
  v.pipe(
    columnForms,
    v.description(
      `Column of the ${title}: its name, a list with one column per row unit, or an object with column and unit; null says that no column is it.`,
    ),
  );

type ChoiceSchema = ReturnType<typeof columnChoice>;

function columnsSchema<Variable extends string>(variables: Readonly<Record<Variable, { title: string }>>) {
  const entries = Object.fromEntries(
    Object.entries<{ title: string }>(variables).map(([name, { title }]) => [
      name,
      v.optional(columnChoice(title)),
    ]),
  ) as Record<Variable, v.OptionalSchema<ChoiceSchema, undefined>>;
  return v.optional(
    v.pipe(
      v.strictObject(entries),
      v.description("Which column is which variable; needed only where recognition is unsure."),
    ),
  );
}

const file = text(
  "Path of the file, relative to the manifest. GeoJSON, CSV, or a shapefile named by its .shp or .zip.",
);
const crs = v.optional(
  text('Coordinate system of the file where the file itself does not say, such as "EPSG:32615".'),
);

const position = v.optional(
  v.pipe(
    v.tuple([columnName, columnName]),
    v.description(
      "Of a table: the columns that hold the position, longitude or easting first, then latitude or northing; needed only where their names do not say it.",
    ),
  ),
);

const zoneLayer = <Variable extends string>(
  what: string,
  variables: Readonly<Record<Variable, { title: string }>>,
  zoneMeans: string,
  layerMeans: string,
) =>
  v.optional(
    v.pipe(
      v.strictObject({
        file,
        zone: v.optional(text(zoneMeans)),
        columns: columnsSchema(variables),
        crs,
      }),
      v.description(`${what}: ${layerMeans}`),
    ),
  );

const quantity = (what: string, example: string) =>
  v.optional(
    v.pipe(v.string(), v.nonEmpty(), v.description(`${what}, with its unit, such as "${example}".`)),
  );

const rowList = (what: string) => v.optional(v.pipe(v.array(rowNumber), v.description(what)));
const rowListOrAll = (what: string) =>
  v.optional(v.pipe(v.union([v.literal("all"), v.array(rowNumber)]), v.description(what)));

const freeObject = (what: string) =>
  v.optional(v.pipe(v.record(v.string(), v.unknown()), v.description(what)));

const remedyCosts = Object.fromEntries(
  REMEDY_CODES.map((code) => [code, quantity(`Cost of "${code}"`, "450 USD")]),
) as Record<RemedyCode, ReturnType<typeof quantity>>;

/** What every manifest may begin with: its schema for editors, and the version of its format. */
export const formatOf = <Version extends string>(version: Version) => ({
  $schema: v.optional(v.pipe(v.string(), v.description("Place of the JSON Schema, for editors; not read."))),
  schema: v.optional(
    v.pipe(v.literal(version), v.description("Version of this format; checked where given.")),
  ),
});

/** The year of a log. */
export const harvestYear = (description: string) =>
  v.optional(v.pipe(v.number(), v.integer(), v.minValue(1980), v.maxValue(2100), v.description(description)));

export const manifestSchema = v.pipe(
  v.strictObject({
    ...formatOf(FIELD_SCHEMA),
    name: v.optional(text("Name of the field, as it shall stand in the report.")),
    season: harvestYear("Year of the harvest."),
    crop: v.optional(v.pipe(v.picklist(CROPS), v.description("The crop; corn when left out."))),
    planted: v.optional(
      v.pipe(
        v.string(),
        v.isoDate(),
        v.description("Date of (the first day of) planting, YYYY-MM-DD; else taken from the log's dates."),
      ),
    ),
    plantingLog: v.pipe(
      v.strictObject({ file, columns: columnsSchema(LOG_VARIABLES), position, crs }),
      v.description("The as-planted log: points or polygons written by the planter. The one layer required."),
    ),
    soilZones: zoneLayer(
      "The soil map",
      SOIL_VARIABLES,
      "Column with the name of the zone.",
      "polygons of soil or management zones.",
    ),
    standCounts: v.optional(
      v.pipe(
        v.strictObject({ file, columns: columnsSchema(COUNT_VARIABLES), position, crs }),
        v.description("Counted spots: points or small polygons, or a CSV with longitude and latitude."),
      ),
    ),
    digs: v.optional(
      v.pipe(
        v.strictObject({ file, columns: columnsSchema(DIG_VARIABLES), position, crs }),
        v.description("Spots dug for seed depth, smear, furrow, moisture and state of the seed."),
      ),
    ),
    boundary: v.optional(
      v.pipe(
        v.strictObject({ file, columns: columnsSchema({}), crs }),
        v.description("The field boundary: one or more polygons."),
      ),
    ),
    seedLots: zoneLayer(
      "Seed lots",
      SEED_LOT_VARIABLES,
      "Column with the name of the lot.",
      "polygons where each lot was planted.",
    ),
    weather: v.optional(
      v.pipe(
        v.strictObject({ file, columns: columnsSchema(WEATHER_VARIABLES) }),
        v.description("Weather by day or hour: a CSV with date, rain and temperatures."),
      ),
    ),
    yield: v.optional(
      v.pipe(
        v.strictObject({ file, columns: columnsSchema(YIELD_VARIABLES), crs }),
        v.description("The yield map of the same season; read where a trial or a check asks for it."),
      ),
    ),
    planter: v.optional(
      v.pipe(
        v.strictObject({
          rowUnits: v.optional(v.pipe(rowNumber, v.description("Number of row units on the bar."))),
          rowSpacing: quantity("Distance between rows", "30 in"),
          rowUnitWeight: quantity("Weight a row unit rests with when no force is added", "165 lbf"),
          wheelTrackRows: rowList("Row units behind tires or tracks, numbered from the left in travel."),
          depthSensedRows: rowListOrAll('Row units with a depth sensor, or "all".'),
          loadSensedRows: rowListOrAll('Row units with a gauge-wheel load sensor, or "all".'),
          wings: v.optional(
            v.pipe(
              v.array(v.tuple([rowNumber, rowNumber])),
              v.description(
                "First and last row unit of each part of the bar that folds or flexes by itself.",
              ),
            ),
          ),
        }),
        v.description("The planter."),
      ),
    ),
    targets: v.optional(
      v.pipe(
        v.strictObject({
          seedingDepth: quantity("Seeding depth wanted", "2.0 in"),
          population: quantity(
            "Seeds wanted, by number or with seedSize by weight (lb/ac, kg/ha)",
            "34000 seeds/ac",
          ),
          downForceMargin: v.optional(
            v.pipe(
              v.tuple([v.pipe(v.string(), v.nonEmpty()), v.pipe(v.string(), v.nonEmpty())]),
              v.description('Lowest and highest margin wanted, such as ["60 lbf", "160 lbf"].'),
            ),
          ),
          speed: quantity("Speed wanted", "5.5 mi/h"),
        }),
        v.description("What was asked of the planter."),
      ),
    ),
    seedSize: quantity(
      "How many seeds a pound (lb) or a kilogram (kg) holds, by the tag; a rate or a target by weight is read with it",
      "2600 seeds/lb",
    ),
    prices: v.optional(
      v.pipe(
        v.strictObject({
          grain: quantity("Price of grain by bushel (bu), tonne (t) or kilogram (kg)", "4.50 USD/bu"),
          expectedYield: quantity("Yield expected of the field", "200 bu/ac"),
          seed: quantity("Price of seed by 1000 seeds, or by the count in a bag", "3.75 USD/1000"),
          remedies: v.optional(
            v.pipe(
              v.strictObject(remedyCosts),
              v.description("What a remedy would cost, all of it, by its code in the findings."),
            ),
          ),
        }),
        v.description("Prices, to put money on a loss."),
      ),
    ),
    prescription: v.optional(prescriptionSchema),
    trial: freeObject("Layout and settings of side-by-side strips."),
  }),
  v.title("Evenstand field manifest"),
  v.description("One field in one season: which file is what, the planter, the targets and the prices."),
);

/** A field manifest as written, after its shape has been checked. */
export type Manifest = v.InferOutput<typeof manifestSchema>;

/** How a manifest names the column of a variable. */
export type ColumnChoice = v.InferOutput<ChoiceSchema>;
