/** What the findings document is put together from. */
import type { Draft } from "../causes/draft.ts";
import type { CausesResult } from "../causes/find-causes.ts";
import type { Driver } from "../compare/drivers.ts";
import type { ComparisonRow } from "../compare/tables/comparison.ts";
import type { Note } from "../errors.ts";
import type { GroundBalance } from "../passes/ground-balance.ts";
import type { Passes } from "../passes/passes.ts";
import type { ReplantedGround } from "../passes/replanted-ground.ts";
import type { WritingOptions } from "../texts/language.ts";
import type { Texts } from "../texts/texts-of.ts";
import type { Field } from "../vocabulary/field.ts";

/** A side of the field, as the texts have it. */
export type Side = keyof Texts["sides"];

export interface DocumentParts extends WritingOptions {
  field: Field;
  passes: Passes;
  causes: CausesResult;
  /** Soil zone of each record, -1 where none; left out where it was not worked out. */
  zoneOfRecord?: Int32Array;
  comparison: ComparisonRow[];
  /** What the comparison leaves out of the planting log. */
  comparisonNotes: Note[];
  /** Planted ground, m2. */
  areaM2: number;
  /** What was planted twice or left out; left out where it was not worked out. */
  balance?: GroundBalance;
  /** What was planted again weeks later; left out or null where nothing was. */
  replanted?: ReplantedGround | null;
  /** What drives depth and load; left out where it was not worked out. */
  drivers?: readonly Driver[];
  swathWidthM: number;
}

/** The one planting date of the draft's passes, null where they have several or none. */
export function plantedOf({ passes }: DocumentParts, draft: Draft): string | null {
  const dates = new Set(draft.passes.map((number) => passes.passes[number - 1]!.date));
  return dates.size === 1 ? [...dates][0]! : null;
}

/** "north-east side", "middle": where the place lies in the field. */
export function sideOf({ field, passes }: DocumentParts, draft: Draft): Side {
  let [minX, maxX, minY, maxY] = [
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  let [sumX, sumY, count] = [0, 0, 0];
  for (let i = 0; i < field.log.recordCount; i++) {
    if (passes.passOf[i] === 0) continue;
    const x = field.log.x[i]!;
    const y = field.log.y[i]!;
    minX = Math.min(minX, x);
    maxX = Math.max(maxX, x);
    minY = Math.min(minY, y);
    maxY = Math.max(maxY, y);
    if (!draft.inside[i]) continue;
    sumX += x;
    sumY += y;
    count++;
  }
  if (count === 0) {
    // Ground without records: the middle of its outline.
    for (const [x, y] of draft.polygons.flatMap(([outer]) => outer ?? [])) {
      sumX += x;
      sumY += y;
      count++;
    }
  }
  const east = (sumX / count - (minX + maxX) / 2) / (maxX - minX || 1);
  const north = (sumY / count - (minY + maxY) / 2) / (maxY - minY || 1);
  // The middle third of the field each way is "middle".
  const vertical = north > 1 / 6 ? "north" : north < -1 / 6 ? "south" : "";
  const horizontal = east > 1 / 6 ? "east" : east < -1 / 6 ? "west" : "";
  if (vertical && horizontal) return `${vertical}-${horizontal} side`;
  const side = vertical || horizontal;
  return side ? `${side} side` : "middle of the field";
}
