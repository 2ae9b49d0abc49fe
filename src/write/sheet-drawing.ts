/** Ground drawn on a sheet of paper: local metres to drawing units, north up. */
import type { LocalPolygon } from "../vocabulary/field.ts";

export interface SheetDrawing {
  at(x: number, y: number): [number, number];
  /** Path data of polygons, holes among them. */
  pathOf(polygons: readonly LocalPolygon[]): string;
  /** Arrow to the north in the upper right corner. */
  north: string;
  /** Drawing units a metre. */
  scale: number;
}

/** A drawing of so many units that shows all the points, with a margin. */
export function sheetDrawing(
  points: readonly (readonly [number, number])[],
  width: number,
  height: number,
  margin = 5,
): SheetDrawing {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [west, south] = [xs.reduce((a, b) => Math.min(a, b)), ys.reduce((a, b) => Math.min(a, b))];
  const [east, north] = [xs.reduce((a, b) => Math.max(a, b)), ys.reduce((a, b) => Math.max(a, b))];
  const scale = Math.min(
    (width - 2 * margin) / (east - west || 1),
    (height - 2 * margin) / (north - south || 1),
  );
  const at = (x: number, y: number): [number, number] => [
    round(width / 2 + (x - (west + east) / 2) * scale),
    round(height / 2 - (y - (south + north) / 2) * scale),
  ];
  const edge = width - 8;
  return {
    at,
    scale,
    pathOf: (polygons) =>
      polygons
        .flat()
        .map((ring) => `M${ring.map(([x, y]) => at(x, y).join(" ")).join("L")}Z`)
        .join(""),
    north: `<path d="M${edge} 14V4M${edge - 2} 7L${edge} 4L${edge + 2} 7" class="north"/><text x="${edge}" y="19">N</text>`,
  };
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
