/** Which of the columns named like a time is used, and how it is read. */
import type { OpenChoice } from "../errors.ts";
import type { RawLayer } from "../ingest/layer.ts";
import type { NoteBook } from "../ingest/note-book.ts";
import { recordNumber } from "../ingest/record-number.ts";
import { type DayOrder, joinDateAndTime, readTimes, type TimeReading } from "../ingest/values/times.ts";
import type { ColumnGroup } from "./column-groups.ts";
import { openDayOrderChoice } from "./open-choice.ts";

export interface TimeCandidate {
  group: ColumnGroup;
  score: number;
}

export interface PickedTime {
  group: ColumnGroup;
  reading: TimeReading;
  score: number;
}

interface Question {
  layer: RawLayer;
  role: string;
  variable: string;
  /** Order of day and month the manifest gives, null where it gives none. */
  order: DayOrder | null;
  /** Year of planting, null where the manifest gives none. */
  year: number | null;
}

/** Picks moments before days, a date and a time of day together before either; null where nothing can be read. */
export function pickTime(
  candidates: readonly TimeCandidate[],
  { layer, role, variable, order, year }: Question,
  notes: NoteBook,
): PickedTime | { open: OpenChoice } | null {
  const readings: PickedTime[] = [];
  for (const { group, score } of candidates) {
    const result = readTimes(group.columns[0]!, order, year);
    if (result === null) {
      notes.add({
        reason: `cannot be read as dates or times (ISO times, seconds since 1970 or YYYYMMDD would be); not used as ${variable}`,
        effect: "left out",
        field: group.label,
      });
    } else if ("ambiguousDayOrder" in result) {
      return { open: openDayOrderChoice(role, variable, group, result.ambiguousDayOrder) };
    } else readings.push({ group, score, reading: result.reading });
  }
  readings.sort((a, b) => b.score - a.score);
  const picked = bestOf(readings);
  if (picked) {
    noteUnread(picked, layer, notes);
    for (const { group } of readings) {
      if (picked.group.columns.includes(group.columns[0]!)) continue;
      notes.add({
        reason: `holds times too, but "${picked.group.label}" is used as ${variable}`,
        effect: "left out",
        field: group.label,
      });
    }
  }
  return picked;
}

function bestOf(readings: readonly PickedTime[]): PickedTime | null {
  const of = (resolution: TimeReading["resolution"]) =>
    readings.find(({ reading }) => reading.resolution === resolution);
  const [clock, date, timeOfDay] = [of("clock"), of("date"), of("time-of-day")];
  if (!clock && date && timeOfDay) {
    const columns = [...date.group.columns, ...timeOfDay.group.columns];
    const label = `${date.group.label} + ${timeOfDay.group.label}`;
    const group = { columns, label, stem: date.group.stem };
    return { group, score: 0.9, reading: joinDateAndTime(date.reading, timeOfDay.reading) };
  }
  return clock ?? of("seconds") ?? date ?? timeOfDay ?? null;
}

function noteUnread({ group, reading }: PickedTime, layer: RawLayer, notes: NoteBook): void {
  if (!reading.unread) return;
  notes.add({
    reason: "cannot be read as a date or time; the value is left out",
    effect: "left out",
    field: group.label,
    record: recordNumber(layer, reading.unread.firstRecord - 1),
    value: reading.unread.value,
    count: reading.unread.count,
  });
}
