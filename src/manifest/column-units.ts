/** Checks the units a manifest gives for columns. */
import { ManifestError } from "../errors.ts";
import { UNITS, unitsOf } from "../quantities/units.ts";
import { LOG_CATALOGUE } from "../vocabulary/catalogue-log.ts";
import { WEATHER_CATALOGUE, ZONE_CATALOGUE } from "../vocabulary/catalogue-places.ts";
import { COUNT_CATALOGUE, DIG_CATALOGUE } from "../vocabulary/catalogue-spots.ts";
import type { Catalogue, VariableDescription } from "../vocabulary/variable-description.ts";
import type { ColumnChoice, Manifest } from "./manifest-schema.ts";

/** Percent of the target, which a population may be in. */
const OF_TARGET = "%";
const DAY_ORDERS = ["m/d/y", "d/m/y"];

/**
 * Checks that each unit given for a column is known and fits the variable, and that only a depth has a source.
 * @throws {ManifestError} naming the column's place in the manifest and the units that would be accepted.
 */
export function requireFittingUnits(manifest: Manifest): void {
  const layers: [string, Catalogue, Readonly<Record<string, ColumnChoice | undefined>> | undefined][] = [
    ["plantingLog", LOG_CATALOGUE, manifest.plantingLog.columns],
    ["soilZones", ZONE_CATALOGUE, manifest.soilZones?.columns],
    ["standCounts", COUNT_CATALOGUE, manifest.standCounts?.columns],
    ["digs", DIG_CATALOGUE, manifest.digs?.columns],
    ["seedLots", ZONE_CATALOGUE, manifest.seedLots?.columns],
    ["weather", WEATHER_CATALOGUE, manifest.weather?.columns],
  ];
  for (const [role, catalogue, columns] of layers) {
    for (const [variable, choice] of Object.entries(columns ?? {})) {
      if (choice === null || typeof choice !== "object" || Array.isArray(choice)) continue;
      const field = `${role}.columns.${variable}`;
      const description = catalogue[variable];
      if (description && choice.unit !== undefined)
        requireUnit(choice.unit, description, `${field}.unit`, manifest.seedSize !== undefined);
      if (choice.source !== undefined && variable !== "seedingDepth") {
        throw new ManifestError(`${field}.source is given, but only seedingDepth has a source`, {
          field: `${field}.source`,
          value: choice.source,
        });
      }
    }
  }
}

function requireUnit(
  unit: string,
  description: VariableDescription,
  field: string,
  knowsSeedSize: boolean,
): void {
  const byWeight = knowsSeedSize && description.insideUnit === "seeds/ha" ? unitsOf("massPerArea") : [];
  const accepted = [...acceptedUnits(description), ...byWeight];
  if (accepted.includes(unit)) return;
  const known = Object.hasOwn(UNITS, unit);
  const list = accepted.length === 0 ? "no unit" : accepted.join(", ");
  throw new ManifestError(
    `${field} is "${unit}", which ${known ? "does not fit" : "is not a known unit"}; write ${list}`,
    {
      field,
      value: unit,
      accepted: list,
    },
  );
}

/** Units of the variable's dimension; for dates the order of day and month; for numbers without a unit "1". */
function acceptedUnits({ kind, dimension, percentOfTarget }: VariableDescription): string[] {
  if (dimension !== undefined) return [...unitsOf(dimension), ...(percentOfTarget ? [OF_TARGET] : [])];
  if (kind === "time") return [...DAY_ORDERS, "s"];
  return kind === "number" || kind === "flag" ? ["1"] : [];
}
