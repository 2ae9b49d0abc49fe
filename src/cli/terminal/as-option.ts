/** Values of options: what cannot be read is the command line's fault. */
import { isEvenstandError } from "../../errors.ts";
import { CommandLineError } from "./failure.ts";

/** What cannot be read in an option is the command line's fault, not an input's. */
export function asOption<Value>(option: string, read: () => Value): Value {
  try {
    return read();
  } catch (error) {
    if (!isEvenstandError(error)) throw error;
    const says = error.message.includes(option) ? error.message : `${option}: ${error.message}`;
    throw new CommandLineError(says, { ...error.details, cause: error });
  }
}
