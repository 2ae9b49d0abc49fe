/** Whether a starting manifest can be analysed as it is. */
import { isEvenstandError } from "../../errors.ts";
import { assembleField, type RawLayers } from "../../field/load.ts";
import { parseManifest } from "../../manifest/manifest.ts";
import type { GuessedLayer, StartingManifest } from "../../roles/starting-manifest.ts";

/** What a manifest lacks before it loads, in words; null where it loads as it is. */
export function whatIsLacking(
  manifest: StartingManifest["manifest"],
  layers: readonly GuessedLayer[],
): string | null {
  if (!manifest.plantingLog) return "none of the files is a planting log; the manifest needs one.";
  const byRole = Object.fromEntries(
    layers.flatMap(({ role, layer }) => (role === null || layer === null ? [] : [[role, layer]])),
  );
  try {
    assembleField(parseManifest(manifest), byRole as RawLayers);
    return null;
  } catch (error) {
    if (!isEvenstandError(error)) throw error;
    return error.message;
  }
}
