/** What a seed sensor shows: shares over the last couple of hundred seeds, as a running mean. */
import { normal, type Random } from "../src/numerics/random.ts";
import { binomial } from "./noise.ts";
import { DUSTY_SENSOR_ROW, type GroundNumbers, METERED_RATE_PER_ACRE, type PlantingDay } from "./scenario.ts";

interface Metering {
  missShare: number;
  multipleShare: number;
  populationPerAcre: number;
}

/** Seeds a row unit drops between two records, and the weight of the newest in the running mean. */
const SEEDS_A_RECORD = 30;
const NEWEST_WEIGHT = 0.2;
/** Seeds behind a running mean of that weight, (2 - w) / w records. */
const SEEDS_IN_MEAN = Math.round((SEEDS_A_RECORD * (2 - NEWEST_WEIGHT)) / NEWEST_WEIGHT);
const RATE_SD_SHARE = 0.008;

/** The sensor of one row unit along one pass. */
export function startSensor(
  random: Random,
  ground: GroundNumbers,
  rowUnit: number,
  day: PlantingDay,
): () => Metering {
  const dusty = rowUnit === DUSTY_SENSOR_ROW.rowUnit && day === DUSTY_SENSOR_ROW.day;
  const missChance = ground.missShare + (dusty ? DUSTY_SENSOR_ROW.missShareAdded : 0);
  let misses = binomial(random, SEEDS_IN_MEAN, missChance) / SEEDS_IN_MEAN;
  let multiples = binomial(random, SEEDS_IN_MEAN, ground.multipleShare) / SEEDS_IN_MEAN;
  return () => {
    misses += NEWEST_WEIGHT * (binomial(random, SEEDS_A_RECORD, missChance) / SEEDS_A_RECORD - misses);
    multiples +=
      NEWEST_WEIGHT * (binomial(random, SEEDS_A_RECORD, ground.multipleShare) / SEEDS_A_RECORD - multiples);
    const trueMisses = misses - (dusty ? DUSTY_SENSOR_ROW.missShareAdded : 0);
    const seen = dusty ? DUSTY_SENSOR_ROW.populationFactor : 1;
    const rate = METERED_RATE_PER_ACRE * (1 - trueMisses + multiples) * (1 + RATE_SD_SHARE * normal(random));
    return { missShare: misses, multipleShare: multiples, populationPerAcre: seen * rate };
  };
}
