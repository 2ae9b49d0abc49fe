/** Why a column of a layer is not used, in words that follow "not used: ". */
import type { Note, OpenChoice } from "../errors.ts";
import type { RawColumn } from "../ingest/layer.ts";
import { UNITS } from "../quantities/units.ts";
import { readWords } from "./column-words.ts";
import { splitUnit } from "./units/unit-suffix.ts";

/** Measures that are known and named as such, though the job has no use for them. */
const KNOWN_MEASURES: Readonly<Record<string, string>> = {
  nitrogen: "fertilizer",
  fertilizer: "fertilizer",
  spray: "spray",
  manure: "manure",
  grain: "grain at harvest",
  yield: "yield",
  moisture: "moisture",
  temperature: "a temperature",
  fuel: "fuel",
};

/** What recognition said of the column comes first, then what its values, its unit and its name tell. */
export function unusedReason(
  column: RawColumn,
  notes: readonly Note[],
  open: readonly OpenChoice[],
  longitudeLatitude: boolean,
): string {
  const said = notes.find(({ field, effect }) => field === column.name && effect === "left out");
  if (said) return said.reason.replace(/; not used( as \w+)?$/, "");
  const quoted = JSON.stringify(column.name);
  const asked = open.find(({ lines }) => lines.some((line) => line.includes(quoted)));
  if (asked) return `may be ${asked.variable}, which is yours to choose below`;
  const { parts, units, ending } = splitUnit(column.name);
  const words = readWords(parts, column.name).flatMap((place) => [...place.words]);
  const measure = words.map((word) => KNOWN_MEASURES[word]).find((one) => one !== undefined);
  if (measure) return `tells of ${measure}, which the job has no use for here`;
  const dimension = units.map((unit) => UNITS[unit]?.dimension).find((one) => one !== undefined);
  if (dimension === "massPerArea" || dimension === "volumePerArea")
    return `ends in "${ending}", a rate by ${dimension === "massPerArea" ? 'weight; where it is one of seed, give the seeds in a pound, "seedSize": "2600 seeds/lb", in the manifest' : "volume; seeds are counted by number"}`;
  if (dimension === "pressure") return pressureReason(ending);
  const position = longitudeLatitude && /^(lon|lat|lng|x|y|easting|northing)/i.test(column.name);
  if (position) return "is the position of the record";
  if (isBlank(column)) return "has no values";
  if (words.length > 0 || units.length > 0)
    return "its name fits nothing the job needs; name it in the manifest where it is a measure of planting";
  return "its name says nothing that is known here; name it in the manifest where it is a measure of planting";
}

function pressureReason(ending: string | null): string {
  return `ends in "${ending}", a pressure; a load is needed in lbf, N, daN or kgf`;
}

/** Unused columns that hold a pressure and nothing else that is known: where a log has no load, one of them may be meant. */
export function pressureColumns(
  unrecognised: readonly string[],
  reasons: readonly string[],
): { name: string; reason: string }[] {
  return unrecognised
    .map((name, index) => ({ name, reason: reasons[index]! }))
    .filter(({ name, reason }) => reason === pressureReason(splitUnit(name).ending));
}

function isBlank(column: RawColumn): boolean {
  return column.kind === "number"
    ? column.values.every((value) => Number.isNaN(value))
    : column.codes.every((code) => code < 0);
}
