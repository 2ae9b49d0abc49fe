/** Which records count in the comparison. */
import type { Field } from "../../vocabulary/field.ts";

/** 1 for records that count: all but those with `working` 0. */
export function plantedRecords(field: Field): Uint8Array {
  const { recordCount, values } = field.log;
  const planted = new Uint8Array(recordCount).fill(1);
  const { working } = values;
  if (working) for (let i = 0; i < recordCount; i++) if (working[i] === 0) planted[i] = 0;
  return planted;
}
