/** Where to count so that a strip can be set against the ground beside it: along its middle, and as far along beside it. */

import { containsPoint } from "../causes/evidence/place-geometry.ts";
import type { LocalFrame } from "../vocabulary/field.ts";
import type { ProofSpot } from "./proof-result.ts";
import type { Sides } from "./sides.ts";

/**
 * Pairs of spots evenly along the longer middle line of the strip, the partner straight across on the side where the ground is of
 * the new load; a pair without such ground is left out.
 * @param counts spots a side
 * @param besideM distance of the partner from the strip's middle line, m
 */
export function spotsToCount(sides: Sides, counts: number, besideM: number, frame: LocalFrame): ProofSpot[] {
  const corners = sides.zone.polygons.flatMap(([outer]) => outer ?? []);
  const { middle, along, across, length, width } = boxOf(corners);
  const pairs: ProofSpot[] = [];
  for (let k = 0; k < counts; k++) {
    const way = ((k + 0.5) / counts - 0.5) * length;
    const at = (side: number): [number, number] => [
      middle[0] + along[0] * way + across[0] * side,
      middle[1] + along[1] * way + across[1] * side,
    ];
    const reach = width / 2 + besideM;
    // To the left and to the right in turn, so that a slope across the strip falls out.
    const tried = k % 2 === 0 ? [reach, -reach] : [-reach, reach];
    const partner = tried
      .map(at)
      .find(([x, y]) => sides.besideZones.some(({ polygons }) => containsPoint(polygons, x, y)));
    if (partner === undefined) continue;
    pairs.push(spotOf("strip", at(0)), spotOf("beside", partner));
  }
  return pairs;

  function spotOf(side: ProofSpot["side"], [x, y]: [number, number]): ProofSpot {
    const [longitude, latitude] = frame.toLonLat(x, y);
    return { zone: sides.zone.number, side, longitude, latitude };
  }
}

/** The box around the corners that lies along the longest edge. */
function boxOf(corners: readonly [number, number][]) {
  let along: [number, number] = [1, 0];
  let longest = 0;
  for (let i = 1; i < corners.length; i++) {
    const [dx, dy] = [corners[i]![0] - corners[i - 1]![0], corners[i]![1] - corners[i - 1]![1]];
    const length = Math.hypot(dx, dy);
    if (length <= longest) continue;
    longest = length;
    along = [dx / length, dy / length];
  }
  const across: [number, number] = [-along[1], along[0]];
  const span = ([ux, uy]: [number, number]): [number, number] => {
    const at = corners.map(([x, y]) => x * ux + y * uy);
    return [Math.min(...at), Math.max(...at)];
  };
  const [[a0, a1], [c0, c1]] = [span(along), span(across)];
  const [a, c] = [(a0 + a1) / 2, (c0 + c1) / 2];
  const middle = [along[0] * a + across[0] * c, along[1] * a + across[1] * c] as const;
  return { middle, along, across, length: a1 - a0, width: c1 - c0 };
}
