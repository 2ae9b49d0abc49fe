/**
 * The invented field with other noise: what was put in is found, by cause and place, and nothing else is.
 * The bounds are ours: at least 70 % of each place found, at least half of each finding inside the place.
 */
import { describe, expect, it } from "vitest";
import { makeLarkspurDraw, makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import { PLACE_NAMES, type PlaceName } from "../../sample-data/scenario.ts";
import { analyseField, type Finding, loadField, parseManifestText } from "../../src/index.ts";
import { ringContains } from "../../src/numerics/coverage-grid.ts";

const SEEDS = [2, 3, 4, 5, 6, 7, 8, 9];
const LEAST_RECALL = 0.7;
const LEAST_PRECISION = 0.5;
/** Spacing of the grid that areas are compared on, degrees: about 5 m. */
const STEP = { longitude: 0.00006, latitude: 0.000045 };

async function analyse(seed: number) {
  const files = makeLarkspurDraw(seed);
  const manifest = parseManifestText(new TextDecoder().decode(files["field.json"]));
  const field = await loadField(manifest, async (path) => [{ name: path, bytes: files[path]! }]);
  return (await analyseField(field)).document.findings;
}

function contains({ where }: Finding, longitude: number, latitude: number): boolean {
  return where.geometry.coordinates.some(
    (rings) =>
      rings.filter((ring) => ringContains(ring as [number, number][], longitude, latitude)).length % 2 === 1,
  );
}

/** Places of the grid inside the finding, inside the place, and in both. */
function overlap(finding: Finding, place: PlaceName, truth: ReturnType<typeof makeLarkspurDrawTruth>) {
  const ring = truth.field.lonLat[0]![0]!;
  const range = (axis: 0 | 1) => ring.map((position) => position[axis]);
  const count = { finding: 0, place: 0, both: 0 };
  for (let x = Math.min(...range(0)); x < Math.max(...range(0)); x += STEP.longitude) {
    for (let y = Math.min(...range(1)); y < Math.max(...range(1)); y += STEP.latitude) {
      if (!truth.field.contains(x, y)) continue;
      const found = contains(finding, x, y);
      const put = truth.placeOf(x, y) === place;
      count.finding += Number(found);
      count.place += Number(put);
      count.both += Number(found && put);
    }
  }
  return { recall: count.both / count.place, precision: count.both / count.finding };
}

const findingsOf = new Map(SEEDS.map((seed) => [seed, analyse(seed)]));

describe.each(SEEDS)("the invented field with seed %i", (seed) => {
  const truth = makeLarkspurDrawTruth(seed);
  const findings = findingsOf.get(seed)!;

  it.each(PLACE_NAMES)("finds the %s with its cause", async (place) => {
    const same = (await findings).filter(
      ({ cause, kind }) => cause === truth.places[place].cause && kind !== "row-unit",
    );
    expect(same).toHaveLength(1);
    expect(same[0]!.basis).toBe("counted");
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

it("clears the dusty sensor with most seeds", async () => {
  const all = await Promise.all(findingsOf.values());
  const cleared = all.filter((findings) =>
    findings.some(({ cause, basis }) => cause === "sensor-fault" && basis === "cleared"),
  );
  expect(cleared.length).toBeGreaterThanOrEqual(0.75 * SEEDS.length);
});
