/** Sides of a field. */
export const sides = {
  "north side": "north side",
  "south side": "south side",
  "east side": "east side",
  "west side": "west side",
  "north-east side": "north-east side",
  "north-west side": "north-west side",
  "south-east side": "south-east side",
  "south-west side": "south-west side",
  "middle of the field": "middle of the field",
};
