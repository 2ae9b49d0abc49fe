/** The page in German, as far as it is translated. Not checked by a native speaker. */
import type { Translation } from "../../../../src/texts/with-fallback.ts";
import type { ENGLISH } from "../en/english.ts";
import { header } from "./header.ts";
import { settings } from "./settings.ts";

export const GERMAN: Translation<typeof ENGLISH> = { header, settings };
