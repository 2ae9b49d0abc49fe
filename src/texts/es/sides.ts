/** Sides of a field. Not yet read by anyone who grew up with Spanish. */
import type { ENGLISH } from "../en/english.ts";

export const sides: Partial<(typeof ENGLISH)["sides"]> = {
  "north side": "lado norte",
  "south side": "lado sur",
  "east side": "lado este",
  "west side": "lado oeste",
  "north-east side": "lado noreste",
  "north-west side": "lado noroeste",
  "south-east side": "lado sudeste",
  "south-west side": "lado sudoeste",
  "middle of the field": "centro del lote",
};
