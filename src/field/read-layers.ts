/** Reads every file a manifest names, before any of it is put into the field's frame. */
import { FileUnusableError } from "../errors.ts";
import { extentOf, type LayerFile, type RawLayer, readLayer, toLonLat } from "../ingest/index.ts";
import type { ExpectedGeometry } from "../ingest/read-options.ts";
import { LAYER_ROLES, type LayerRole } from "../manifest/manifest.ts";
import type { Manifest } from "../manifest/manifest-schema.ts";

/** Geometry each layer needs; null for a layer that loading does not read. */
const EXPECTED: Readonly<Record<LayerRole, ExpectedGeometry | null>> = {
  plantingLog: "any",
  soilZones: "polygon",
  standCounts: "any",
  digs: "any",
  boundary: "polygon",
  seedLots: "polygon",
  weather: "table",
  yield: null,
};

/** The layers of a field as read from their files. */
export type RawLayers = Partial<Record<LayerRole, RawLayer>> & { plantingLog: RawLayer };

/**
 * Reads the layers of a manifest. A layer that does not say its coordinate system is read last, so that its
 * refusal names the systems that would put it near the others.
 * @throws {FileUnusableError} for a file that cannot be used
 */
export async function readLayers(
  manifest: Manifest,
  provide: (path: string) => Promise<LayerFile[]>,
): Promise<RawLayers> {
  const layers: Partial<Record<LayerRole, RawLayer>> = {};
  const read = async (role: LayerRole, near?: { longitude: number; latitude: number }) => {
    const entry = manifest[role];
    const expect = EXPECTED[role];
    if (entry === undefined || expect === null) return;
    const crs = "crs" in entry ? entry.crs : undefined;
    const position = "position" in entry ? entry.position : undefined;
    layers[role] = await readLayer(await provide(entry.file), { role, expect, crs, position, near });
  };
  const postponed: LayerRole[] = [];
  for (const role of LAYER_ROLES) {
    try {
      await read(role);
    } catch (error) {
      if (!(error instanceof FileUnusableError) || error.details.field !== "crs") throw error;
      postponed.push(role);
    }
  }
  for (const role of postponed) await read(role, placeOf(layers));
  return layers as RawLayers;
}

/** The middle of any layer that has a place, WGS 84 degrees. */
function placeOf(
  layers: Partial<Record<LayerRole, RawLayer>>,
): { longitude: number; latitude: number } | undefined {
  for (const layer of Object.values(layers)) {
    const extent = layer.crs.definition === null ? null : extentOf(layer.x, layer.y);
    if (!extent) continue;
    const [longitude, latitude] = toLonLat(layer.crs)(
      (extent.minX + extent.maxX) / 2,
      (extent.minY + extent.maxY) / 2,
    );
    return { longitude, latitude };
  }
  return undefined;
}
