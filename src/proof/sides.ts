/** Which ground and which counts stand for a strip, and which for the ground beside it. */
import { containsPoint, distanceToPolygons } from "../causes/evidence/place-geometry.ts";
import type { Analysis } from "../findings/analysis.ts";
import { distanceToSegment } from "../numerics/coverage-grid.ts";
import type { Spots } from "../stand/spots.ts";
import type { LocalPolygon } from "../vocabulary/field.ts";
import type { SentZone } from "./sent-zones.ts";

/** Ground beside a strip is no further from it than this, m: like ground, still wide enough for some passes (our judgement). */
export const BESIDE_M = 80;
/** Ground nearer to the edge of a strip than this, m, belongs to neither side: the load takes that way to change, positions are off (our judgement). */
export const EDGE_M = 12;
/** The same for a count, m, which has no lag of a machine (our judgement). */
export const COUNT_EDGE_M = 3;

export interface Sides {
  zone: SentZone;
  /** Zones of the same soil with the new load. */
  besideZones: SentZone[];
  /** Indexes of cells and of spots on each side. */
  cells: { strip: number[]; beside: number[] };
  spots: { strip: number[]; beside: number[] };
}

/** The sides of each strip, in the order of the strips. */
export function sidesOf(analysis: Analysis, spots: Spots | null, zones: readonly SentZone[]): Sides[] {
  const { cells } = analysis;
  const strips = zones.filter(({ isStrip }) => isStrip);
  const soils = analysis.field.soilZones;
  /** A soil that a strip lies on, as the file names it; ground of another soil beside it is not like it. */
  const isLike = (zone: SentZone, soil: number): boolean =>
    soils === null || soil < 0 || zone.soil.split(", ").includes(soils.names[soil]!);
  return strips.map((zone) => {
    const besideZones = zones.filter(({ isStrip, soil }) => !isStrip && sharesSoil(soil, zone.soil));
    const sort = (x: number, y: number, soil: number, edgeM: number): keyof Sides["cells"] | null => {
      if (!isLike(zone, soil)) return null;
      const away = distanceToPolygons(zone.polygons, x, y);
      if (away === 0) return distanceInside(zone.polygons, x, y) >= edgeM ? "strip" : null;
      if (away < edgeM || away > BESIDE_M) return null;
      if (strips.some((other) => distanceToPolygons(other.polygons, x, y) < edgeM)) return null;
      return besideZones.some(({ polygons }) => containsPoint(polygons, x, y)) ? "beside" : null;
    };
    const sorted = (count: number, at: (i: number) => keyof Sides["cells"] | null) => {
      const sides: Sides["cells"] = { strip: [], beside: [] };
      for (let i = 0; i < count; i++) {
        const side = at(i);
        if (side) sides[side].push(i);
      }
      return sides;
    };
    return {
      zone,
      besideZones,
      cells: sorted(cells.count, (i) => sort(cells.x[i]!, cells.y[i]!, cells.zone[i]!, 0.5 * EDGE_M)),
      spots: sorted(spots?.count ?? 0, (i) =>
        sort(spots!.x[i]!, spots!.y[i]!, spots!.zone[i]!, COUNT_EDGE_M),
      ),
    };
  });
}

function sharesSoil(one: string, other: string): boolean {
  const names = new Set(one.split(", "));
  return other.split(", ").some((name) => names.has(name));
}

/** Distance from a point inside to the edge, m. */
function distanceInside(polygons: readonly LocalPolygon[], x: number, y: number): number {
  return Math.min(
    ...polygons
      .flat()
      .flatMap((ring) => ring.slice(1).map((end, i) => distanceToSegment([x, y], ring[i]!, end))),
  );
}
