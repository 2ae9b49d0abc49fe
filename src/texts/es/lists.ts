/** How things are named one after another. */
import type { ENGLISH } from "../en/english.ts";

/** "y" becomes "e" in front of the sound of i. */
const joint = (next: string): string => (/^h?i(?![aeo])/i.test(next) ? "e" : "y");

export const lists: Partial<(typeof ENGLISH)["lists"]> = {
  all: (names) => {
    const last = names.at(-1) ?? "";
    return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} ${joint(last)} ${last}`;
  },
};
