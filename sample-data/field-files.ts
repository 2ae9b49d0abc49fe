/** The manifest, the soil map and the boundary of the invented field. */
import { toRoundedLonLat } from "./frame.ts";
import { boundaryRing, GROUND } from "./ground.ts";
import {
  PLANTING_DATES,
  ROW_UNIT_WEIGHT_LBF,
  ROW_UNITS,
  SOIL_TEXTURES,
  TARGET_DEPTH_IN,
  TARGET_POPULATION_PER_ACRE,
  TARGET_SPEED_MPH,
} from "./scenario.ts";
import type { Shape } from "./shapes.ts";

const FIELD_NAME = "Larkspur Draw";

/** The manifest as JSON text. */
export function makeManifest(): string {
  return `{
  "schema": "evenstand/field/1",
  "name": "${FIELD_NAME}",
  "season": ${PLANTING_DATES[1].slice(0, 4)},
  "crop": "corn",
  "planted": "${PLANTING_DATES[1]}",
  "plantingLog": {
    "file": "planting.zip",
    "columns": { "seedingDepth": { "column": "DEPTH_IN", "unit": "in", "source": "sensed" } }
  },
  "soilZones": { "file": "soil.geojson", "zone": "texture" },
  "standCounts": { "file": "counts.geojson" },
  "digs": { "file": "digs.csv" },
  "boundary": { "file": "boundary.geojson" },
  "weather": { "file": "weather.csv" },
  "planter": {
    "rowUnits": ${ROW_UNITS},
    "rowSpacing": "30 in",
    "rowUnitWeight": "${ROW_UNIT_WEIGHT_LBF} lbf",
    "depthSensedRows": "all",
    "loadSensedRows": "all"
  },
  "targets": {
    "seedingDepth": "${TARGET_DEPTH_IN.toFixed(1)} in",
    "population": "${TARGET_POPULATION_PER_ACRE} seeds/ac",
    "downForceMargin": ["60 lbf", "160 lbf"],
    "speed": "${TARGET_SPEED_MPH} mi/h"
  },
  "prices": { "grain": "4.50 USD/bu", "expectedYield": "200 bu/ac", "seed": "3.75 USD/1000" }
}
`;
}

/** The soil map as GeoJSON text, one feature a texture. Zones share every corner of a common edge. */
export function makeSoilMap({ zones } = GROUND): string {
  return collection(SOIL_TEXTURES.map((texture) => ({ properties: { texture }, shape: zones[texture] })));
}

/** The boundary as GeoJSON text. */
export function makeBoundary({ zones } = GROUND): string {
  return collection([
    { properties: { name: FIELD_NAME, note: "invented field" }, shape: [[boundaryRing(zones)]] },
  ]);
}

function collection(parts: { properties: Record<string, string>; shape: Shape }[]): string {
  const features = parts.map(({ properties, shape }) => {
    const coordinates = shape.map((rings) => rings.map((ring) => ring.map(toRoundedLonLat)));
    const geometry =
      coordinates.length === 1
        ? { type: "Polygon", coordinates: coordinates[0] }
        : { type: "MultiPolygon", coordinates };
    return JSON.stringify({ type: "Feature", properties, geometry });
  });
  return `{"type":"FeatureCollection","features":[\n${features.join(",\n")}\n]}\n`;
}
