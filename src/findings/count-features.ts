/** Stand counts as points for the map, each with what it says of the stand around it. */
import type { Feature, Point } from "geojson";
import { countInterval, hoopCuts } from "../stand/count-intervals.ts";
import { lateShareAt } from "../stand/late-share.ts";
import { referencePopulation, type Spots } from "../stand/spots.ts";
import type { Field } from "../vocabulary/field.ts";

export interface CountProperties {
  /** 1-based number of the spot in the file. */
  spot: number;
  standPerHa: number | null;
  /** 90 % interval of the stand around the spot, plants/ha; left out where the plants counted are not known. */
  standRange?: [low: number, high: number];
  /** Plants / seeds dropped at that very spot with its 90 % interval; left out where the log has no rate there. */
  emerged?: { estimate: number; low: number; high: number };
  plants: number | null;
  /** Share of plants late, 0..1. */
  lateShare: number | null;
  /** 0 where no row unit is named. */
  rowUnit: number;
  method: string | null;
}

export type Position = (x: number, y: number) => [number, number];

/**
 * One point a count, in the order of the file.
 * @param spots the counts joined to the log; null before that is done, then without intervals
 */
export function countFeatures(
  field: Field,
  spots: Spots | null,
  position: Position,
): Feature<Point, CountProperties>[] {
  const counts = field.standCounts;
  if (!counts) return [];
  const spotOf = new Map(spots ? Array.from(spots.source, (source, spot) => [source, spot]) : []);
  return Array.from({ length: counts.spotCount }, (_, i) => ({
    type: "Feature",
    geometry: { type: "Point", coordinates: position(counts.x[i]!, counts.y[i]!) },
    properties: {
      spot: i + 1,
      standPerHa: finite(counts.standPerHa[i]!, 0),
      ...(spots && spotOf.has(i) ? intervalsOf(field, spots, spotOf.get(i)!) : {}),
      plants: finite(counts.plants[i]!, 0),
      lateShare: finite(lateShareAt(counts, i), 4),
      rowUnit: counts.rowUnit[i] ?? 0,
      method: counts.method[i] ?? null,
    },
  }));
}

function intervalsOf(
  field: Field,
  spots: Spots,
  spot: number,
): Pick<CountProperties, "standRange" | "emerged"> {
  const counts = field.standCounts!;
  const reference = referencePopulation(field);
  const interval =
    reference === null
      ? null
      : countInterval(counts, spots, spot, reference, cutsOf(field, spots.source[spot]!));
  if (!interval) return {};
  const { standPerHa, emerged } = interval;
  const share = (value: number): number => Number(value.toFixed(4));
  return {
    standRange: [Math.round(standPerHa.low), Math.round(standPerHa.high)],
    ...(emerged
      ? { emerged: { estimate: share(emerged.estimate), low: share(emerged.low), high: share(emerged.high) } }
      : {}),
  };
}

/** A hoop cuts the rows where it falls; a length of row does not. */
function cutsOf({ standCounts, planter }: Field, source: number): number {
  const { method, rowLengthM, plants, standPerHa } = standCounts!;
  const isHoop = Number.isNaN(rowLengthM[source]!) && /hoop|ring/i.test(method[source] ?? "");
  if (!isHoop || planter.rowSpacingM === null) return 0;
  const groundM2 = (plants[source]! / standPerHa[source]!) * 10_000;
  return groundM2 > 0 ? hoopCuts(2 * Math.sqrt(groundM2 / Math.PI), planter.rowSpacingM) : 0;
}

function finite(value: number, decimals: number): number | null {
  return Number.isFinite(value) ? Number(value.toFixed(decimals)) : null;
}
