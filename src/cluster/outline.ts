/** The shape of a found group: the low points in and about the tested place, and the ring about them. */
import type { Neighbours } from "./neighbours.ts";

/** Weight of a neighbour beside the point's own 1: a Gaussian at one spacing. */
const NEIGHBOUR_WEIGHT = Math.exp(-0.5);
/** How far, in neighbours, a group may reach beyond the place that was tested (our judgement). */
const LARGEST_REACH = 3;

/** Mean of each value and its neighbours, the neighbours weighted as by a Gaussian at one spacing. */
function smoothOverNeighbours(values: Float64Array, neighbours: Neighbours): Float64Array {
  return Float64Array.from(values, (own, i) => {
    let sum = own;
    let weight = 1;
    for (let k = neighbours.start[i]!; k < neighbours.start[i + 1]!; k++) {
      sum += NEIGHBOUR_WEIGHT * values[neighbours.index[k]!]!;
      weight += NEIGHBOUR_WEIGHT;
    }
    return sum / weight;
  });
}

/**
 * Points whose smoothed value lies below half the tested place's mean: those inside it, and those that hang
 * together with them over at most three neighbours. Points marked as excluded are passed over.
 * @param adjusted zone-adjusted stand ratio, negative where plants are missing
 * @returns ascending indices; the tested place itself where fewer than two points remain.
 */
export function outlineGroup(
  members: Int32Array,
  adjusted: Float64Array,
  neighbours: Neighbours,
  excluded: Uint8Array,
): Int32Array {
  const smooth = smoothOverNeighbours(adjusted, neighbours);
  let sum = 0;
  for (const member of members) sum += adjusted[member]!;
  const limit = sum / members.length / 2;
  const inside = new Set<number>();
  for (const member of members) if (!excluded[member] && smooth[member]! < limit) inside.add(member);
  const tested = new Set(members);
  let edge = [...inside];
  for (let step = 0; step < LARGEST_REACH; step++) {
    const next: number[] = [];
    for (const place of edge) {
      for (let k = neighbours.start[place]!; k < neighbours.start[place + 1]!; k++) {
        const other = neighbours.index[k]!;
        if (inside.has(other) || tested.has(other) || excluded[other] || smooth[other]! >= limit) continue;
        inside.add(other);
        next.push(other);
      }
    }
    edge = next;
  }
  return inside.size < 2 ? members : Int32Array.from(inside).sort();
}

/** The neighbours of a group's points that are not of it, ascending. */
export function ringAround(members: Int32Array, outline: Int32Array, neighbours: Neighbours): Int32Array {
  const inside = new Set([...members, ...outline]);
  const ring = new Set<number>();
  for (const place of inside) {
    for (let k = neighbours.start[place]!; k < neighbours.start[place + 1]!; k++) {
      const other = neighbours.index[k]!;
      if (!inside.has(other)) ring.add(other);
    }
  }
  return Int32Array.from(ring).sort();
}
