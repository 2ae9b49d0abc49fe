/** The page in English, by topic: what every other language falls back to. */
import { header } from "./header.ts";
import { settings } from "./settings.ts";

export const ENGLISH = { header, settings };
