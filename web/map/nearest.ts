/** The piece of ground nearest to a place: a plain walk over the columns, a fraction of a millisecond for 100,000. */
import { type Ground, mercatorPerMetre, mercatorX, mercatorY, offsetOf } from "../protocol/ground.ts";

/**
 * @param shown 0 for pieces to pass over; null for none
 * @returns index of the nearest piece within `reachM` metres, null when none is
 */
export function nearestPiece(
  ground: Ground,
  longitude: number,
  latitude: number,
  reachM: number,
  shown: Uint8Array | null = null,
): number | null {
  const x = mercatorX(longitude) - ground.origin[0];
  const y = mercatorY(latitude) - ground.origin[1];
  const coarse = (reachM + 60) * mercatorPerMetre(latitude);
  let best: number | null = null;
  let least = (reachM * mercatorPerMetre(latitude)) ** 2;
  for (let i = 0; i < ground.count; i++) {
    if (shown?.[i] === 0) continue;
    const dx = ground.centre[2 * i]! - x;
    const dy = ground.centre[2 * i + 1]! - y;
    if (Math.abs(dx) > coarse || Math.abs(dy) > coarse) continue;
    const [pieceX, pieceY] = offsetOf(ground, i);
    const distance = (pieceX - x) ** 2 + (pieceY - y) ** 2;
    if (distance < least) {
      least = distance;
      best = i;
    }
  }
  return best;
}
