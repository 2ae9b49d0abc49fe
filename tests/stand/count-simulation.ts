/**
 * Counts whose truth is known: seeds dropped in rows at rates that change with place and row unit, skips, a chance to
 * come up that differs from spot to spot, and a position known to a few metres. Counted by length of row, wheel and hoop.
 */

import { normal, type Random, seededRandom } from "../../src/numerics/random.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { countInterval, hoopCuts } from "../../src/stand/count-intervals.ts";
import { standOfHoopPerHa, standOfRowPerHa, WHEEL_METHOD_PLANTS } from "../../src/stand/counts.ts";
import { joinCounts } from "../../src/stand/spots.ts";
import type { Field, StandCounts } from "../../src/vocabulary/field.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

export type Method =
  | { kind: "row"; rows: number; lengthM: number }
  | { kind: "wheel" }
  | { kind: "hoop"; diameterM: number };

export interface Coverage {
  counts: number;
  /** Counts whose interval holds the true stand of the place, and the true share of the seeds that came up. */
  stand: number;
  emerged: number;
}

const UNITS = 16;
const PASSES = 8;
const LENGTH_M = 160;
const POSITION_SD_M = 1.5;
const SKIPS = 0.02;

/** Counts `spots` places of an invented field by one method. */
export function simulateCounts(method: Method, spots: number, seed: number): Coverage {
  const random = seededRandom(seed);
  // A hoop is for narrow rows, where soybeans stand.
  const rowSpacingM = method.kind === "hoop" ? 0.381 : 0.762;
  const barM = UNITS * rowSpacingM;
  const usualPerHa = method.kind === "hoop" ? 345_000 : 84_000;
  const log = drive(upAndDown(PASSES, barM, LENGTH_M), { rowUnits: UNITS, rowSpacingM });
  const ofUnit = Array.from({ length: UNITS }, () => 1 + 0.015 * normal(random));
  // The rate changes along the field as by a prescription.
  const rateAt = (y: number, unit: number): number =>
    usualPerHa * (Math.floor(y / 40) % 2 === 0 ? 0.93 : 1.06) * ofUnit[unit - 1]! * (1 - SKIPS);
  const field: Field = buildField({
    x: log.x,
    y: log.y,
    values: {
      time: log.time,
      rowUnit: log.rowUnit,
      heading: log.headingDeg,
      population: Float64Array.from(log.y, (y, i) => rateAt(y, log.rowUnit[i]!)),
    },
    layout: "row-unit",
    planter: { rowUnits: UNITS, rowSpacingM },
    targets: { populationPerHa: usualPerHa },
  });
  const passes = findPasses(field);
  const truth: { emerged: number; stand: number }[] = [];
  const columns: number[][] = [];
  for (let spot = 0; spot < spots; spot++) {
    let near = Math.floor(random() * log.x.length);
    // A long walk ends inside the field.
    while (method.kind === "wheel" && log.y[near]! > LENGTH_M - 40)
      near = Math.floor(random() * log.x.length);
    const emerged = 0.72 + 0.25 * random();
    // The rows counted side by side, from the bar that dropped the record's seeds.
    const side = method.kind === "row" ? method.rows : 1;
    const first = Math.min(log.rowUnit[near]!, UNITS - side + 1);
    const rows = Array.from({ length: side }, (_, k) => near - log.rowUnit[near]! + first + k);
    const from = log.y[near]!;
    const found = count(method, {
      rows: rows.map((record) => (along) => rateAt(from + along, log.rowUnit[record]!)),
      emerged,
      rowSpacingM,
      random,
    });
    truth.push({ emerged, stand: emerged * found.rate });
    const off = (): number => POSITION_SD_M * normal(random);
    const x = rows.reduce((sum, record) => sum + log.x[record]!, 0) / side;
    columns.push([
      x + off(),
      from + found.middleM + off(),
      found.stand,
      found.plants,
      found.lengthM,
      found.rows,
    ]);
  }
  const column = (k: number): Float64Array => Float64Array.from(columns, (values) => values[k]!);
  const unknown = new Float64Array(spots).fill(Number.NaN);
  const counts: StandCounts = {
    spotCount: spots,
    x: column(0),
    y: column(1),
    standPerHa: column(2),
    plants: column(3),
    rowLengthM: column(4),
    rowsCounted: column(5),
    rowUnit: new Int16Array(spots),
    lateShare: unknown,
    leafStagesBehind: unknown,
    method: columns.map(() => null),
  };
  field.standCounts = counts;
  const joined = joinCounts(field, passes, new Int32Array(log.x.length).fill(-1))!;
  const cuts = method.kind === "hoop" ? hoopCuts(method.diameterM, rowSpacingM) : 0;
  const result: Coverage = { counts: 0, stand: 0, emerged: 0 };
  for (let spot = 0; spot < joined.count; spot++) {
    const interval = countInterval(counts, joined, spot, usualPerHa, cuts);
    const { emerged, stand } = truth[joined.source[spot]!]!;
    if (!interval?.emerged) continue;
    result.counts++;
    if (holds(interval.standPerHa, stand)) result.stand++;
    if (holds(interval.emerged, emerged)) result.emerged++;
  }
  return result;
}

function holds({ low, high }: { low: number; high: number }, value: number): boolean {
  return low <= value && value <= high;
}

interface Ground {
  /** Rate of each counted row, seeds/ha, by the way along it, m. */
  rows: ((along: number) => number)[];
  emerged: number;
  rowSpacingM: number;
  random: Random;
}

interface Found {
  plants: number;
  stand: number;
  lengthM: number;
  rows: number;
  /** Mean rate over the counted ground, and how far its middle lies from where the count was begun. */
  rate: number;
  middleM: number;
}

/** Plants found by a method, seed by seed. */
function count(method: Method, ground: Ground): Found {
  const { rowSpacingM, rows, random } = ground;
  switch (method.kind) {
    case "row": {
      const { lengthM } = method;
      const walks = rows.map((_, row) => walk(ground, row, -lengthM / 2, lengthM, Number.POSITIVE_INFINITY));
      const plants = walks.reduce((sum, each) => sum + each.plants, 0);
      const rate = walks.reduce((sum, each) => sum + each.rate, 0) / rows.length;
      const stand = standOfRowPerHa({ plants, rowLengthM: lengthM, rowSpacingM, rowsCounted: rows.length });
      return { plants, stand, lengthM, rows: rows.length, rate, middleM: 0 };
    }
    case "wheel": {
      const { plants, lengthM, rate } = walk(ground, 0, 0, Number.POSITIVE_INFINITY, WHEEL_METHOD_PLANTS);
      const stand = standOfRowPerHa({ plants, rowLengthM: lengthM, rowSpacingM });
      return { plants, stand, lengthM, rows: 1, rate, middleM: lengthM / 2 };
    }
    case "hoop": {
      const radius = method.diameterM / 2;
      let plants = 0;
      const first = random() * rowSpacingM - Math.ceil(radius / rowSpacingM) * rowSpacingM;
      for (let across = first; across < radius; across += rowSpacingM) {
        const chord = 2 * Math.sqrt(Math.max(0, radius ** 2 - across ** 2));
        plants += walk(ground, 0, -chord / 2, chord, Number.POSITIVE_INFINITY).plants;
      }
      const stand = standOfHoopPerHa(plants, method.diameterM);
      return { plants, stand, lengthM: Number.NaN, rows: Number.NaN, rate: rows[0]!(0), middleM: 0 };
    }
  }
}

/** Walks along a row from a place on, until the length or the plants are reached; the place in the row is chance. */
function walk(
  { rows, emerged, rowSpacingM, random }: Ground,
  row: number,
  from: number,
  lengthM: number,
  most: number,
) {
  // From one place for a seed to the next; some of them are skipped.
  const stepAt = (along: number): number => (10_000 / (rows[row]!(along) * rowSpacingM)) * (1 - SKIPS);
  let [plants, places, along] = [0, 0, from + stepAt(from) * random()];
  let rates = 0;
  for (; along < from + lengthM && plants < most; along += stepAt(along)) {
    rates += rows[row]!(along);
    places++;
    if (random() < (1 - SKIPS) * emerged) plants++;
  }
  return { plants, lengthM: along - from, rate: places > 0 ? rates / places : rows[row]!(from) };
}
