/** What exactly each variable is, the technical term with it: the library's own words. */
import { SHOWN_VARIABLES } from "../../../../src/vocabulary/shown-variables.ts";
import type { ShownVariable } from "../../../../src/vocabulary/variables.ts";

export const variablesMeant = Object.fromEntries(
  Object.entries(SHOWN_VARIABLES).map(([variable, { what }]) => [variable, what]),
) as Record<ShownVariable, string>;
