/** Spanish, as far as it goes; not yet read by anyone who grew up with it. */
import type { ENGLISH } from "../en/english.ts";
import type { Translation } from "../with-fallback.ts";
import { lists } from "./lists.ts";

export const SPANISH: Translation<typeof ENGLISH> = { lists };
