/**
 * The ground of a prescription: the outline divided into zones of one soil and load each that a machine can follow.
 *
 * Raster-led where judgement is asked for (what is wide and long enough is a question of squares along the rows),
 * exact where files are concerned: the smoothed borders of the raster and the outline as it stands are laid into
 * one planar subdivision on a fine lattice, so that zones fill the outline without gap or overlap.
 */
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import { FARM_ENGLISH, type Writing } from "../texts/language.ts";
import type { DrawnGround, DrawnZone, Ground, GroundLimits, GroundLoads } from "./ground.ts";
import { bordersBetween } from "./ground-borders.ts";
import { drivableLabels } from "./ground-limits.ts";
import { soundOutline, speckNotes, straightOutline } from "./ground-outline.ts";
import { type GroundRaster, rasterOf } from "./ground-raster.ts";
import { planRates } from "./ground-rates.ts";
import { type ProofStrip, placeStrips, type StripSize } from "./ground-strips.ts";
import { type Partition, type PartitionLine, partitionOf } from "./partition-outline.ts";
import { zoneGround } from "./rate-zone-ground.ts";
import { groundGuards, groundNotes } from "./rate-zone-guards.ts";

/**
 * How far borders (in squares) and the outline (m) may be straightened, in turn, until the vertices are few
 * enough. The outline is touched last and by no more than would change the field's area.
 */
const STRAIGHTENING = [
  { borderSquares: 0.35, outlineM: 0 },
  { borderSquares: 0.7, outlineM: 0 },
  { borderSquares: 1.4, outlineM: 0 },
  { borderSquares: 1.4, outlineM: 0.02 },
  { borderSquares: 1.4, outlineM: 0.1 },
  { borderSquares: 2, outlineM: 0.3 },
  { borderSquares: 2, outlineM: 1 },
] as const;
/** Share of the field's area that straightening the outline may add or take. */
const OUTLINE_AREA_SHARE = 5e-5;
/** Whole metres a strip's length is rounded up to, so that its area is not at the limit itself. */
const STRIP_STEP_M = 5;

/**
 * Draws the zones. Every limit that can be kept is kept; a guard says which were, which moved something and
 * which the field itself does not allow. An outline without ground gives no zones and a guard that refuses.
 * @param units what the sentences of the guards and notes are in; the ground does not depend on it
 */
export function drawRateZones(
  ground: Ground,
  loads: GroundLoads,
  limits: GroundLimits,
  writing: Writing = FARM_ENGLISH,
): DrawnGround {
  const { outline, notes } = soundOutline(ground.outline);
  if (outline.length === 0) {
    const words = "There is no outline of the field that goes round any ground, so no zones are drawn.";
    return { zones: [], guards: [{ code: "whole-field", result: "refused", words }], notes };
  }
  const widthM = limits.smallestWidthBars * ground.swathWidthM;
  const lengthM = Math.max(limits.shortestM, widthM);
  const smallestAreaM2 = limits.smallestAreaHa * SQUARE_METRES_PER_HECTARE;
  const raster = rasterOf({ ...ground, outline }, widthM);
  const { stepM } = raster.grid;
  const across = Math.max(1, Math.round(widthM / stepM));
  const along = Math.max(1, Math.round(lengthM / stepM));

  const soilNames = ground.soilZones?.names ?? [];
  const names = [...soilNames, ...(ground.places ?? []).map(({ name }) => name)];
  // Ground is drawn by soil zone, whatever its load: an edit of a load moves no border and no number.
  const labelCount = names.length + 1;
  const labelOf = labelsOf(names, loads);
  const wanted = raster.soil.map((soil) => labelOf[soil === -1 ? names.length : soil]!);
  const plan = planRates(
    names,
    squaresOf(raster.field, wanted, labelCount),
    loads,
    limits.mostRates,
    limits.proofStrips,
    writing,
  );
  const labels = drivableLabels(raster, wanted, labelCount, across, along);
  const sizes = stripSizes(ground.swathWidthM, limits, widthM, lengthM);
  const { strips, without } = placeStrips(raster, labels, plan, sizes);

  const { partition, vertices, outlineM } = partitionWithin(outline, raster, labels, strips, labelCount, {
    smallestAreaM2,
    mostPolygons: limits.mostPolygons,
    mostVertices: limits.mostVertices,
  });
  const pieces = partition.regions.map((region) => ({
    ...region,
    strip: strips[region.label - labelCount] ?? null,
  }));
  const {
    soilNames: named,
    soilHa,
    fits,
  } = zoneGround(
    raster,
    pieces,
    names,
    // Smoothed borders lie up to a square inside.
    Math.max(1, across - 1),
    Math.max(1, along - 1),
  );
  const loadOf = (label: number): number => plan.values[plan.rateOfSoil[label]!]!;
  const zones = pieces.map(
    (piece, index): DrawnZone => ({
      number: 0,
      soilZones: named[index]!,
      soilHa: soilHa[index]!,
      proofStrip: piece.strip !== null,
      areaHa: piece.areaM2 / SQUARE_METRES_PER_HECTARE,
      polygon: piece.polygon,
      marginN: piece.strip?.todayN ?? loadOf(piece.label),
    }),
  );
  const numbered = numberedZones(zones, names);
  const moved = movedShare(raster, wanted, labels, loadOf);
  return {
    zones: numbered,
    guards: groundGuards({
      writing,
      limits,
      widthM,
      lengthM,
      partition,
      zones,
      fits,
      movedShare: moved,
      plan,
      names,
      vertices,
      outlineM,
      strips,
      stripsWithout: without.map((soil) => names[soil] ?? "ground without a soil zone"),
    }),
    notes: [...notes, ...speckNotes(partition), ...groundNotes(raster, soilNames, writing)],
  };
}

/**
 * Sizes of a strip in the order wanted: as narrow and long as the limits allow, or else wider and shorter; with ground
 * before and behind it that the down-force system can follow, or else as much as beside it.
 */
function stripSizes(
  swathWidthM: number,
  limits: GroundLimits,
  besideM: number,
  lengthM: number,
): StripSize[] {
  const bars = Math.ceil(limits.smallestWidthBars);
  const smallestAreaM2 = limits.smallestAreaHa * SQUARE_METRES_PER_HECTARE;
  return [bars, 2 * bars].flatMap((width) => {
    const widthM = width * swathWidthM;
    const needed = Math.max(lengthM, (smallestAreaM2 + 1) / widthM);
    const size = { widthM, lengthM: STRIP_STEP_M * Math.ceil(needed / STRIP_STEP_M), besideM };
    return [
      { ...size, beforeM: lengthM },
      { ...size, beforeM: besideM },
    ];
  });
}

/** Squares of the field under each label. */
function squaresOf(field: Uint8Array, labels: Int16Array, labelCount: number): number[] {
  const squares = Array.from({ length: labelCount }, () => 0);
  field.forEach((inside, square) => {
    if (inside) squares[labels[square]!]!++;
  });
  return squares;
}

/** Label of each soil zone, and last of ground without one: soil zones without a load of their own are of the latter. */
function labelsOf(names: readonly string[], loads: GroundLoads): number[] {
  return [...names.map((name, soil) => (loads.soilZones[name] ? soil : names.length)), names.length];
}

function movedShare(
  { field }: GroundRaster,
  wanted: Int16Array,
  labels: Int16Array,
  loadOf: (label: number) => number,
): number {
  let [moved, all] = [0, 0];
  field.forEach((inside, square) => {
    if (!inside) return;
    all++;
    if (loadOf(wanted[square]!) !== loadOf(labels[square]!)) moved++;
  });
  return all === 0 ? 0 : moved / all;
}

/** The partition with the least straightening that keeps the number of vertices, or else with the fewest. */
function partitionWithin(
  outline: Ground["outline"],
  raster: GroundRaster,
  labels: Int16Array,
  strips: readonly ProofStrip[],
  labelCount: number,
  limits: { smallestAreaM2: number; mostPolygons: number; mostVertices: number },
): { partition: Partition; vertices: number; outlineM: number } {
  const { grid, heading } = raster;
  let best: { partition: Partition; vertices: number; outlineM: number } | null = null;
  let areaM2: number | null = null;
  const isOneLabel = labels.every((label) => label === labels[0]);
  for (const { borderSquares, outlineM } of STRAIGHTENING) {
    const borders = isOneLabel
      ? []
      : bordersBetween(labels, grid.columns, grid.rows, borderSquares).map(
          ({ line, left, right }): PartitionLine => ({
            line: line.map(([column, row]) =>
              heading.back(grid.minX + column * grid.stepM, grid.minY + row * grid.stepM),
            ),
            left,
            right,
          }),
        );
    const partition = partitionOf({
      outline: outlineM === 0 ? outline : straightOutline(outline, outlineM),
      borders,
      labelCount,
      strips: strips.map((strip) => strip.corners),
      ...limits,
    });
    areaM2 ??= partition.areaM2;
    if (Math.abs(partition.areaM2 - areaM2) > OUTLINE_AREA_SHARE * areaM2) continue;
    const vertices = partition.regions
      .flatMap((region) => region.polygon)
      .reduce((sum, ring) => sum + ring.length, 0);
    if (best === null || vertices < best.vertices) best = { partition, vertices, outlineM };
    if (best.vertices <= limits.mostVertices) break;
  }
  return best!;
}

/** Numbers by soil zone, then from south to north, strips last: an edit of a load does not move them. */
function numberedZones(zones: readonly DrawnZone[], names: readonly string[]): DrawnZone[] {
  const soilOf = ({ soilHa }: DrawnZone): number => {
    const most = soilHa.toSorted((a, b) => b.areaHa - a.areaHa)[0]?.soilZone ?? null;
    return most === null ? names.length : names.indexOf(most);
  };
  const middle = (zone: DrawnZone, axis: 0 | 1): number => {
    const ring = zone.polygon[0]!;
    return ring.reduce((sum, position) => sum + position[axis], 0) / ring.length;
  };
  return zones
    .toSorted(
      (a, b) =>
        Number(a.proofStrip) - Number(b.proofStrip) ||
        soilOf(a) - soilOf(b) ||
        middle(a, 1) - middle(b, 1) ||
        middle(a, 0) - middle(b, 0) ||
        a.areaHa - b.areaHa,
    )
    .map((zone, index) => ({ ...zone, number: index + 1 }));
}
