/**
 * What a finding says of the soil: a strip of thin stand along the border of two soils is told as such (the soil map may
 * be off there), and so is a place on ground that is wet by nature.
 */
import { describe, expect, it } from "vitest";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import type { Finding } from "../../src/findings/findings-document.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import type { DrainageClass } from "../../src/vocabulary/drainage.ts";
import type { Field, StandCounts } from "../../src/vocabulary/field.ts";
import { makeField } from "../truth/worlds/make-field.ts";

/** Soil zone under each count when all counts are moved by dx, dy. */
function zonesBeside(field: Field, counts: StandCounts, dx: number, dy: number): Int32Array {
  const x = counts.x.map((value) => value + dx);
  const y = counts.y.map((value) => value + dy);
  return joinSoilZones({ ...field, log: { ...field.log, recordCount: counts.spotCount, x, y } });
}

/** Confirmed places of a sound, densely counted field after the stand at some counts was made 12 points thinner. */
async function placesAfter(thinned: (field: Field, counts: StandCounts) => (spot: number) => boolean) {
  const { field } = makeField("steady", "null", "dense", 7001);
  const counts = field.standCounts!;
  const isThin = thinned(field, counts);
  for (let spot = 0; spot < counts.spotCount; spot++) {
    if (!isThin(spot)) continue;
    counts.standPerHa[spot]! *= 0.88;
    counts.plants[spot] = Math.round(counts.plants[spot]! * 0.88);
  }
  const { findings } = (await analyseField(field)).document;
  return findings.filter(({ basis, kind }) => basis === "counted" && kind === "area");
}

const saysBorder = ({ words }: Finding): boolean => /border of two soils/.test(JSON.stringify(words));

/** Thins the stand within 60 m of a count that has one soil around it: the one with the most counts about it. */
function patchInOneSoil(field: Field, counts: StandCounts) {
  const zones = zonesBeside(field, counts, 0, 0);
  const reach = 60;
  const inOneSoil = (spot: number): boolean =>
    counts.x.every(
      (x, other) =>
        Math.hypot(x - counts.x[spot]!, counts.y[other]! - counts.y[spot]!) > reach + 25 ||
        zones[other] === zones[spot],
    );
  const near = (spot: number): number =>
    counts.x.filter((x, other) => Math.hypot(x - counts.x[spot]!, counts.y[other]! - counts.y[spot]!) < reach)
      .length;
  const centre = [...counts.x.keys()].filter(inOneSoil).reduce((a, b) => (near(b) > near(a) ? b : a));
  const isThin = (spot: number): boolean =>
    Math.hypot(counts.x[spot]! - counts.x[centre]!, counts.y[spot]! - counts.y[centre]!) < reach;
  return { zone: zones[centre]!, isThin };
}

describe("a thin place that only the counts show", () => {
  it("is told to lie along the border where it does", async () => {
    const places = await placesAfter((field, counts) => {
      const own = zonesBeside(field, counts, 0, 0);
      const others = [
        [14, 0],
        [-14, 0],
        [0, 14],
        [0, -14],
      ].map(([dx, dy]) => zonesBeside(field, counts, dx!, dy!));
      return (spot) =>
        counts.y[spot]! > 250 &&
        counts.y[spot]! < 450 &&
        others.some((zones) => zones[spot]! >= 0 && zones[spot] !== own[spot]);
    });
    expect(places.length).toBeGreaterThan(0);
    expect(places.filter(saysBorder)).not.toHaveLength(0);
  });

  it("is not where it lies within one soil", async () => {
    const places = await placesAfter((field, counts) => patchInOneSoil(field, counts).isThin);
    expect(places).toHaveLength(1);
    expect(places.filter(saysBorder)).toHaveLength(0);
  });

  it("is told to lie on ground wet by nature where the soil map says so, of it more than of the rest", async () => {
    const seenWhere = async (own: DrainageClass, others: DrainageClass) => {
      const places = await placesAfter((field, counts) => {
        const { zone, isThin } = patchInOneSoil(field, counts);
        field.soilZones!.drainage = field.soilZones!.names.map((_, k) => (k === zone ? own : others));
        return isThin;
      });
      expect(places).toHaveLength(1);
      return places[0]!.words.seen.find((line) => line.startsWith("soil map: ")) ?? null;
    };
    expect(await seenWhere("poorly drained", "well drained")).toMatch(
      /^soil map: (9\d|100) % of it somewhat poorly drained by nature or wetter, \d+ % of the rest/,
    );
    expect(await seenWhere("poorly drained", "somewhat poorly drained")).toBeNull();
  });
});
