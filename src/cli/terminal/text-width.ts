/** How wide text is written to the terminal. */
import type { Io } from "./io.ts";

/** Width where the terminal does not say, and the widest and narrowest that read well. */
const WIDTH = { usual: 80, widest: 100, narrowest: 40 };

/** Columns to wrap at. */
export function textWidth(io: Io): number {
  return Math.max(WIDTH.narrowest, Math.min(WIDTH.widest, io.columns ?? WIDTH.usual));
}
