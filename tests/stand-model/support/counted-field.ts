/** A small counted field of known truth: stand and counts are drawn, and made short where a test says so. */
import { makeCells } from "../../../src/cells/make-cells.ts";
import { FACTORS, type PredictedLoss } from "../../../src/cells/predicted-loss.ts";
import { joinSoilZones } from "../../../src/compare/soil-join.ts";
import { normal, seededRandom } from "../../../src/numerics/random.ts";
import { joinCounts } from "../../../src/stand/spots.ts";
import { type StandView, viewOfStand } from "../../../src/stand-model/stand-view.ts";
import { standNoise } from "../../cluster/support/field-simulator.ts";
import { type BarParts, countedAt, ROW_M, straightBar } from "./straight-bar.ts";

export const ROW_UNITS = 16;
export const PASSES = 24;
export const LENGTH_M = 240;
export const BAR_M = ROW_UNITS * ROW_M;
/** Border of the two soils. */
export const BORDER_Y = 150;
const TARGET_PER_HA = 84_000;
const ROWS_COUNTED = 4;
const ROW_LENGTH_M = 5.3;

/** Where a count was made in truth. */
export interface TrueSpot {
  x: number;
  y: number;
  pass: number;
  /** Row unit in the middle of the counted ones, 1..16 from the left in the direction of travel. */
  row: number;
  soil: "Clay" | "Loam";
}

export interface CountedFieldParts {
  seed: number;
  counts: number;
  /** Error of the written positions, SD each way, m; 1 where left out. */
  positionSdM?: number;
  /** Loss of plants at a spot, share of target. */
  lossAt?: (spot: TrueSpot) => number;
  /** ISO date of each pass; none where left out. */
  dateOf?: (pass: number) => string;
  /** Seed lot of each pass. */
  lotOf?: (pass: number) => string;
  /** Soil map with the two soils. */
  soils?: boolean;
  /** Loss that the log predicts at local metres, by factor. */
  predicted?: Partial<Record<keyof PredictedLoss, (x: number, y: number) => number>>;
}

/** Draws the field and fits the model to its counts. */
export function countedField(parts: CountedFieldParts): StandView {
  const { seed, counts, lossAt = () => 0, soils = false, positionSdM = 1 } = parts;
  const random = seededRandom(seed);
  const spots = Array.from({ length: counts }, (_, k): TrueSpot => {
    // One spot in each of as many parts of the planting order.
    const pass = 1 + Math.floor(((k + random()) / counts) * PASSES);
    const row = 3 + Math.floor(12 * random());
    const side = pass % 2 === 1 ? 1 : -1;
    const y = 6 + (LENGTH_M - 12) * random();
    const x = (pass - 1) * BAR_M + side * (row - (ROW_UNITS + 1) / 2) * ROW_M;
    return { x, y, pass, row, soil: y > BORDER_Y ? "Clay" : "Loam" };
  });
  const noise = standNoise(
    Float64Array.from(spots, ({ x }) => x),
    Float64Array.from(spots, ({ y }) => y),
    seed + 1,
  );
  const bar: BarParts = { rowUnits: ROW_UNITS, passes: PASSES, lengthM: LENGTH_M, rowsOfRecord: ROW_UNITS };
  const east = PASSES * BAR_M;
  const zone = (name: string, from: number, to: number) => ({
    name,
    rings: [[[-BAR_M, from], [east, from], [east, to], [-BAR_M, to], [-BAR_M, from]]], // biome-ignore format: one line
  });
  const passOfRecord = Array.from(
    { length: (PASSES * LENGTH_M) / 2 },
    (_, i) => 1 + Math.floor(i / (LENGTH_M / 2)),
  );
  const { field, passes } = straightBar({
    ...bar,
    parts: {
      targets: { populationPerHa: TARGET_PER_HA },
      ...(soils ? { soilZones: [zone("Clay", BORDER_Y, LENGTH_M), zone("Loam", 0, BORDER_Y)] } : {}),
      ...(parts.lotOf ? { labels: { seedLot: passOfRecord.map(parts.lotOf) } } : {}),
    } as BarParts["parts"] & object,
  });
  for (const pass of passes.passes) pass.date = parts.dateOf?.(pass.number) ?? null;
  // Positions are written down with an error.
  countedAt(
    field,
    spots.map(({ x, y }) => ({
      x: x + positionSdM * normal(random),
      y: y + positionSdM * normal(random),
      rowsCounted: ROWS_COUNTED,
      rowLengthM: ROW_LENGTH_M,
    })),
  );
  const plantsAtTarget = (TARGET_PER_HA / 10_000) * ROWS_COUNTED * ROW_M * ROW_LENGTH_M;
  spots.forEach((spot, k) => {
    const share = Math.min(0.995, 0.935 + noise[k]! - lossAt(spot));
    const counted = share * plantsAtTarget + Math.sqrt(plantsAtTarget * share * (1 - share)) * normal(random);
    field.standCounts!.plants[k] = Math.round(counted);
    field.standCounts!.standPerHa[k] = (Math.round(counted) / plantsAtTarget) * TARGET_PER_HA;
  });
  const zones = joinSoilZones(field);
  const { cells, cellOf } = makeCells(field, passes, zones);
  const losses = Object.fromEntries(
    FACTORS.map((factor) => {
      const loss = parts.predicted?.[factor];
      return [factor, cells.x.map((x, cell) => loss?.(x, cells.y[cell]!) ?? 0)];
    }),
  ) as PredictedLoss;
  return viewOfStand(field, passes, cells, cellOf, joinCounts(field, passes, zones), losses, [], BAR_M)!;
}
