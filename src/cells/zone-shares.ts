/** How much of each cell lies in which soil zone. */

/** Zones of cell c are `zone[start[c]..start[c + 1])`, the largest share first; where a cell lies outside all, its shares sum to less than 1. */
export interface ZoneShares {
  /** Length = cells + 1. */
  start: Int32Array;
  zone: Int32Array;
  /** Share of the cell's records, which stand for pieces of ground of about one size, 0..1. */
  share: Float64Array;
}

/**
 * @param cellOf cell of each record, -1 where none
 * @param zoneOf zone 0..zoneCount-1 of each record, -1 outside all
 */
export function zoneSharesOf(
  cellOf: Int32Array,
  zoneOf: Int32Array,
  cellCount: number,
  zoneCount: number,
): ZoneShares {
  const votes = new Int32Array(cellCount * zoneCount);
  const records = new Int32Array(cellCount);
  for (let i = 0; i < cellOf.length; i++) {
    const cell = cellOf[i]!;
    if (cell < 0) continue;
    records[cell]!++;
    if (zoneOf[i]! >= 0) votes[cell * zoneCount + zoneOf[i]!]!++;
  }
  const start = new Int32Array(cellCount + 1);
  const zone: number[] = [];
  const share: number[] = [];
  for (let cell = 0; cell < cellCount; cell++) {
    const own: number[] = [];
    for (let k = 0; k < zoneCount; k++) if (votes[cell * zoneCount + k]! > 0) own.push(k);
    own.sort((a, b) => votes[cell * zoneCount + b]! - votes[cell * zoneCount + a]! || a - b);
    for (const k of own) {
      zone.push(k);
      share.push(votes[cell * zoneCount + k]! / records[cell]!);
    }
    start[cell + 1] = zone.length;
  }
  return { start, zone: Int32Array.from(zone), share: Float64Array.from(share) };
}

/** Zone of the largest share of each cell, -1 where it lies outside all. */
export function largestZone({ start, zone }: ZoneShares): Int32Array {
  return Int32Array.from({ length: start.length - 1 }, (_, cell) =>
    start[cell]! < start[cell + 1]! ? zone[start[cell]!]! : -1,
  );
}

/** "Loam 0.71; Clay 0.29" for a cell that lies in several zones or partly outside them, null for one that lies in one. */
export function zoneSharesText(
  { start, zone, share }: ZoneShares,
  cell: number,
  names: readonly string[],
): string | null {
  const [from, to] = [start[cell]!, start[cell + 1]!];
  if (from === to || share[from] === 1) return null;
  return Array.from({ length: to - from }, (_, k) => {
    const name = names[zone[from + k]!]!;
    return `${name} ${share[from + k]!.toFixed(2)}`;
  }).join("; ");
}
