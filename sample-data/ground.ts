/** The soil zones of the invented field and the places where its stand fell short, in field metres. */
import type { Position } from "./frame.ts";
import { streamOf } from "./noise.ts";
import { layPasses, OUTLINE, PASSES, type PlantedPass, passOutline } from "./passes.ts";
import { PLACES, type PlaceName, SOIL_TEXTURES, SOILS, type SoilTexture } from "./scenario.ts";
import {
  areaM2,
  type Band,
  type Blob,
  bandShape,
  blobShape,
  common,
  insideTest,
  ringShape,
  type Shape,
  shapeOfArea,
  together,
  without,
} from "./shapes.ts";

const CLAY_LOAM: Blob = {
  centre: [128, 535],
  halfAxes: [155, 175],
  waves: [
    [2, 0.05, 1],
    [3, 0.05, 2.1],
    [5, 0.02, 0.4],
  ],
};
const SANDY_LOAM: Blob = {
  centre: [655, 52],
  halfAxes: [165, 215],
  waves: [
    [2, 0.07, 0.3],
    [3, 0.06, 1.2],
    [7, 0.015, 2],
  ],
};
/** A draw that falls from the middle of the field to its west side. */
const SWALE: Band = {
  fromU: -100,
  toU: 490,
  middleV: (u) => 200 + 0.21 * u + 20 * Math.sin(u / 80),
  halfWidthM: (share) => 68 * (0.83 + 0.34 * share) * (4 * share * (1 - share)) ** 0.3,
};
/** The hardest ground of the clay loam. */
const KNOLL: Blob = {
  centre: [158, 512],
  halfAxes: [88, 118],
  waves: [
    [2, 0.05, 0.6],
    [3, 0.06, 4],
    [4, 0.03, 1],
  ],
};
/** A low spot where the rain stood and the soil crusted. */
const POCKET: Blob = {
  centre: [378, 560],
  halfAxes: [54, 62],
  waves: [
    [2, 0.05, 2],
    [3, 0.07, 0.2],
  ],
};

export const FIELD_SHAPE: Shape = ringShape(OUTLINE);

/** How far the places of the field are moved, metres, and the first fast pass among the short ones. */
interface Moved {
  /** With the clay loam about it. */
  knoll: Position;
  /** To the north. */
  swale: number;
  pocket: Position;
  firstFast: number | null;
}

/** The ground of one field. */
export interface Ground {
  passes: readonly PlantedPass[];
  zones: Readonly<Record<SoilTexture, Shape>>;
  places: Readonly<Record<PlaceName, Shape>>;
  /** Soil of a position; outside the field, or on a seam, silt loam as the ground most of it is. */
  textureAt(position: Position): SoilTexture;
  /** The place a position planted by a pass belongs to, null on ordinary ground. */
  placeAt(position: Position, pass: PlantedPass): PlaceName | null;
}

/** The ground as it is in the sample. */
export const GROUND = layGround({ knoll: [0, 0], swale: 0, pocket: [0, 0], firstFast: null });

/** The ground with its places moved by chance, so far that they stay inside and apart. */
export function movedGround(seed: number): Ground {
  const random = streamOf(seed, "places");
  const between = (low: number, high: number): number => low + (high - low) * random();
  return layGround({
    knoll: [between(-40, 50), between(-30, 40)],
    swale: between(-60, 40),
    pocket: [between(-25, 30), between(-60, 60)],
    firstFast: 1 + Math.floor(5 * random()),
  });
}

function layGround(moved: Moved): Ground {
  const passes = moved.firstFast === null ? PASSES : layPasses(moved.firstFast);
  const shift = (blob: Blob, [du, dv]: Position): Blob => ({
    ...blob,
    centre: [blob.centre[0] + du, blob.centre[1] + dv],
  });
  const swale: Band = { ...SWALE, middleV: (u) => SWALE.middleV(u) + moved.swale };
  const zones = makeZones(shift(CLAY_LOAM, moved.knoll), swale);
  const groundOf = (chosen: (pass: PlantedPass) => boolean): Shape =>
    together(passes.filter(chosen).map((pass) => [[passOutline(pass)]]));
  const blobPlace = (name: PlaceName, blob: Blob): Shape =>
    shapeOfArea(PLACES[name].areaHa * 10_000, (scale) => blobShape(blob, scale));
  const places = {
    knoll: blobPlace("knoll", shift(KNOLL, moved.knoll)),
    swaleDayTwo: common(
      zones["silty clay"],
      groundOf((pass) => pass.day === 2),
    ),
    fastPasses: groundOf((pass) => pass.fast),
    pocket: blobPlace("pocket", shift(POCKET, moved.pocket)),
  };
  const inZone = SOIL_TEXTURES.map((texture) => ({ texture, inside: insideTest(zones[texture]) }));
  const inKnoll = insideTest(places.knoll);
  const inPocket = insideTest(places.pocket);
  const textureAt = (position: Position): SoilTexture =>
    inZone.find(({ inside }) => inside(position))?.texture ?? "silt loam";
  return {
    passes,
    zones,
    places,
    textureAt,
    placeAt(position, pass) {
      if (pass.fast) return "fastPasses";
      if (pass.day === 2 && textureAt(position) === "silty clay") return "swaleDayTwo";
      if (inKnoll(position)) return "knoll";
      return inPocket(position) ? "pocket" : null;
    },
  };
}

function makeZones(clay: Blob, swale: Band): Record<SoilTexture, Shape> {
  const zone = (texture: SoilTexture, shapeAt: (scale: number) => Shape): Shape =>
    shapeOfArea(SOILS[texture].areaHa * 10_000, (scale) => common(shapeAt(scale), FIELD_SHAPE));
  const clayLoam = zone("clay loam", (scale) => blobShape(clay, scale));
  const siltyClay = zone("silty clay", (scale) => bandShape(swale, scale));
  const sandyLoam = zone("sandy loam", (scale) => blobShape(SANDY_LOAM, scale));
  return {
    "silt loam": without(FIELD_SHAPE, [clayLoam, siltyClay, sandyLoam]),
    "clay loam": clayLoam,
    "silty clay": siltyClay,
    "sandy loam": sandyLoam,
  };
}

/**
 * The outline of the field with the corners of the soil zones that lie on it, so that the outline and
 * the zones share every corner. Closed.
 */
export function boundaryRing(zones: Ground["zones"]): Position[] {
  const corners = SOIL_TEXTURES.flatMap((texture) => zones[texture].flat(2));
  const ring: Position[] = [];
  OUTLINE.forEach((from, index) => {
    const to = OUTLINE[(index + 1) % OUTLINE.length] as Position;
    const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const along = ([u, v]: Position) =>
      ((u - from[0]) * (to[0] - from[0]) + (v - from[1]) * (to[1] - from[1])) / lengthM;
    const aside = ([u, v]: Position) =>
      ((u - from[0]) * (to[1] - from[1]) - (v - from[1]) * (to[0] - from[0])) / lengthM;
    const between = new Map<string, Position>();
    for (const corner of corners) {
      const distance = along(corner);
      if (Math.abs(aside(corner)) < 0.001 && distance > 0.01 && distance < lengthM - 0.01) {
        between.set(corner.join(), corner);
      }
    }
    ring.push(from, ...[...between.values()].sort((a, b) => along(a) - along(b)));
  });
  return [...ring, ring[0] as Position];
}

/** Area of the field, a zone or a place in hectares. */
export function areaHa(shape: Shape): number {
  return areaM2(shape) / 10_000;
}
