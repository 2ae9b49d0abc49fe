/** A place inside a polygon to write on, and the level cuts it is found with (even-odd rule). */

type Ring = readonly (readonly number[])[];

/** Where a level line crosses the rings, from west to east; inside is between the first and second, and so on. */
export function levelCrossings(rings: readonly Ring[], y: number): number[] {
  const cuts: number[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [xi, yi] = ring[i] as [number, number];
      const [xj, yj] = ring[j] as [number, number];
      if (yi > y !== yj > y) cuts.push(((xj - xi) * (y - yi)) / (yj - yi) + xi);
    }
  }
  return cuts.sort((a, b) => a - b);
}

/** The middle of the widest level cut near the polygon's middle, with that cut's width; null for an empty polygon. */
export function labelPlace(rings: readonly Ring[]): { place: [number, number]; width: number } | null {
  const heights = (rings[0] ?? []).map(([, y]) => y as number);
  if (heights.length === 0) return null;
  const south = heights.reduce((a, b) => Math.min(a, b));
  const north = heights.reduce((a, b) => Math.max(a, b));
  let best: { place: [number, number]; width: number } | null = null;
  for (const share of [0.5, 0.4, 0.6, 0.3, 0.7]) {
    const y = south + share * (north - south);
    const cuts = levelCrossings(rings, y);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const width = cuts[i + 1]! - cuts[i]!;
      if (!best || width > best.width * 1.2) best = { width, place: [(cuts[i]! + cuts[i + 1]!) / 2, y] };
    }
  }
  return best;
}
