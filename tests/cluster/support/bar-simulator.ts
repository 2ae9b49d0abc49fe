/** An invented bar of row units that passes to and fro, for the tests of row-unit faults. */

import { normal, seededRandom } from "../../../src/numerics/random.ts";
import type { Pass, Passes } from "../../../src/passes/passes.ts";
import type { Field } from "../../../src/vocabulary/field.ts";

export interface BarFault {
  rowUnit: number;
  variable: "seedingDepth" | "downForceMargin" | "misses" | "population";
  /** Our pass numbers, inclusive. */
  from: number;
  to: number;
  shift: number;
}

export interface BarShape {
  units: number;
  passes: number;
  moments: number;
}

/** Natural spread between units and noise of one reading; the ground moves the whole bar. Inside units. */
const VARIABLES = {
  seedingDepth: { level: 50, unitSd: 1, noiseSd: 4, groundSd: 4 },
  downForceMargin: { level: 450, unitSd: 27, noiseSd: 150, groundSd: 120 },
  misses: { level: 0.02, unitSd: 0.001, noiseSd: 0.015, groundSd: 0.004 },
  population: { level: 84000, unitSd: 400, noiseSd: 2500, groundSd: 500 },
} as const;

/** Simulates the records of a bar; healthy but for the faults. */
export function simulateBar(
  shape: BarShape,
  seed: number,
  faults: readonly BarFault[] = [],
): { field: Field; passes: Passes } {
  const { units, passes, moments } = shape;
  const random = seededRandom(seed);
  const recordCount = units * passes * moments;
  const passOf = new Int32Array(recordCount);
  const momentOf = new Int32Array(recordCount);
  const rowUnitOf = new Int16Array(recordCount);
  const values: Record<string, Float64Array> = {};
  for (let i = 0; i < recordCount; i++) {
    const moment = Math.floor(i / units);
    momentOf[i] = moment;
    passOf[i] = Math.floor(moment / moments) + 1;
    rowUnitOf[i] = (i % units) + 1;
  }
  for (const [variable, law] of Object.entries(VARIABLES)) {
    const natural = Float64Array.from({ length: units + 1 }, () => law.unitSd * normal(random));
    const shifts = new Float64Array((passes + 1) * (units + 1));
    for (const fault of faults) {
      if (fault.variable !== variable) continue;
      for (let pass = fault.from; pass <= fault.to; pass++) {
        shifts[pass * (units + 1) + fault.rowUnit]! += fault.shift;
      }
    }
    const column = new Float64Array(recordCount);
    let ground = 0;
    for (let i = 0; i < recordCount; i++) {
      if (i % units === 0) ground = 0.9 * ground + 0.43 * law.groundSd * normal(random);
      const unit = rowUnitOf[i]!;
      const shift = shifts[passOf[i]! * (units + 1) + unit]!;
      column[i] = law.level + ground + natural[unit]! + shift + law.noiseSd * normal(random);
    }
    values[variable] = column;
  }
  const list = Array.from({ length: passes }, (_, k): Pass => {
    return {
      number: k + 1,
      logPasses: [],
      headingDeg: k % 2 === 0 ? 0 : 180,
      moments,
      records: units * moments,
      lengthM: 600,
      areaM2: 600 * units * 0.762,
      headland: false,
      startTime: null,
      date: null,
    };
  });
  const zeros = new Float64Array(recordCount);
  return {
    field: fieldOf(recordCount, values),
    passes: {
      passes: list,
      passOf,
      momentOf,
      momentCount: passes * moments,
      rowUnitOf,
      rowUnitCount: units,
      alongM: zeros,
      headingDeg: zeros,
      distanceM: zeros,
      widthM: zeros,
      offsetM: zeros,
      method: "invented",
    },
  };
}

function fieldOf(recordCount: number, values: Record<string, Float64Array>): Field {
  return {
    name: "invented",
    season: null,
    crop: "corn",
    planted: null,
    plantedFrom: null,
    frame: {
      epsg: 32615,
      originX: 0,
      originY: 0,
      toLocal: (x, y) => [x, y],
      toLonLat: (x, y) => [x, y],
    },
    log: {
      recordCount,
      x: new Float64Array(recordCount),
      y: new Float64Array(recordCount),
      values,
      labels: {},
      depthSource: "sensed",
      fileRecord: Int32Array.from({ length: recordCount }, (_, i) => i + 1),
      hasClockTime: true,
      layout: "row-unit",
    },
    soilZones: null,
    standCounts: null,
    digs: null,
    boundary: null,
    weather: null,
    planter: {
      rowUnits: null,
      rowSpacingM: null,
      rowUnitWeightN: null,
      wheelTrackRows: [],
      depthSensedRows: null,
      loadSensedRows: null,
      wings: [],
    },
    targets: {
      seedingDepthMm: null,
      populationPerHa: null,
      downForceMarginN: null,
      speedMetresPerSecond: null,
    },
    prices: { grainPerBushel: null, expectedBushelPerAcre: null, seedPer1000: null, currency: "USD" },
    inputs: [],
  };
}
