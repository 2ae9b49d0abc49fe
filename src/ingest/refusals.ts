/** Refusals more than one reader makes. */
import { FileUnusableError } from "../errors.ts";

export function emptyLayer(file: string, role: string): FileUnusableError {
  const accepted = "a file with at least one record";
  return new FileUnusableError(`${file}: holds no records at all; accepted for ${role} is ${accepted}`, {
    file,
    value: "0 records",
    accepted,
  });
}
