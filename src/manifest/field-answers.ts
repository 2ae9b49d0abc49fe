/** Answers of the user to what a field did not say, put into its manifest and into the loaded field. */
import type { Field } from "../vocabulary/field.ts";
import { parseManifest } from "./manifest.ts";
import { prices, targets } from "./manifest-quantities.ts";
import type { Manifest } from "./manifest-schema.ts";

/** As a manifest writes them; what is left out stays as it is. */
export interface FieldAnswers {
  targets?: Manifest["targets"];
  prices?: Manifest["prices"];
  /** Where the logged depth comes from. */
  depthSource?: "sensed" | "set";
}

/**
 * The field and its manifest with the answers in them; the ones given are left as they are.
 * @throws {ManifestError} for a quantity that cannot be read
 */
export function withFieldAnswers(
  field: Field,
  manifest: Readonly<Record<string, unknown>>,
  answers: FieldAnswers,
): { field: Field; manifest: Record<string, unknown> } {
  const amended: Record<string, unknown> = {
    ...manifest,
    ...(answers.targets ? { targets: { ...(manifest.targets as object), ...answers.targets } } : {}),
    ...(answers.prices ? { prices: { ...(manifest.prices as object), ...answers.prices } } : {}),
  };
  const depth = answers.depthSource ? depthColumn(field) : null;
  if (answers.depthSource && depth) {
    const log = manifest.plantingLog as { columns?: object };
    amended.plantingLog = {
      ...log,
      columns: { ...log.columns, seedingDepth: { ...depth, source: answers.depthSource } },
    };
  }
  const parsed = parseManifest(amended);
  return {
    manifest: amended,
    field: {
      ...field,
      log: { ...field.log, depthSource: answers.depthSource ?? field.log.depthSource },
      targets: targets(parsed),
      prices: prices(parsed),
    },
  };
}

/** The column of the depth as a manifest names it; null where it is a group of columns, which its label does not name. */
function depthColumn({ inputs }: Field): { column: string; unit: string } | null {
  const found = inputs
    .find(({ role }) => role === "plantingLog")
    ?.recognised.find(({ variable }) => variable === "seedingDepth");
  if (!found || / (?:…|\+) /.test(found.column)) return null;
  return { column: found.column, unit: found.unit };
}
