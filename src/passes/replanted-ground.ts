/** Ground planted again weeks after it was planted: replanted, which no overlap of passes is. */
import type { Note } from "../errors.ts";
import { signedArea } from "../numerics/coverage-grid.ts";
import type { Field } from "../vocabulary/field.ts";
import { barWidth, footprintCentre, gridOver, MOST_SQUARES } from "./covered-ground.ts";
import { forEachGround, largeParts, PART_STEP_M } from "./ground-balance.ts";
import type { Passes } from "./passes.ts";

/**
 * Days between two plantings of one place from which the second is a replanting (our judgement: corn is up, and its
 * stand can be told, after 7 to 14 days in warm soil; the same planting seldom comes back to its ground that late).
 */
export const REPLANTED_AFTER_DAYS = 10;

export interface ReplantedGround {
  /** Ground planted again, m2, in parts as large as those that count as planted twice. */
  areaM2: number;
  /** ISO dates of the plantings: of the first there, and the first and last day of planting it again. */
  firstPlanted: string;
  again: [string, string];
  /** 1 for records of the earlier planting there. */
  earlier: Uint8Array;
}

const DAY_MS = 86_400_000;

/** Null where nothing was planted again so late, or the log has no dates. */
export function replantedGround(field: Field, passes: Passes): ReplantedGround | null {
  const dayOf = passes.passes.map(({ date }) => (date === null ? Number.NaN : Date.parse(date) / DAY_MS));
  let [firstDay, lastDay] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const day of dayOf) {
    if (day < firstDay) firstDay = day;
    if (day > lastDay) lastDay = day;
  }
  if (!(lastDay - firstDay >= REPLANTED_AFTER_DAYS)) return null;
  const grid = gridOver(field, passes, PART_STEP_M, MOST_SQUARES, 0);
  if (!grid) return null;
  // Days from 1 upwards, 0 where none.
  const early = new Int32Array(grid.mask.length);
  const late = new Int32Array(grid.mask.length);
  forEachGround(
    grid,
    field,
    passes,
    () => false,
    (pass) => {
      const day = dayOf[pass - 1]! - firstDay + 1;
      return (from, to) => {
        // A pass without a date says nothing.
        if (Number.isNaN(day)) return;
        for (let square = from; square < to; square++) {
          if (early[square] === 0 || day < early[square]!) early[square] = day;
          if (day > late[square]!) late[square] = day;
        }
      };
    },
  );
  for (let square = 0; square < late.length; square++) {
    grid.mask[square] = late[square]! - early[square]! >= REPLANTED_AFTER_DAYS ? 1 : 0;
  }
  const parts = largeParts(grid, barWidth(passes));
  if (parts.length === 0) return null;
  grid.mask.fill(0);
  for (const rings of parts) grid.forEachRun(rings, (from, to) => grid.mask.fill(1, from, to));
  const earlier = Uint8Array.from(passes.passOf, (pass, record) => {
    if (pass === 0) return 0;
    const [x, y] = footprintCentre(field, passes, record);
    const square = grid.squareAt(x, y);
    if (square < 0 || grid.mask[square] === 0) return 0;
    const day = dayOf[pass - 1]! - firstDay + 1;
    return late[square]! - day >= REPLANTED_AFTER_DAYS ? 1 : 0;
  });
  if (!earlier.includes(1)) return null;
  let first = Number.POSITIVE_INFINITY;
  let [from, to] = [Number.POSITIVE_INFINITY, 0];
  for (let square = 0; square < late.length; square++) {
    if (grid.mask[square] === 0 || late[square]! - early[square]! < REPLANTED_AFTER_DAYS) continue;
    first = Math.min(first, early[square]!);
    from = Math.min(from, late[square]!);
    to = Math.max(to, late[square]!);
  }
  const isoDate = (day: number): string => new Date((firstDay + day - 1) * DAY_MS).toISOString().slice(0, 10);
  return {
    areaM2: parts.flat().reduce((sum, ring) => sum + signedArea(ring), 0),
    firstPlanted: isoDate(first),
    again: [isoDate(from), isoDate(to)],
    earlier,
  };
}

/** The field without the earlier planting of what was planted again: its records count as lifted. */
export function withoutEarlierPlanting(field: Field, { earlier }: ReplantedGround): Field {
  const { log } = field;
  const working = Float64Array.from(earlier, (isEarlier, record) =>
    isEarlier === 1 ? 0 : (log.values.working?.[record] ?? 1),
  );
  return { ...field, log: { ...log, values: { ...log.values, working } } };
}

/** What is told of the records of the earlier planting. */
export function replantedNote({ log }: Field, { earlier }: ReplantedGround): Note {
  return {
    reason: `planted ${REPLANTED_AFTER_DAYS} days or more before the same ground was planted again: replanted, only the later planting is judged`,
    effect: "left out",
    count: earlier.reduce((sum, isEarlier) => sum + isEarlier, 0),
    field: null,
    firstRecord: log.fileRecord[earlier.indexOf(1)]!,
    value: null,
  };
}
