/** Loads a field: reads every layer of a manifest, puts all of them into one metric frame and inside units. */
import { type Extent, extentOf } from "../ingest/index.ts";
import type { LayerFile, RawLayer } from "../ingest/layer.ts";
import type { LayerRole } from "../manifest/manifest.ts";
import { planterSetup, prices, targets } from "../manifest/manifest-quantities.ts";
import type { Manifest } from "../manifest/manifest-schema.ts";
import { prescriptionChoices } from "../manifest/prescription-choices.ts";
import { reportOf } from "../recognise/layer-reading.ts";
import { SEED_LOT_CATALOGUE, ZONE_CATALOGUE } from "../vocabulary/catalogue-places.ts";
import type { Field, InputReport, LocalPolygon } from "../vocabulary/field.ts";
import { extentOfPolygons, requireOverlap } from "./extent.ts";
import { frameOf } from "./frame-of-log.ts";
import { loadCounts } from "./load-counts.ts";
import { loadDigs } from "./load-digs.ts";
import { loadLog, requirePositions } from "./load-log.ts";
import { loadWeather } from "./load-weather.ts";
import { loadNamedPolygons, soilZonesOf } from "./load-zones.ts";
import { localPolygons } from "./local-polygons.ts";
import { type RawLayers, readLayers } from "./read-layers.ts";
import { assignSeedLots } from "./seed-lots.ts";

export type { RawLayers };

/**
 * Loads the field a manifest describes.
 * @param provide gives the bytes of a file the manifest names; for a .shp also those of its loose parts
 * @throws {FileUnusableError} for a file that cannot be used, or layers that do not lie on one field
 * @throws {ChoiceNeededError} where a column or a unit is the user's to choose
 * @throws {NothingToAnalyseError} when the log has no position or no planting variable
 * @throws {ManifestError} when the manifest names a column that a file does not have
 */
export async function loadField(
  manifest: Manifest,
  provide: (path: string) => Promise<LayerFile[]>,
): Promise<Field> {
  return assemble(manifest, await readLayers(manifest, provide), true);
}

/**
 * Puts layers that have been read into one field.
 * @throws as {@link loadField}
 */
export function assembleField(manifest: Manifest, layers: RawLayers): Field {
  return assemble(manifest, layers, false);
}

/** @param mayEmpty the layers are nobody else's: the log's columns are let go as they are read, which halves the memory */
function assemble(manifest: Manifest, layers: RawLayers, mayEmpty: boolean): Field {
  requirePositions(layers.plantingLog);
  const frame = frameOf(layers.plantingLog);
  const planter = planterSetup(manifest);
  const aims = targets(manifest);
  const inputs: InputReport[] = [];

  const { log, report, firstDate } = loadLog(layers.plantingLog, manifest, frame, planter, aims, mayEmpty);
  inputs.push(report);
  const place = { file: layers.plantingLog.file, extent: extentOf(log.x, log.y) };
  const check = (role: LayerRole, extent: Extent | null) =>
    requireOverlap(place, { file: layers[role]!.file, role, extent });

  let soilZones: Field["soilZones"] = null;
  if (layers.soilZones) {
    const named = loadNamedPolygons(
      layers.soilZones,
      "soilZones",
      manifest.soilZones ?? {},
      ZONE_CATALOGUE,
      frame,
    );
    check("soilZones", extentOfPolygons(named.polygons.map((polygon) => polygon.rings)));
    soilZones = soilZonesOf(layers.soilZones, named);
    inputs.push(named.report);
  }
  let standCounts: Field["standCounts"] = null;
  if (layers.standCounts) {
    const loaded = loadCounts(layers.standCounts, manifest, frame, planter, aims);
    check("standCounts", extentOf(loaded.counts.x, loaded.counts.y));
    standCounts = loaded.counts;
    inputs.push(loaded.report);
  }
  let digs: Field["digs"] = null;
  if (layers.digs) {
    const loaded = loadDigs(layers.digs, manifest, frame, aims);
    check("digs", extentOf(loaded.digs.x, loaded.digs.y));
    digs = loaded.digs;
    inputs.push(loaded.report);
  }
  let boundary: LocalPolygon[] | null = null;
  if (layers.boundary) {
    const records = localPolygons(layers.boundary, frame);
    boundary = records.flat();
    check("boundary", extentOfPolygons(boundary));
    const used = records.filter((polygons) => polygons.length > 0).length;
    inputs.push(plainReport(layers.boundary, "boundary", used));
  }
  if (layers.seedLots) {
    const named = loadNamedPolygons(
      layers.seedLots,
      "seedLots",
      manifest.seedLots ?? {},
      SEED_LOT_CATALOGUE,
      frame,
    );
    check("seedLots", extentOfPolygons(named.polygons.map((polygon) => polygon.rings)));
    assignSeedLots(log, named, report);
    inputs.push(named.report);
  }
  let weather: Field["weather"] = null;
  if (layers.weather) {
    const loaded = loadWeather(layers.weather, manifest);
    weather = loaded.weather;
    inputs.push(loaded.report);
  }
  if (manifest.yield) inputs.push(unreadReport("yield", manifest.yield.file));
  if (manifest.planted !== undefined && firstDate !== null && firstDate !== manifest.planted) {
    report.notes.push({
      reason: `the first date of the log is ${firstDate}, the manifest says ${manifest.planted}; the manifest is followed`,
      effect: "assumed",
      count: log.recordCount,
      field: null,
      firstRecord: null,
      value: firstDate,
    });
  }
  const planted = manifest.planted ?? firstDate;
  const choices = prescriptionChoices(manifest);
  return {
    name: manifest.name ?? "Unnamed field",
    season: manifest.season ?? (planted === null ? null : Number(planted.slice(0, 4))),
    crop: manifest.crop ?? "corn",
    planted,
    plantedFrom: manifest.planted !== undefined ? "manifest" : firstDate === null ? null : "log",
    frame,
    log,
    soilZones,
    standCounts,
    digs,
    boundary,
    weather,
    planter,
    targets: aims,
    prices: prices(manifest),
    ...(choices ? { prescription: choices } : {}),
    inputs,
  };
}

function plainReport(layer: RawLayer, role: LayerRole, used: number): InputReport {
  const unrecognised = layer.columns.map((column) => column.name);
  return reportOf(layer, role, used, { recognised: [], unrecognised, notes: [] });
}

/** The report of a layer the manifest names but loading does not read. */
function unreadReport(role: LayerRole, file: string): InputReport {
  const reason = `${role} is named in the manifest but is not read by this analysis`;
  const note = { reason, effect: "left out", count: 0, field: null, firstRecord: null, value: null } as const;
  return {
    role,
    file,
    sha256: null,
    records: 0,
    used: 0,
    leftOut: 0,
    crs: "not read",
    recognised: [],
    unrecognised: [],
    notes: [note],
  };
}
