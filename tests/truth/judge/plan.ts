/** Which fields are judged: worlds by turns, kinds by turns, one seed each. */
import type { DepthSource } from "./files.ts";
import { WORLDS, type WorldName } from "./worlds.ts";
import type { Kind } from "./wrongs.ts";

export interface PlannedField {
  world: WorldName;
  kind: Kind;
  seed: number;
  depthSource: DepthSource;
  /** How many counts are wanted; null for the world's usual 60 to 200. */
  wanted: number | null;
}

/** The usual mixture: of forty fields eleven sound, sixteen with places, two with a row unit, the rest contrasts. */
export const MIXTURE: readonly Kind[] = [
  "sound",
  "one",
  "zone-12",
  "two",
  "decoy",
  "unlisted",
  "day-12",
  "one",
  "sound",
  "field-12",
  "two",
  "lot-12",
  "one",
  "half-12",
  "sound",
  "zone-8",
  "two",
  "row-skips",
  "decoy",
  "one",
  "field-20",
  "sound",
  "unlisted",
  "lot-8",
  "two",
  "zone-20",
  "one",
  "sound",
  "day-8",
  "half-8",
  "decoy",
  "one",
  "field-8",
  "cut-12",
  "two",
  "sound",
  "row-sensor",
  "section-20",
  "one",
  "decoy",
];

/**
 * Fields of some worlds.
 * @param count in all
 * @param from first seed; the seeds follow one another
 */
export function planFields(
  worlds: readonly WorldName[],
  kinds: readonly Kind[],
  from: number,
  count: number,
  depthSource: DepthSource,
  wanted: number | null = null,
): PlannedField[] {
  const fields: PlannedField[] = [];
  for (let i = 0; fields.length < count && i < 100 * count; i++) {
    const world = worlds[i % worlds.length]!;
    // Each world starts elsewhere in the mixture, so that a short run sees many kinds.
    const turn = Math.floor(i / worlds.length) + 13 * (i % worlds.length);
    const kind = kinds[turn % kinds.length]!;
    if (isPossible(world, kind)) fields.push({ world, kind, seed: from + i, depthSource, wanted });
  }
  return fields;
}

/** A row unit or a section can only be told where the log writes it. */
function isPossible(world: WorldName, kind: Kind): boolean {
  return !kind.startsWith("row-") || WORLDS[world].layout === "row";
}
