/** Flag tests as people write them: "2026-05-06:18; 2026-05-07:9; 2026-05-10:4". */
import { recordNumber } from "../ingest/record-number.ts";
import type { LayerReading } from "../recognise/layer-reading.ts";
import type { FlaggedPlants } from "../vocabulary/field.ts";

/** Newly emerged plants of each visit; null where a spot has no flag test, null altogether where the file has none. */
export function flagTests(reading: LayerReading, kept: Int32Array): (FlaggedPlants[] | null)[] | null {
  const texts = reading.texts("flagTest", kept);
  if (!texts) return null;
  return texts.map((text, index) => {
    if (text === null || text.trim() === "") return null;
    const visits = text
      .split(/[;,|]/)
      .filter((part) => part.trim() !== "")
      .map(visitOf);
    if (visits.every((visit) => visit !== null) && visits.some(({ plants }) => plants > 0)) return visits;
    reading.notes.add({
      reason:
        'is not a flag test such as "2026-05-06:18; 2026-05-07:9" (date:plants newly up); the flag test is left out',
      effect: "left out",
      field: reading.found("flagTest")!.group.label,
      record: recordNumber(reading.layer, kept[index]!),
      value: text,
    });
    return null;
  });
}

function visitOf(part: string): FlaggedPlants | null {
  const match = /^\s*(\d{4}-\d{2}-\d{2})\s*[:=]\s*(\d+)\s*$/.exec(part);
  if (!match || !isDate(match[1]!)) return null;
  return { isoDate: match[1]!, plants: Number(match[2]) };
}

function isDate(isoDate: string): boolean {
  const time = Date.parse(`${isoDate}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(isoDate);
}
