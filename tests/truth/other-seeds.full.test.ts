/**
 * The invented field with other noise: what was put in is found, by cause and place, and nothing else is.
 * The bounds are ours: at least 60 % of each place found, at least half of each finding inside the place, and at most one place
 * in twenty left a risk from the log that the counts do not confirm.
 */
import { describe, expect, it } from "vitest";
import { makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import { PLACE_NAMES } from "../../sample-data/scenario.ts";
import { analyseSample, overlap } from "./sample-overlap.ts";

const SEEDS = [2, 3, 4, 5, 6, 7, 8, 9];
const LEAST_RECALL = 0.6;
const CONFIRMED = 0.95;
const LEAST_PRECISION = 0.5;
const findingsOf = new Map(SEEDS.map((seed) => [seed, analyseSample(seed)]));

describe.each(SEEDS)("the invented field with seed %i", (seed) => {
  const truth = makeLarkspurDrawTruth(seed);
  const findings = findingsOf.get(seed)!;

  it.each(PLACE_NAMES)("finds the %s with its cause", async (place) => {
    const same = (await findings).filter(
      ({ cause, kind }) => cause === truth.places[place].cause && kind !== "row-unit",
    );
    expect(same).toHaveLength(1);
    expect(["counted", "predicted"]).toContain(same[0]!.basis);
    const { recall, precision } = overlap(same[0]!, place, truth);
    expect(recall).toBeGreaterThan(LEAST_RECALL);
    expect(precision).toBeGreaterThan(LEAST_PRECISION);
  });

  it("finds the row unit whose depth stop slipped", async () => {
    const units = (await findings).filter(({ cause }) => cause === "too-shallow");
    expect(units.map(({ where }) => where.rowUnits)).toEqual([[truth.shallowRow.rowUnit]]);
  });

  it("never blames planting for the row unit whose sensor is dusty", async () => {
    const units = (await findings).filter(({ where }) =>
      where.rowUnits.includes(truth.dustySensorRow.rowUnit),
    );
    expect(units).toHaveLength(1);
    expect(["sensor-fault", "undetermined"]).toContain(units[0]!.cause);
  });

  it("finds nothing else", async () => {
    expect(await findings).toHaveLength(PLACE_NAMES.length + 2);
  });
});

it("has the places confirmed by counts, but for one in twenty", async () => {
  const truth = makeLarkspurDrawTruth(SEEDS[0]!);
  const causes = PLACE_NAMES.map((place) => truth.places[place].cause);
  const all = (await Promise.all(findingsOf.values())).flat();
  const counted = all.filter(
    ({ cause, kind, basis }) => causes.includes(cause) && kind !== "row-unit" && basis === "counted",
  );
  expect(counted.length).toBeGreaterThanOrEqual(CONFIRMED * SEEDS.length * PLACE_NAMES.length);
});

it("clears the dusty sensor with most seeds", async () => {
  const all = await Promise.all(findingsOf.values());
  const cleared = all.filter((findings) =>
    findings.some(({ cause, basis }) => cause === "sensor-fault" && basis === "cleared"),
  );
  expect(cleared.length).toBeGreaterThanOrEqual(0.75 * SEEDS.length);
});
