/** The ground of one row unit: a strip one row wide along each of its passes. */
import { simplifyLine } from "../numerics/coverage-grid.ts";
import { footprintCentre } from "../passes/covered-ground.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field, LocalPolygon } from "../vocabulary/field.ts";

const STRAIGHTEN_M = 0.3;

/**
 * Strips in local metres and their area.
 * @param inside 1 for the records of the row unit that count
 */
export function rowStrips(
  field: Field,
  passes: Passes,
  inside: Uint8Array,
): { polygons: LocalPolygon[]; areaM2: number } {
  const lines = new Map<number, { along: number; point: [number, number] }[]>();
  let areaM2 = 0;
  let width = 0.762;
  for (let i = 0; i < inside.length; i++) {
    if (!inside[i] || passes.passOf[i] === 0) continue;
    areaM2 += passes.distanceM[i]! * passes.widthM[i]!;
    width = passes.widthM[i]!;
    const entry = { along: passes.alongM[i]!, point: footprintCentre(field, passes, i) };
    const line = lines.get(passes.passOf[i]!);
    if (line) line.push(entry);
    else lines.set(passes.passOf[i]!, [entry]);
  }
  const polygons: LocalPolygon[] = [];
  for (const pass of [...lines.keys()].sort((a, b) => a - b)) {
    const points = lines
      .get(pass)!
      .sort((a, b) => a.along - b.along)
      .map((entry) => entry.point);
    const line = simplifyLine(points, STRAIGHTEN_M);
    if (line.length >= 2) polygons.push([strip(line, width / 2)]);
  }
  return { polygons, areaM2 };
}

/** Counter-clockwise ring `half` to both sides of a line. */
function strip(line: readonly [number, number][], half: number): [number, number][] {
  const right: [number, number][] = [];
  const left: [number, number][] = [];
  line.forEach(([x, y], k) => {
    const [x0, y0] = line[Math.max(0, k - 1)]!;
    const [x1, y1] = line[Math.min(line.length - 1, k + 1)]!;
    const length = Math.hypot(x1 - x0, y1 - y0) || 1;
    const acrossX = ((y1 - y0) / length) * half;
    const acrossY = (-(x1 - x0) / length) * half;
    right.push([x + acrossX, y + acrossY]);
    left.push([x - acrossX, y - acrossY]);
  });
  return [...right, ...left.reverse(), right[0]!];
}
