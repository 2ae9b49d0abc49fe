/** What `npm run truth` runs: both ways of counting, world by world and together. */
import { type ScoredField, scoreField } from "./areas.ts";
import { FIRST_SEED, planFields } from "./plan.ts";
import { asText, tabulate } from "./table.ts";
import type { Counting } from "./worlds/make-field.ts";
import { WORLDS } from "./worlds/make-field.ts";

/**
 * Scores the first fields of a set and writes their tables.
 * @param onField called after each field, for progress
 */
export async function measure(
  set: keyof typeof FIRST_SEED,
  counting: Counting,
  count: number,
  onField: (field: ScoredField, done: number) => void,
): Promise<string> {
  const fields: ScoredField[] = [];
  for (const { world, kind, seed } of planFields(set, counting, count)) {
    fields.push(await scoreField(world, kind, counting, seed));
    onField(fields.at(-1)!, fields.length);
  }
  const first = FIRST_SEED[set][counting];
  const parts = [`## ${counting}, ${count} fields, ${set} seeds ${first} to ${first + count - 1}`];
  parts.push("### Both worlds", asText(tabulate(fields)));
  for (const world of WORLDS) {
    parts.push(`### World "${world}"`, asText(tabulate(fields.filter((field) => field.world === world))));
  }
  return `${parts.join("\n\n")}\n`;
}
