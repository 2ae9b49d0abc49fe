/** Which variable each column's name fits best. */
import type { RawLayer } from "../ingest/layer.ts";
import type { Catalogue } from "../vocabulary/variable-description.ts";
import { type ChosenColumns, type ColumnGroup, groupColumns } from "./column-groups.ts";
import { scoreName } from "./name-score.ts";
import type { Candidate } from "./pick-column.ts";
import type { RecogniseOptions } from "./recognition.ts";

/** Names scoring less are not taken. */
const LEAST_SCORE = 0.6;

type Chosen = ReadonlyMap<string, ChosenColumns | null>;
type Claims = ReadonlyMap<string, readonly Candidate[]>;

/** Every column the manifest does not name claims the one variable its name fits best. */
export function claimVariables(
  layer: RawLayer,
  catalogue: Catalogue,
  options: RecogniseOptions,
  chosen: Chosen,
): Map<string, Candidate[]> {
  const taken = new Set([...chosen.values()].flatMap((choice) => choice?.group.columns ?? []));
  const claims = new Map<string, Candidate[]>();
  for (const group of groupColumns(layer, options)) {
    if (group.columns.some((column) => taken.has(column))) continue;
    const best = bestVariable(group, catalogue);
    if (best === null || chosen.get(best.variable) === null) continue;
    claims.set(best.variable, [...(claims.get(best.variable) ?? []), best]);
  }
  return claims;
}

function bestVariable(group: ColumnGroup, catalogue: Catalogue): (Candidate & { variable: string }) | null {
  const wide = group.columns.length > 1;
  const whole = wide ? group.stem : group.columns[0]!.name;
  let best: (Candidate & { variable: string }) | null = null;
  for (const [variable, description] of Object.entries(catalogue)) {
    if (wide && description.family === "none") continue;
    const { score, sensed } = scoreName(group.stem, description, whole, wide);
    if (score >= LEAST_SCORE && score > (best?.score ?? 0)) best = { variable, group, score, sensed };
  }
  return best;
}

/** The columns the manifest names for a variable, else those whose name fits it best; null where there are none. */
export function bestClaim(chosen: Chosen, claims: Claims, variable: string): ColumnGroup | null {
  const named = chosen.get(variable);
  if (named !== undefined) return named?.group ?? null;
  return [...(claims.get(variable) ?? [])].sort((a, b) => b.score - a.score)[0]?.group ?? null;
}
