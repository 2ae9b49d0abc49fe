/** Logs of other machines: a harvest, fertilizer or spray, which share speed, width and positions with planting. */
import type { RawLayer } from "../ingest/layer.ts";
import { readWords, splitName } from "./column-words.ts";
import { splitUnit } from "./units/unit-suffix.ts";

/** Words that only a planter's log has. */
const PLANTING = [
  "singulation",
  "multiples",
  "misses",
  "population",
  "seed",
  "plant",
  "planter",
  "down",
  "margin",
  "variety",
];
const HARVEST = ["yield", "grain"];
const SPREAD = ["nitrogen", "fertilizer", "spray", "manure"];

/** What machine's log a layer is by the words of its columns; null where it may be a planter's. */
export function foreignLog(layer: RawLayer): { kind: string; column: string } | null {
  const columns = layer.columns.map(({ name }) => {
    const { parts, units } = splitUnit(name);
    return { name, units, words: readWords(parts, name).flatMap(({ words }) => [...words]) };
  });
  if (columns.some(({ words }) => words.some((word) => PLANTING.includes(word)))) return null;
  const withWord = (wanted: readonly string[]) =>
    columns.find(({ words }) => words.some((word) => wanted.includes(word)));
  const harvest = withWord(HARVEST);
  if (harvest) return { kind: "a harvest log", column: harvest.name };
  const spread = withWord(SPREAD);
  if (spread) return { kind: "a log of fertilizer or spray", column: spread.name };
  const file = readWords(splitName(layer.file.split("/").at(-1) ?? ""), layer.file).flatMap(({ words }) => [
    ...words,
  ]);
  if (file.some((word) => SPREAD.includes(word)))
    return { kind: "a log of fertilizer or spray", column: layer.file };
  return null;
}
