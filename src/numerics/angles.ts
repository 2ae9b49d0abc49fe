/** Headings: degrees clockwise from north, 0..360. */

const DEGREES = 180 / Math.PI;

/** Heading of the way from one point to another given by its parts east and north; NaN for no way at all. */
export function headingOf(east: number, north: number): number {
  if (east === 0 && north === 0) return Number.NaN;
  const heading = Math.atan2(east, north) * DEGREES;
  return heading < 0 ? heading + 360 : heading;
}

/** Turn from one heading to another, -180..180, positive to the right. */
export function turnBetween(fromDeg: number, toDeg: number): number {
  const turn = (((toDeg - fromDeg) % 360) + 540) % 360;
  return turn - 180;
}

/** Mean of headings as directions on the circle; NaN values are passed over. */
export function meanHeading(headings: Iterable<number>): number {
  let east = 0;
  let north = 0;
  for (const heading of headings) {
    if (Number.isNaN(heading)) continue;
    east += Math.sin(heading / DEGREES);
    north += Math.cos(heading / DEGREES);
  }
  return headingOf(east, north);
}

const COMPASS = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
] as const;

/** Name of the point of the compass nearest to a heading. */
export function compassPoint(headingDeg: number): string {
  return COMPASS[Math.round((((headingDeg % 360) + 360) % 360) / 45) % 8]!;
}
