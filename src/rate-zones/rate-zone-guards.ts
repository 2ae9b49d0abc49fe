/** What the limits of the ground allowed and what they moved, in words. */
import type { Note } from "../errors.ts";
import type { Guard } from "../prescription/prescription.ts";
import { formatQuantity, groupThousands, shownValue, unitLabel } from "../quantities/format.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { Writing } from "../texts/language.ts";
import type { DrawnZone, GroundLimits } from "./ground.ts";
import type { GroundRaster } from "./ground-raster.ts";
import type { RatePlan } from "./ground-rates.ts";
import type { ProofStrip } from "./ground-strips.ts";
import type { Partition } from "./partition-outline.ts";

export interface DrawingResult {
  writing: Writing;
  limits: GroundLimits;
  widthM: number;
  lengthM: number;
  partition: Partition;
  zones: readonly DrawnZone[];
  /** Whether a piece of the smallest width and length lies in each zone. */
  fits: readonly boolean[];
  /** Share of the field whose load became that of the ground next to it. */
  movedShare: number;
  plan: RatePlan;
  /** Names of the soil zones. */
  names: readonly string[];
  vertices: number;
  outlineM: number;
  strips: readonly ProofStrip[];
  stripsWithout: readonly string[];
}

/** Share of the field moved that is worth telling: a row of squares along the borders is none. */
const WORTH_TELLING = 0.002;

export function groundGuards(drawing: DrawingResult): Guard[] {
  return [
    areaGuard(drawing),
    shapeGuard(drawing),
    drawing.plan.guard,
    polygonGuard(drawing),
    vertexGuard(drawing),
    ...(drawing.limits.proofStrips ? [stripGuard(drawing)] : []),
  ];
}

function areaGuard({ limits, zones, writing }: DrawingResult): Guard {
  const code = "smallest-area";
  const least = areaWords(limits.smallestAreaHa, writing);
  const small = zones.filter((zone) => zone.areaHa < limits.smallestAreaHa);
  if (small.length === 0) return { code, result: "kept", words: `Every zone has at least ${least}.` };
  const areas = small.map((zone) => areaWords(zone.areaHa, writing)).join(", ");
  const words =
    small.length === zones.length
      ? `The field is smaller than the smallest zone of ${least}: ${areas}.`
      : `${small.length} part${small.length === 1 ? "" : "s"} of the field, apart from the rest, ${small.length === 1 ? "is" : "are"} smaller than the smallest zone of ${least}: ${areas}.`;
  return { code, result: "refused", words };
}

function shapeGuard({ fits, zones, widthM, lengthM, movedShare, partition, writing }: DrawingResult): Guard {
  const code = "smallest-width";
  const least = `${formatQuantity(widthM, "length", writing)} wide and ${formatQuantity(lengthM, "length", writing)} long in travel`;
  const narrow = zones.filter((_, index) => !fits[index]);
  if (narrow.length > 0) {
    const words = `In ${narrow.length === 1 ? "one zone" : `${narrow.length} zones`} no piece ${least} fits, because the field is narrower or shorter there.`;
    return { code, result: "refused", words };
  }
  if (movedShare < WORTH_TELLING) return { code, result: "kept", words: `Every zone has pieces ${least}.` };
  const moved = areaWords((movedShare * partition.areaM2) / SQUARE_METRES_PER_HECTARE, writing);
  const words = `Zones are at least ${least}: ${moved} in narrower or shorter pieces took the load of the ground next to them.`;
  return { code, result: "changed", words };
}

function polygonGuard({ limits, zones }: DrawingResult): Guard {
  const code = "most-polygons";
  const words = `${zones.length} zone${zones.length === 1 ? "" : "s"}, at most ${limits.mostPolygons} allowed.`;
  return zones.length <= limits.mostPolygons
    ? { code, result: "kept", words }
    : { code, result: "refused", words: `${words} No more can be put together.` };
}

function vertexGuard({ limits, vertices, outlineM }: DrawingResult): Guard {
  const code = "most-vertices";
  const words = `${vertices} corners, at most ${limits.mostVertices} allowed.`;
  if (vertices > limits.mostVertices)
    return { code, result: "refused", words: `${words} The boundary itself has too many.` };
  return outlineM === 0
    ? { code, result: "kept", words }
    : { code, result: "changed", words: `${words} The boundary was straightened by at most ${outlineM} m.` };
}

function stripGuard({ plan, names, strips, stripsWithout, writing }: DrawingResult): Guard {
  const code = "proof-strips";
  const parts: string[] = [];
  if (strips.length > 0) {
    const places = strips.map(
      ({ soil, widthM, lengthM }) =>
        `${names[soil] ?? "ground without a soil zone"} (${formatQuantity(widthM, "length", writing)} wide, ${formatQuantity(lengthM, "length", writing)} long)`,
    );
    parts.push(`A strip is left at today's setting in ${places.join(" and in ")}.`);
  }
  if (stripsWithout.length > 0)
    parts.push(
      `No strip fits in ${stripsWithout.join(", ")} with enough of the zone's own ground around it.`,
    );
  if (plan.stripsLeftOut.length > 0)
    parts.push(
      `No strip in ${plan.stripsLeftOut.join(", ")}: that would be more different loads than allowed.`,
    );
  if (parts.length === 0) parts.push("No load changes, so no strip is needed.");
  const result = stripsWithout.length + plan.stripsLeftOut.length > 0 ? "changed" : "kept";
  return { code, result, words: parts.join(" ") };
}

/** An area with the digits that a small one needs. */
function areaWords(hectares: number, writing: Writing): string {
  if (hectares >= 0.1) return formatQuantity(hectares, "area", writing);
  return `${groupThousands(shownValue(hectares, "area", writing.units).toFixed(3), writing.locale)} ${unitLabel("area", writing.units)}`;
}

/** Ground of the field that no soil zone covers. */
export function groundNotes(raster: GroundRaster, soilNames: readonly string[], writing: Writing): Note[] {
  if (soilNames.length === 0) return [];
  let squares = 0;
  raster.field.forEach((inside, square) => {
    if (inside && raster.soil[square] === -1) squares++;
  });
  const hectares = (squares * raster.grid.stepM ** 2) / SQUARE_METRES_PER_HECTARE;
  if (hectares < 0.01) return [];
  return [
    {
      reason: `${areaWords(hectares, writing)} of the field have no soil zone; pieces large enough take the load of ground without one, the rest takes the load of the ground next to it`,
      effect: "assumed",
      count: 1,
      field: null,
      firstRecord: null,
      value: null,
    },
  ];
}
