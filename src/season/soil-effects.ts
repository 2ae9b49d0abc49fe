/** Soils and seed lots of a season: each against the rest of its own field. */
import type { LotVariable } from "./field/lot-differences.ts";
import type { SoilVariable } from "./field/soil-differences.ts";
import type { KeptField } from "./field-result.ts";
import { byNameAndVariable, type OverFields, overFields } from "./over-fields.ts";

/** How far a soil lies above the rest of its field: N, share, mm. */
export interface SoilEffect extends OverFields {
  soil: string;
  variable: SoilVariable;
}

/** How far a seed lot lies above the other lots of its field, share of the seeds. */
export interface LotEffect extends OverFields {
  lot: string;
  variable: LotVariable;
}

/** Sorted by soil. */
export function soilEffects(kept: readonly KeptField[]): SoilEffect[] {
  const all = kept.flatMap(({ digest }) =>
    digest.soils.map(({ soil, ...rest }) => ({ name: soil, ...rest })),
  );
  return byNameAndVariable(all).flatMap(({ name, variable, values }) => {
    const over = overFields(values);
    return over ? [{ soil: name, variable, ...over }] : [];
  });
}

/** Sorted by lot. */
export function lotEffects(kept: readonly KeptField[]): LotEffect[] {
  const all = kept.flatMap(({ digest }) => digest.lots.map(({ lot, ...rest }) => ({ name: lot, ...rest })));
  return byNameAndVariable(all).flatMap(({ name, variable, values }) => {
    const over = overFields(values);
    return over ? [{ lot: name, variable, ...over }] : [];
  });
}
