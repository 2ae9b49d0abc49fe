/** When each record of the log was planted, and the records in that order. */
import { isoDateOf } from "../ingest/values/times.ts";
import type { LayerReading } from "../recognise/layer-reading.ts";
import { pick } from "../recognise/layer-reading.ts";

export interface LogTime {
  /** Seconds since 1970, one entry a kept record; NaN where missing. */
  seconds: Float64Array;
  hasClockTime: boolean;
  /** The times count from an unknown start: neither the hour nor (over midnight) the day is known. */
  clockFromZero: boolean;
  /** ISO date of the first record with a date, null where the log has none. */
  firstDate: string | null;
}

/** The log's times; times without a day are put on the day of planting, or on 1970-01-01 where that is unknown. */
export function timeOf(reading: LayerReading, kept: Int32Array, planted: string | null): LogTime | null {
  const found = reading.found("time");
  if (!found?.time) return null;
  const { resolution } = found.time;
  let seconds = pick(found.time.seconds, kept);
  if (resolution === "time-of-day" || resolution === "seconds") {
    const start = planted === null ? 0 : Date.parse(`${planted}T00:00:00Z`) / 1000;
    if (resolution === "time-of-day") seconds = withoutMidnightJumps(seconds);
    else if (!reading.found("rowUnit") && !reading.found("section")) {
      seconds = withoutRestarts(seconds, reading);
    }
    seconds = seconds.map((value) => value + start);
    reading.notes.add({
      reason: `has ${found.time.reason}; ${planted === null ? "the day is not known" : `the day is taken as ${planted}`}`,
      effect: "assumed",
      field: found.group.label,
      count: kept.length,
    });
    return {
      seconds,
      hasClockTime: true,
      clockFromZero: resolution === "seconds" || planted === null,
      firstDate: null,
    };
  }
  let first = Number.POSITIVE_INFINITY;
  for (let record = 0; record < seconds.length; record++)
    if (seconds[record]! < first) first = seconds[record]!;
  return {
    seconds,
    hasClockTime: resolution === "clock",
    clockFromZero: false,
    firstDate: Number.isFinite(first) ? isoDateOf(first) : null,
  };
}

const SECONDS_PER_DAY = 86_400;

/** Adds a day each time the clock falls back by more than half a day. */
function withoutMidnightJumps(seconds: Float64Array): Float64Array {
  let days = 0;
  let previous = Number.NaN;
  return seconds.map((value) => {
    if (previous - value > SECONDS_PER_DAY / 2) days += 1;
    if (!Number.isNaN(value)) previous = value;
    return value + days * SECONDS_PER_DAY;
  });
}

/** Pause put between two pieces whose clock starts anew, seconds: longer than any turn. */
const PAUSE_BETWEEN_PIECES_S = 600;

/** A count of seconds that falls back starts anew: what follows is put behind what came before. */
function withoutRestarts(seconds: Float64Array, reading: LayerReading): Float64Array {
  let shift = 0;
  let latest = Number.NEGATIVE_INFINITY;
  let previous = Number.NaN;
  let restarts = 0;
  const shifted = seconds.map((value) => {
    if (value < previous) {
      restarts += 1;
      shift = latest + PAUSE_BETWEEN_PIECES_S - value;
    }
    if (!Number.isNaN(value)) previous = value;
    if (value + shift > latest) latest = value + shift;
    return value + shift;
  });
  if (restarts > 0) {
    reading.notes.add({
      reason: "counts its seconds anew; the pieces are taken one after the other as they stand in the file",
      effect: "assumed",
      field: reading.found("time")!.group.label,
      count: restarts,
    });
  }
  return shifted;
}
