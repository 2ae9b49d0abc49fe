/** A small invented field as files: six passes of a planter that did nothing wrong, two soils, no counts. */
export interface TextFile {
  name: string;
  text: string;
}

const WEST = -93.4;
const SOUTH = 42.2;
const METRES_PER_DEGREE = 111_320;
const EAST_SCALE = METRES_PER_DEGREE * Math.cos((SOUTH * Math.PI) / 180);
const PASSES = 6;
const SWATH_M = 12.192;
const LENGTH_M = 240;
const STEP_M = 6;

function at(x: number, y: number): [number, number] {
  return [WEST + x / EAST_SCALE, SOUTH + y / METRES_PER_DEGREE];
}

/** Repeatable noise in -1..1. */
function noise(i: number): number {
  const raw = Math.sin(i * 127.1) * 43758.5453;
  return 2 * (raw - Math.floor(raw)) - 1;
}

function log(): TextFile {
  const features: object[] = [];
  let second = 0;
  for (let pass = 0; pass < PASSES; pass++) {
    for (let along = 0; along <= LENGTH_M; along += STEP_M) {
      const y = pass % 2 === 0 ? along : LENGTH_M - along;
      const i = features.length;
      features.push({
        type: "Feature",
        geometry: { type: "Point", coordinates: at((pass + 0.5) * SWATH_M, y) },
        properties: {
          TIME: new Date(Date.UTC(2026, 3, 24, 15, 0, second)).toISOString(),
          SPEED_MPH: Number((5.3 + 0.05 * noise(i)).toFixed(2)),
          DEPTH_IN: Number((2 + 0.04 * noise(i + 1000)).toFixed(2)),
          SWATH_FT: 40,
        },
      });
      second += 2.5;
    }
    second += 40;
  }
  return { name: "planting.geojson", text: JSON.stringify({ type: "FeatureCollection", features }) };
}

function soils(names: readonly [string, string]): TextFile {
  const half = (PASSES * SWATH_M) / 2;
  const features = names.map((texture, i) => {
    const west = i * half - (i === 0 ? 5 : 0);
    const east = (i + 1) * half + (i === 1 ? 5 : 0);
    const ring = [at(west, -5), at(east, -5), at(east, LENGTH_M + 5), at(west, LENGTH_M + 5), at(west, -5)];
    return { type: "Feature", geometry: { type: "Polygon", coordinates: [ring] }, properties: { texture } };
  });
  return { name: "soil.geojson", text: JSON.stringify({ type: "FeatureCollection", features }) };
}

export function smallField(): TextFile[] {
  return [log(), soils(["silt loam", "clay loam"])];
}

/**
 * The same field from a log that leaves two things open (which of two columns is the depth, and the unit of the
 * speed, which no clock settles), and counts that leave one (the unit of the plant spacings).
 */
export function unclearField(): TextFile[] {
  const planted = JSON.parse(log().text) as { features: { properties: Record<string, unknown> }[] };
  planted.features.forEach((feature, i) => {
    feature.properties = {
      Speed: Number((6 + 0.2 * noise(i)).toFixed(2)),
      DEPTH_1_IN: i === 7 ? -9999 : Number((2 + 0.2 * noise(i + 1000)).toFixed(2)),
      DEPTH_2_IN: Number((1.5 + 0.2 * noise(i + 2000)).toFixed(2)),
      SWATH_FT: 40,
    };
  });
  const counts = [0.3, 0.7, 0.9].map((share, i) => {
    const [longitude, latitude] = at(share * PASSES * SWATH_M, LENGTH_M * (1 - share));
    return `${longitude},${latitude},${31_000 + 200 * i},"6; 7; 5; 6"`;
  });
  return [
    { name: "planting.geojson", text: JSON.stringify(planted) },
    soils(["silt loam", "clay loam"]),
    { name: "counts.csv", text: `longitude,latitude,stand_ac,spacings\n${counts.join("\n")}\n` },
  ];
}

/** The log with its positions in metres of a projected system that nothing names. */
export function metresWithoutSystem(): TextFile[] {
  const planted = JSON.parse(log().text) as { features: { geometry: { coordinates: number[] } }[] };
  for (const { geometry } of planted.features) {
    const [longitude, latitude] = geometry.coordinates as [number, number];
    geometry.coordinates = [
      467_000 + (longitude - WEST) * EAST_SCALE,
      4_672_000 + (latitude - SOUTH) * METRES_PER_DEGREE,
    ];
  }
  return [{ name: "planting.geojson", text: JSON.stringify(planted) }];
}

/** The same field with names that try to be markup. */
export function hostileField(): TextFile[] {
  const manifest = {
    name: '<img src=x onerror="window.hacked = 1">',
    plantingLog: { file: "planting.geojson" },
    soilZones: { file: "soil.geojson", zone: "texture" },
  };
  return [
    { name: "field.json", text: JSON.stringify(manifest) },
    log(),
    soils([
      "<script>window.hacked = 1</script> loam",
      '"><iframe src="javascript:window.hacked=1"></iframe><svg onload="window.hacked=1"> clay',
    ]),
  ];
}
