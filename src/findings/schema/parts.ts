/** Parts that occur in several places of `findings.json`. */
import * as v from "valibot";
import { described, figure, shape, text, whole } from "../../vocabulary/described-shapes.ts";

export const estimate = shape(
  {
    estimate: figure("Best estimate."),
    low: figure("Lower end of the interval."),
    high: figure("Upper end of the interval."),
    level: v.pipe(
      v.number(),
      v.gtValue(0),
      v.ltValue(1),
      v.description("Coverage the interval aims at, e.g. 0.9."),
    ),
  },
  "An estimate with its interval.",
);

export const moneyEstimate = shape(
  { ...estimate.entries, currency: text("Currency code of the prices given.") },
  "Money with its interval.",
);

export const measured = shape(
  {
    inside: v.nullable(figure("Inside the finding; null where nothing was measured.")),
    elsewhere: v.nullable(figure("On comparable ground outside it; null where nothing was measured.")),
    target: described(
      v.nullable(v.union([v.number(), v.tuple([v.number(), v.number()])])),
      "What was asked for: one value, or low and high limit; null where no target was given.",
    ),
  },
  "One quantity inside the finding, elsewhere, and its target; the unit stands in the name.",
);

export const note = shape(
  {
    reason: text("What happened, in plain words, and what would have been accepted."),
    effect: described(
      v.picklist(["left out", "kept", "assumed", "converted"]),
      "What became of the records.",
    ),
    count: whole("Number of records concerned.", 0),
    field: v.nullable(text("Column or property; null where the whole record is meant.")),
    firstRecord: v.nullable(
      whole("1-based number of the first record concerned; null where the whole file is meant.", 1),
    ),
    value: v.nullable(text("The offending value as text; null where there is none.")),
  },
  "One kind of trouble or assumption met in an input.",
);

export const position = described(v.tuple([v.number(), v.number()]), "Longitude, latitude, degrees WGS 84.");

export const multiPolygon = shape(
  {
    type: v.literal("MultiPolygon"),
    coordinates: v.array(v.pipe(v.array(v.pipe(v.array(position), v.minLength(4))), v.minLength(1))),
  },
  "GeoJSON geometry (RFC 7946), degrees WGS 84, 7 decimals.",
);

export const input = shape(
  {
    role: text(
      "What the file is to the job: plantingLog, soilZones, standCounts, digs, boundary, seedLots, weather, yield.",
    ),
    file: text("Name of the file as the manifest gives it."),
    sha256: v.nullable(
      v.pipe(
        v.string(),
        v.regex(/^[0-9a-f]{64}$/),
        v.description(
          'SHA-256 of the bytes, hexadecimal; of a loose shapefile, of the lines "hash  name" of its files sorted by name. Null where it was not computed.',
        ),
      ),
    ),
    records: whole("Records in the file.", 0),
    used: whole("Records used.", 0),
    leftOut: whole("Records left out; the notes say why.", 0),
    notes: v.array(note),
  },
  "One file that was read.",
);
