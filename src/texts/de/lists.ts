/** How things are named one after another. */
import type { ENGLISH } from "../en/english.ts";

export const lists: Partial<(typeof ENGLISH)["lists"]> = {
  all: (names) =>
    names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} und ${names.at(-1)}`,
};
