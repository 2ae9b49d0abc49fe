/** Sides of a field. Not yet read by anyone who grew up with German. */
import type { ENGLISH } from "../en/english.ts";

export const sides: Partial<(typeof ENGLISH)["sides"]> = {
  "north side": "Nordseite",
  "south side": "Südseite",
  "east side": "Ostseite",
  "west side": "Westseite",
  "north-east side": "Nordostseite",
  "north-west side": "Nordwestseite",
  "south-east side": "Südostseite",
  "south-west side": "Südwestseite",
  "middle of the field": "Mitte des Schlags",
};
