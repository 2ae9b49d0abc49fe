/** What lies in each drawn zone: its soil zones, and whether a piece of the smallest width and length fits in. */
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import { opened } from "./ground-limits.ts";
import type { GroundRaster } from "./ground-raster.ts";

/** A soil zone is named where it has this share of a drawn zone's ground, or has the most of it. */
const NAMED_SHARE = 0.05;

/**
 * Soil zones of each piece are named with the most of it first, null for ground without one.
 * @param pieces drawn zones; of a strip the soil zone it was drawn for
 * @param across smallest width, squares; `along` smallest length in travel, squares
 */
export function zoneGround(
  raster: GroundRaster,
  pieces: readonly { polygon: LocalPolygon; label: number; strip: { soil: number } | null }[],
  names: readonly string[],
  across: number,
  along: number,
): {
  soilNames: (string | null)[][];
  soilHa: { soilZone: string | null; areaHa: number }[][];
  fits: boolean[];
} {
  const { grid, heading, soil } = raster;
  const ofSquare = new Int32Array(soil.length).fill(-1);
  const soilHa: { soilZone: string | null; areaHa: number }[][] = [];
  const soilNames = pieces.map(({ polygon, strip }, index) => {
    const counts = new Map<number, number>();
    let all = 0;
    const rings = polygon.map((ring) => ring.map(([x, y]) => heading.turned(x, y)));
    grid.forEachRun(rings, (from, to) => {
      ofSquare.fill(index, from, to);
      for (let square = from; square < to; square++)
        counts.set(soil[square]!, (counts.get(soil[square]!) ?? 0) + 1);
      all += to - from;
    });
    soilHa.push(
      [...counts].map(([zone, count]) => ({
        soilZone: names[zone] ?? null,
        areaHa: (count * grid.stepM ** 2) / SQUARE_METRES_PER_HECTARE,
      })),
    );
    if (strip !== null) return [names[strip.soil] ?? null];
    const most = Math.max(...counts.values());
    // Ground without a soil zone that takes the most of a piece is named by no soil.
    return [...counts]
      .filter(([, count]) => count === most || count >= NAMED_SHARE * all)
      .sort((a, b) => b[1] - a[1] || a[0] - b[0])
      .map(([zone]) => names[zone] ?? null);
  });
  const fits = pieces.map(({ strip }) => strip !== null);
  const labels = new Set(pieces.map(({ label }) => label));
  for (const label of labels) {
    const covered = opened(
      { columns: grid.columns, rows: grid.rows, across, along },
      // Two zones of one soil never touch, so a rectangle of it lies in one zone.
      (square) => ofSquare[square]! >= 0 && pieces[ofSquare[square]!]!.label === label,
    );
    covered.forEach((inside, square) => {
      if (inside) fits[ofSquare[square]!] = true;
    });
  }
  return { soilNames, soilHa, fits };
}
