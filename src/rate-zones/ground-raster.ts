/**
 * The field as a raster that lies along the rows: u across the heading (to its right), v along it. What has to be
 * so many bars wide and so long in travel is a rectangle of squares here.
 */
import { CoverageGrid } from "../numerics/coverage-grid.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import type { Ground } from "./ground.ts";

/** Squares to a smallest width: borders follow the soil map to a twelfth of it (about 3 m at 24 rows). */
const SQUARES_TO_A_WIDTH = 12;
/** Squares of a raster as a rule, and at most; beyond, squares grow. */
const USUAL_SQUARES = 150_000;
const MOST_SQUARES = 1_500_000;
/** Squares beyond the outline on every side, so that borders reach past it. */
const MARGIN_SQUARES = 4;

export class Heading {
  private readonly sine: number;
  private readonly cosine: number;

  constructor(headingDeg: number) {
    this.sine = Math.sin((headingDeg * Math.PI) / 180);
    this.cosine = Math.cos((headingDeg * Math.PI) / 180);
  }

  /** Local metres to (u, v). */
  turned(x: number, y: number): [number, number] {
    return [x * this.cosine - y * this.sine, x * this.sine + y * this.cosine];
  }

  /** (u, v) to local metres. */
  back(u: number, v: number): [number, number] {
    return [u * this.cosine + v * this.sine, v * this.cosine - u * this.sine];
  }
}

export interface GroundRaster {
  heading: Heading;
  grid: CoverageGrid;
  /** 1 where the middle of the square lies in the field. */
  field: Uint8Array;
  /** Number of the soil zone's name, places after the soil zones; -1 where the soil map has none. */
  soil: Int16Array;
}

/** @param widthM smallest width of a zone, m */
export function rasterOf(ground: Ground, widthM: number): GroundRaster {
  const heading = new Heading(ground.headingDeg);
  const turned = (polygon: LocalPolygon): LocalPolygon =>
    polygon.map((ring) => ring.map(([x, y]) => heading.turned(x, y)));
  const outline = ground.outline.map(turned);
  let [minU, minV, maxU, maxV] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [u, v] of outline.flat(2)) {
    if (u < minU) minU = u;
    if (v < minV) minV = v;
    if (u > maxU) maxU = u;
    if (v > maxV) maxV = v;
  }
  const boxArea = (maxU - minU) * (maxV - minV);
  const wanted = Math.max(widthM / SQUARES_TO_A_WIDTH, Math.sqrt(boxArea / USUAL_SQUARES));
  const stepM = Math.max(Math.min(wanted, widthM / 3), Math.sqrt(boxArea / MOST_SQUARES));
  const margin = MARGIN_SQUARES * stepM;
  const grid = new CoverageGrid(minU - margin, minV - margin, maxU + margin, maxV + margin, stepM);
  const field = new Uint8Array(grid.mask.length);
  for (const rings of outline) grid.forEachRun(rings, (from, to) => field.fill(1, from, to));
  const soil = new Int16Array(grid.mask.length).fill(-1);
  const painted = (ground.soilZones?.polygons ?? []).map(({ zone, rings }) => {
    const runs: [number, number][] = [];
    let squares = 0;
    grid.forEachRun(turned(rings), (from, to) => {
      runs.push([from, to]);
      squares += to - from;
    });
    return { zone, runs, squares };
  });
  // Where polygons overlap the smaller one holds: it was drawn into the larger.
  for (const { zone, runs } of painted.toSorted((a, b) => b.squares - a.squares))
    for (const [from, to] of runs) soil.fill(zone, from, to);
  const before = soil.slice();
  const zoneCount = ground.soilZones?.names.length ?? 0;
  (ground.places ?? []).forEach(({ of, polygons }, k) => {
    for (const rings of polygons)
      grid.forEachRun(turned(rings), (from, to) => {
        for (let square = from; square < to; square++)
          if (before[square] === of) soil[square] = zoneCount + k;
      });
  });
  return { heading, grid, field, soil };
}
