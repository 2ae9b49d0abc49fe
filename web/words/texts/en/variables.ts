/** What the page calls the variables it shows: the library's names with a capital. */
import { SHOWN_VARIABLES } from "../../../../src/vocabulary/shown-variables.ts";
import type { ShownVariable } from "../../../../src/vocabulary/variables.ts";
import { upperFirst } from "../../../../src/words/finding-words.ts";

export const variables = Object.fromEntries(
  Object.entries(SHOWN_VARIABLES).map(([variable, { name }]) => [variable, upperFirst(name)]),
) as Record<ShownVariable, string>;
