/** On a field with nothing wrong the tool says so: the invented field with every fault overwritten by ordinary noise. */
import { expect, it } from "vitest";
import { analyseField } from "../../src/jobs/analyse.ts";
import { normal, type Random, seededRandom } from "../../src/numerics/random.ts";
import { parseQuantity } from "../../src/quantities/units.ts";
import type { Field, StandCounts } from "../../src/vocabulary/field.ts";
import { standNoise } from "../cluster/support/field-simulator.ts";
import { larkspurFiles, loadLarkspur } from "./support/larkspur.ts";

const POUND = parseQuantity("1 lbf", "N");
const INCH = parseQuantity("1 in", "mm");
const MILE_PER_HOUR = parseQuantity("1 mph", "m/s");
const PLANTS_PER_HA = parseQuantity("31900 plants/ac", "plants/ha");
const SEEDS_PER_HA = parseQuantity("33740 seeds/ac", "seeds/ha");

/** Overwrites log, counts and digs: row units differ a little, readings are noisy, the stand is patchy. */
function makeHealthy(field: Field, seed: number): void {
  const random = seededRandom(seed);
  const { values, recordCount } = field.log;
  const unitDepth = Array.from({ length: 25 }, () => 0.04 * INCH * normal(random));
  const unitMargin = Array.from({ length: 25 }, () => 6 * POUND * normal(random));
  for (let i = 0; i < recordCount; i++) {
    const unit = values.rowUnit![i]!;
    values.seedingDepth![i] = 1.97 * INCH + unitDepth[unit]! + 0.2 * INCH * normal(random);
    values.downForceMargin![i] = Math.max(0, 115 * POUND + unitMargin[unit]! + 26 * POUND * normal(random));
    values.speed![i] = (5.3 + 0.12 * normal(random)) * MILE_PER_HOUR;
    values.misses![i] = share(random, 0.015, 0.01);
    values.multiples![i] = share(random, 0.008, 0.007);
    values.singulation![i] = 1 - values.misses![i]! - values.multiples![i]!;
    values.population![i] = SEEDS_PER_HA * (1 - values.misses![i]! + values.multiples![i]!);
  }
  if (field.standCounts) fillCounts(field.standCounts, random, seed);
  const digs = field.digs!;
  for (let d = 0; d < digs.digCount; d++) {
    digs.depthMm[d] = 1.97 * INCH + 0.15 * INCH * normal(random);
    digs.smear[d] = "none";
    digs.furrow[d] = "closed";
    digs.moisture[d] = "fit";
    digs.seedState[d] = "fine";
  }
}

function fillCounts(counts: StandCounts, random: Random, seed: number): void {
  const patchiness = standNoise(counts.x, counts.y, seed, {
    spatialVariance: 0.017 ** 2,
    rangeM: 20,
    nuggetVariance: 0,
  });
  for (let s = 0; s < counts.spotCount; s++) {
    const areaHa = counts.plants[s]! / counts.standPerHa[s]!;
    const seeds = Math.round(SEEDS_PER_HA * areaHa);
    const emergence = (PLANTS_PER_HA / SEEDS_PER_HA) * (1 + patchiness[s]!);
    let plants = 0;
    for (let k = 0; k < seeds; k++) if (random() < emergence) plants++;
    counts.plants[s] = plants;
    counts.standPerHa[s] = plants / areaHa;
    counts.lateShare[s] = 0.03;
  }
}

function share(random: Random, middle: number, sd: number): number {
  return Math.max(0, middle + sd * normal(random));
}

it.each([11, 12, 13])("nothing is found where nothing is wrong (noise %i)", async (seed) => {
  const field = await loadLarkspur(larkspurFiles(1));
  makeHealthy(field, seed);
  const { document } = await analyseField(field);
  expect(document.findings.map(({ basis, cause, kind }) => [basis, cause, kind])).toEqual([]);
  expect(document.summary).toMatchObject({
    affectedHa: 0,
    nothingFoundHa: document.field.areaHa,
    money: null,
  });
  expect(document.summary.sentence).toMatch(
    /^Tested and even on .* plants\/ac stand, 9\d % of the target\. Tested with \d+ counts: /,
  );
});

it("nor by the log alone", async () => {
  const field = await loadLarkspur(larkspurFiles(1), ["standCounts"]);
  makeHealthy(field, 14);
  const { document } = await analyseField(field);
  expect(document.findings.map(({ basis, cause, kind }) => [basis, cause, kind])).toEqual([]);
  expect(document.summary.notJudged.map(({ what }) => what)).toContain("the stand");
});
