/**
 * Which fields are measured. The tool is adjusted on fields of the tuning seeds only and judged on those of the
 * judging seeds, which nobody looks at while adjusting it. A field is told by world, kind, counting and seed.
 */
import type { Counting, FieldKind, World } from "./worlds/make-field.ts";
import { WORLDS } from "./worlds/make-field.ts";

/** First seed of each set; fields take the seeds from there on, one each. The dense fields have seeds of their own. */
export const FIRST_SEED = {
  tuning: { "150 counts": 1_000, dense: 5_000 },
  judging: { "150 counts": 930_000, dense: 940_000 },
} as const;

export interface PlannedField {
  world: World;
  kind: FieldKind;
  counting: Counting;
  seed: number;
}

/** Of every twenty fields six are sound, three forgiving, eleven faulty. */
const TWENTY: readonly FieldKind[] = [
  "null",
  "ordinary",
  "forgiving",
  "null",
  "ordinary",
  "two factors",
  "ordinary",
  "null",
  "planting and crust",
  "ordinary",
  "forgiving",
  "null",
  "ordinary",
  "crust on a harmless change",
  "ordinary",
  "null",
  "two factors",
  "forgiving",
  "null",
  "planting and crust",
];

/** The first `count` fields of a set, the worlds by turns. */
export function planFields(set: keyof typeof FIRST_SEED, counting: Counting, count: number): PlannedField[] {
  return Array.from({ length: count }, (_, i) => ({
    world: WORLDS[i % 2]!,
    kind: TWENTY[Math.floor(i / 2) % 20]!,
    counting,
    seed: FIRST_SEED[set][counting] + i,
  }));
}
