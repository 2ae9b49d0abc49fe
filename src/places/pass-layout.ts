/**
 * Which passes lie side by side. Passes are numbered in order of planting, and a driver may skip and come
 * back, so neighbours are read from the ground: passes of one direction form a block, ranked across it.
 */
import type { Cells } from "../cells/cells.ts";

/** Arrays are indexed by pass number (entry 0 is unused); -1 where a pass has no cells. */
export interface PassLayout {
  /** Block of passes of about one direction. */
  block: Int32Array;
  /** Place across the block; passes whose ranks differ by 1 lie side by side, equal ranks lie in line. */
  rank: Int32Array;
  /** Direction of each block, degrees clockwise from north, 0..180. */
  axisDeg: number[];
}

/** Passes whose directions differ by no more than this belong to one block, degrees (our judgement). */
const SAME_DIRECTION_DEG = 20;

/**
 * Lays out the passes of a field.
 * @param swathWidthM width of the bar, metres
 */
export function layOutPasses(cells: Cells, swathWidthM: number): PassLayout {
  const passCount = cells.pass.reduce((largest, pass) => Math.max(largest, pass), 0);
  const members: number[][] = Array.from({ length: passCount + 1 }, () => []);
  for (let i = 0; i < cells.count; i++) members[cells.pass[i]!]!.push(i);
  const axisOfPass = members.map((list) => axisOf(list.map((i) => cells.headingDeg[i]!)));
  const block = new Int32Array(passCount + 1).fill(-1);
  const rank = new Int32Array(passCount + 1).fill(-1);
  const leading: number[] = [];
  const order = members
    .map((_, pass) => pass)
    .filter((pass) => members[pass]!.length > 0)
    .sort((a, b) => members[b]!.length - members[a]!.length || a - b);
  for (const pass of order) {
    const found = leading.findIndex((axis) => axisDifference(axis, axisOfPass[pass]!) <= SAME_DIRECTION_DEG);
    block[pass] = found < 0 ? leading.push(axisOfPass[pass]!) - 1 : found;
  }
  const axisDeg = leading.map((_, index) =>
    axisOf(order.filter((pass) => block[pass] === index).map((pass) => axisOfPass[pass]!)),
  );
  axisDeg.forEach((axis, index) => {
    const passes = order.filter((pass) => block[pass] === index);
    const across = new Map(passes.map((pass) => [pass, meanAcross(cells, members[pass]!, axis)]));
    passes.sort((a, b) => across.get(a)! - across.get(b)! || a - b);
    let place = 0;
    let line = Number.NaN;
    for (const pass of passes) {
      const lateral = across.get(pass)!;
      if (Number.isNaN(line)) line = lateral;
      const steps = Math.round((lateral - line) / swathWidthM);
      if (steps > 0) {
        place += steps;
        line = lateral;
      }
      rank[pass] = place;
    }
  });
  return { block, rank, axisDeg };
}

/** Position along a direction, metres. */
export function positionAlong(x: number, y: number, axisDeg: number): number {
  const angle = (axisDeg * Math.PI) / 180;
  return x * Math.sin(angle) + y * Math.cos(angle);
}

/** Position to the right of a direction, metres. */
function positionAcross(x: number, y: number, axisDeg: number): number {
  const angle = (axisDeg * Math.PI) / 180;
  return x * Math.cos(angle) - y * Math.sin(angle);
}

function meanAcross(cells: Cells, members: readonly number[], axisDeg: number): number {
  let sum = 0;
  for (const i of members) sum += positionAcross(cells.x[i]!, cells.y[i]!, axisDeg);
  return sum / members.length;
}

/** Mean direction of headings that may run either way: the half of the mean of doubled angles (Mardia & Jupp 2000). */
function axisOf(headingsDeg: readonly number[]): number {
  let sine = 0;
  let cosine = 0;
  for (const heading of headingsDeg) {
    sine += Math.sin((heading * Math.PI) / 90);
    cosine += Math.cos((heading * Math.PI) / 90);
  }
  return ((Math.atan2(sine, cosine) * 90) / Math.PI + 180) % 180;
}

function axisDifference(a: number, b: number): number {
  const difference = Math.abs(a - b) % 180;
  return Math.min(difference, 180 - difference);
}
