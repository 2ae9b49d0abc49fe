/** Seed lots of one field: each against the rest of the field, in what a meter does with it. */
import { weightedMean } from "../../numerics/descriptive.ts";
import type { FieldExtract } from "./field-extract.ts";

export const LOT_VARIABLES = ["misses", "multiples"] as const;
export type LotVariable = (typeof LOT_VARIABLES)[number];

/** How far a lot lies above the other lots of its field, share of the seeds. */
export interface LotDifference {
  lot: string;
  variable: LotVariable;
  value: number;
}

export function lotDifferences({ lots }: Pick<FieldExtract, "lots">): LotDifference[] {
  return LOT_VARIABLES.flatMap((variable) => {
    const known = lots.filter(({ means }) => means[variable] !== undefined);
    return known.flatMap(({ lot, means }) => {
      const others = known.filter((one) => one.lot !== lot);
      if (others.length === 0) return [];
      const rest = weightedMean(
        others.map((one) => one.means[variable]!),
        others.map(({ share }) => share),
      );
      return [{ lot, variable, value: means[variable]! - rest }];
    });
  });
}
