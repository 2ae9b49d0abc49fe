/** Stand counts and digs of a case. */
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { binomial, randomSurface } from "../truth/worlds/noise.ts";
import { type CaseGround, degreesAt, round, valueAt } from "./case-ground.ts";
import { type CaseSetup, type CountSetup, type DigSetup, SOUND_COUNTS, type Spot } from "./case-setup.ts";

const FEET_PER_METRE = 1 / 0.3048;
const SQUARE_INCHES_PER_ACRE = 43_560 * 144;
/** Counts keep this far from the ends of the field, m. */
const EDGE_M = 8;

/** The counts as GeoJSON. */
export function caseCounts(setup: CaseSetup, ground: CaseGround): object {
  const counts: CountSetup = { ...SOUND_COUNTS, ...setup.counts };
  const random = seededRandom(setup.seed * 104_729 + 3);
  const patches = randomSurface(random, 1, setup.patchRangeM);
  const places = counts.at ?? spread(counts.number, setup, random());
  const lengthM = counts.rowLengthFt === null ? ground.thousandthM : counts.rowLengthFt / FEET_PER_METRE;
  const features = places.map(([x, y]) => {
    const { pass, row } = ground.rowsAt(x, counts.rows);
    const rows = Array.from({ length: counts.rows }, (_, k) => ground.spot(pass, row + k, y));
    const acres = counts.hoopIn === null ? ground.acresOf(lengthM) : hoopAcres(counts.hoopIn) / rows.length;
    let plants = 0;
    let late = 0;
    for (const spot of rows) {
      const seeds = Math.floor(seedsAt(setup, spot) * acres + random());
      const share = valueAt(setup.emerged, spot) * (1 + setup.patchiness * patches(spot.x, spot.y));
      const up = binomial(random, seeds, Math.min(Math.max(share, 0), 1));
      plants += up;
      late += binomial(random, up, valueAt(setup.late, spot));
    }
    const middle = (rows[0]!.x + rows.at(-1)!.x) / 2;
    const error = (): number => counts.gpsErrorM * normal(random);
    return {
      type: "Feature",
      geometry: { type: "Point", coordinates: degreesAt(middle + error(), y + error()) },
      properties: {
        ...groundOf(counts, plants, lengthM),
        ...(counts.looksForLate ? { LATE_PLANTS: late } : {}),
        ...(counts.namesRow ? { ROW_UNIT: row } : {}),
      },
    };
  });
  return { type: "FeatureCollection", features };
}

/** Plants and the ground they were counted on, in the columns that the counter wrote. */
function groundOf(counts: CountSetup, plants: number, lengthM: number): Record<string, number> {
  if (counts.hoopIn !== null)
    return { PLANTS: plants, ...(counts.namesHoop ? { HOOP_DIAMETER_IN: counts.hoopIn } : {}) };
  if (counts.standPerPlant !== null)
    return { STAND_PLANTS_AC: round((plants / counts.rows) * counts.standPerPlant, 0), PLANTS: plants };
  return { PLANTS: plants, ROWS_COUNTED: counts.rows, ROW_LENGTH_FT: round(lengthM * FEET_PER_METRE, 3) };
}

function hoopAcres(diameterIn: number): number {
  return (Math.PI * (diameterIn / 2) ** 2) / SQUARE_INCHES_PER_ACRE;
}

function seedsAt(setup: CaseSetup, spot: Spot): number {
  const metered = valueAt(setup.rate ?? setup.target, spot);
  return metered * (1 - valueAt(setup.skips, spot) + valueAt(setup.doubles, spot));
}

/** Places that fill the field evenly (the R2 sequence of Roberts 2018; from memory). */
function spread(number: number, setup: CaseSetup, start: number): [number, number][] {
  const [width, length] = [setup.widthM - 2 * EDGE_M, setup.lengthM - 2 * EDGE_M];
  return Array.from({ length: number }, (_, k) => [
    setup.eastM + EDGE_M + ((start + (k + 1) * 0.754_877_666) % 1) * width,
    EDGE_M + ((start + (k + 1) * 0.569_840_291) % 1) * length,
  ]);
}

/** The digs as the text of a CSV. */
export function caseDigs(digs: readonly DigSetup[]): string {
  const lines = digs.map(({ x, y, row, depthIn, smear, furrow, moisture, seedState }) =>
    [...degreesAt(x, y), row, depthIn, smear, furrow, moisture, seedState].join(","),
  );
  return `lon,lat,row_unit,seed_depth_in,smear,furrow,moisture,seed_state\n${lines.join("\n")}\n`;
}
