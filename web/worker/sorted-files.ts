/** Looks at the files without a manifest: what each is taken for, and what to say about it. Runs in the worker. */
import { toLonLat } from "../../src/ingest/crs/crs.ts";
import type { PolygonRings, RawLayer } from "../../src/ingest/layer.ts";
import { variablesIn } from "../../src/roles/missing-parts.ts";
import type { GuessedLayer } from "../../src/roles/starting-manifest.ts";
import type { SortedFile } from "../protocol/file-choices.ts";
import { glimpseOf } from "./column-glimpse.ts";

/** Around the ground of the log, as a share of its length and width, that still counts as on the field (our judgement). */
const AROUND = 0.05;
/** At most so many places of a layer are looked at. */
const SAMPLE = 2000;
/** A third of the log off the soil map, and half of another layer off the field, is worth a word (our judgement). */
const MOST_OFF_SOIL = 1 / 3;
const LEAST_ON_FIELD = 0.5;
/** Columns of a file that are shown each. */
const MOST_COLUMNS = 60;

type Box = [west: number, south: number, east: number, north: number];

/** In the order of the files. */
export function sortedFiles(layers: readonly GuessedLayer[]): SortedFile[] {
  const log = layers.find(({ role }) => role === "plantingLog")?.layer ?? null;
  const ground = log && boxOf(placesOf(log));
  return layers.map((guessed) => {
    const { file, role, reason, layer, recognition } = guessed;
    const places = layer ? placesOf(layer) : [];
    const onField = ground && layer && places.length > 0 ? shareOn(layer, places, ground) : null;
    const found = [...(recognition?.found.values() ?? [])];
    return {
      file,
      role,
      reason,
      records: layer ? layer.recordCount : null,
      onField,
      placed: places.length > 0,
      columns: (layer?.columns ?? []).slice(0, MOST_COLUMNS).map(glimpseOf),
      readAs: Object.fromEntries(
        found.flatMap(({ variable, group }) => group.columns.map((column) => [column.name, variable])),
      ),
      variables: recognition ? variablesIn(recognition) : [],
      unused: (recognition?.unrecognised ?? []).map((column, index) => ({
        column,
        reason: recognition!.unusedReasons[index]!,
      })),
      warnings: layer ? warningsOf(guessed, layer, log, onField) : [],
    };
  });
}

function warningsOf(
  { role, reason, recognition }: GuessedLayer,
  layer: RawLayer,
  log: RawLayer | null,
  onField: number | null,
): string[] {
  const said: string[] = [];
  if (role === null && reason.startsWith("looks like plantingLog"))
    said.push("A second planter's log: one is used at a time. Analyse each, or put both into one file.");
  if (role !== null && role !== "plantingLog" && onField !== null && onField < LEAST_ON_FIELD)
    said.push(
      onField === 0
        ? "None of it lies on the planted ground: is it of this field?"
        : `Only ${percent(onField)} of it lies on the planted ground.`,
    );
  if (role === "soilZones") {
    const zone = recognition?.found.get("zone")?.group.columns[0];
    const names = zone?.kind === "text" ? new Set(zone.codes).size : zone ? new Set(zone.values).size : 0;
    if (names === 1) said.push("It names one soil only, so that soils cannot be compared.");
    const off = log && layer.polygons ? 1 - shareInside(placesOf(log), layer) : 0;
    if (off > MOST_OFF_SOIL)
      said.push(
        `${percent(off)} of the log lies off this map: trial plots or another field, not a soil map?`,
      );
  }
  return said;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

/** A sample of the places of a layer, degrees; none where it has no positions or nobody knows what they are in. */
function placesOf(layer: RawLayer): [number, number][] {
  if (layer.geometry === "none" || layer.crs.definition === null) return [];
  const convert = toLonLat(layer.crs);
  const step = Math.max(1, Math.ceil(layer.x.length / SAMPLE));
  const places: [number, number][] = [];
  for (let i = 0; i < layer.x.length; i += step) {
    if (Number.isFinite(layer.x[i]) && Number.isFinite(layer.y[i]))
      places.push(convert(layer.x[i]!, layer.y[i]!) as [number, number]);
  }
  return places;
}

function boxOf(places: readonly [number, number][]): Box | null {
  if (places.length === 0) return null;
  const [xs, ys] = [places.map(([x]) => x).sort(upwards), places.map(([, y]) => y).sort(upwards)];
  // A few stray positions do not widen the field.
  const at = (sorted: number[], share: number) => sorted[Math.round(share * (sorted.length - 1))]!;
  const [west, east, south, north] = [at(xs, 0.005), at(xs, 0.995), at(ys, 0.005), at(ys, 0.995)];
  const [aside, above] = [AROUND * (east - west) + 1e-4, AROUND * (north - south) + 1e-4];
  return [west - aside, south - above, east + aside, north + above];
}

function upwards(a: number, b: number): number {
  return a - b;
}

/** Polygons are on the field where they reach it: the middle of a large soil lies elsewhere. */
function shareOn(layer: RawLayer, places: readonly [number, number][], ground: Box): number {
  if (!layer.polygons) return shareWithin(places, ground);
  const convert = toLonLat(layer.crs);
  const boxes = layer.polygons
    .map((polygons) => polygons.flatMap((rings) => rings[0] ?? []).map(([x, y]) => convert(x, y)))
    .filter((corners) => corners.length > 0);
  const reaching = boxes.filter((corners) => {
    const [xs, ys] = [corners.map(([x]) => x!), corners.map(([, y]) => y!)];
    const [west, south, east, north] = ground;
    return (
      least(xs) <= east &&
      -least(xs.map((x) => -x)) >= west &&
      least(ys) <= north &&
      -least(ys.map((y) => -y)) >= south
    );
  });
  return reaching.length / boxes.length;
}

function least(values: readonly number[]): number {
  return values.reduce((low, value) => Math.min(low, value), Number.POSITIVE_INFINITY);
}

function shareWithin(places: readonly [number, number][], [west, south, east, north]: Box): number {
  const within = places.filter(([x, y]) => x >= west && x <= east && y >= south && y <= north);
  return within.length / places.length;
}

function shareInside(places: readonly [number, number][], layer: RawLayer): number {
  const convert = toLonLat(layer.crs);
  const polygons = (layer.polygons ?? [])
    .flat()
    .map((rings) => rings.map((ring) => ring.map(([x, y]) => convert(x, y) as [number, number])));
  const inside = places.filter((place) => polygons.some((rings) => crossesOdd(rings, place)));
  return places.length === 0 ? 1 : inside.length / places.length;
}

/** Even-odd rule over all rings. */
function crossesOdd(rings: PolygonRings, [x, y]: [number, number]): boolean {
  let odd = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [[xi, yi], [xj, yj]] = [ring[i]!, ring[j]!];
      if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
    }
  }
  return odd;
}
