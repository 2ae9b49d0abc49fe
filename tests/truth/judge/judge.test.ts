/** The judge itself: fields follow from world, kind and seed, harm is what a kind says, and scores count it right. */
import { describe, expect, it } from "vitest";
import { exactBounds } from "./bounds.ts";
import { buildWorldField, makeWorldFiles, type Truth } from "./build-world-field.ts";
import { MIXTURE, planFields } from "./plan.ts";
import { type ScoredField, scoreDocument } from "./score.ts";
import { asMarkdown } from "./summary.ts";
import { WORLDS, type WorldName, worldsOf } from "./worlds.ts";

const NAMES = Object.keys(WORLDS) as WorldName[];
const mean = (list: ArrayLike<number>): number => Array.from(list).reduce((a, b) => a + b, 0) / list.length;

describe.each(NAMES)("the world %s", (world) => {
  it("gives the same files for the same seed, and others for another", () => {
    const [one, same, other] = [4, 4, 5].map((seed) => makeWorldFiles(world, "one", seed, {}).files);
    expect(textOf(one!)).toBe(textOf(same!));
    expect(textOf(one!)).not.toBe(textOf(other!));
  });

  it("loads as its layout says, with the counts and the depth source that were written", async () => {
    const { field, truth } = await buildWorldField(world, "sound", 6);
    const layout = { row: "row-unit", section: "section", bar: "bar" }[WORLDS[world].layout];
    expect(field.log.layout).toBe(layout);
    expect(field.standCounts!.spotCount).toBe(truth.counts);
    expect(field.planter.rowUnits).toBe(truth.ground.rows);
    expect(field.log.depthSource).toBe(WORLDS[world].hasDepthAndLoad ? "sensed" : "unknown");
    const stand = mean(field.standCounts!.standPerHa) / field.targets.populationPerHa!;
    expect(Math.abs(stand - truth.meanStand)).toBeLessThan(0.03);
  });

  it("harms nothing on sound fields, whatever the log shows", () => {
    for (const kind of ["sound", "decoy"] as const) {
      const { truth } = makeWorldFiles(world, kind, 7, {});
      expect(truth.events).toEqual([]);
      expect(Math.max(...truth.loss)).toBeLessThan(0.02);
    }
  });

  it("has places of some size where it says so, harmed inside and nowhere else", () => {
    const { truth } = makeWorldFiles(world, "two", 8, {});
    expect(truth.events.length).toBeGreaterThan(0);
    for (const { loss, counts } of truth.events) {
      expect(loss).toBeGreaterThan(0.02);
      expect(counts).toBeGreaterThanOrEqual(3);
    }
    const outside = truth.loss.filter((_, i) => truth.events.every(({ sites }) => !sites[i]));
    expect(Math.max(...outside)).toBeLessThan(0.02);
  });

  it("is short by what a kind says", () => {
    const kinds = ["zone-12", "day-12", "lot-12", "half-12", "section-12", "field-12"] as const;
    for (const kind of kinds) {
      const { truth } = makeWorldFiles(world, kind, 9, {});
      const [event] = truth.events;
      const share = event!.loss / (truth.meanStand + mean(truth.loss));
      expect(Math.abs(share - 0.12)).toBeLessThan(0.012);
    }
  });

  it("harms by the unlisted loss alone where it lies on a harmless departure", () => {
    const { truth } = makeWorldFiles(world, "unlisted-on-decoy", 10, {});
    const [event] = truth.events;
    expect(event!.change).not.toBeNull();
    expect(Math.abs(event!.loss - event!.ownLoss * 0.93)).toBeLessThan(0.03);
  });
});

it("leaves the depth source unnamed when asked, and changes nothing else", async () => {
  const [named, unnamed] = [
    makeWorldFiles("slopes", "one", 11, {}),
    makeWorldFiles("slopes", "one", 11, { depthSource: "unnamed" }),
  ];
  expect(textOf(unnamed.files)).toBe(textOf(named.files));
  const column = unnamed.manifest.plantingLog.columns!.seedingDepth;
  expect(column).toEqual({ column: "depth_in", unit: "in" });
});

it("plans every kind in its mixture, on worlds of one set only", () => {
  const fields = planFields(worldsOf("judge"), MIXTURE, 1, 120, "sensed");
  expect(fields).toHaveLength(120);
  expect(new Set(fields.map(({ kind }) => kind)).size).toBe(new Set(MIXTURE).size);
  expect(fields.every(({ world }) => WORLDS[world].set === "judge")).toBe(true);
  expect(worldsOf("judge").some((world) => worldsOf("tune").includes(world))).toBe(false);
});

describe("scores", () => {
  const { truth } = makeWorldFiles("hard", "one", 12, {});
  const place = (inside: (x: number, y: number) => boolean, cause: string, deficit: number) => ({
    kind: "area",
    cause,
    basis: "counted",
    probability: 0.95,
    alternatives: [],
    where: {
      geometry: { coordinates: squares(truth, inside) },
      rowUnits: [],
      soilZones: [],
    },
    stand: {
      deficitShare: { estimate: deficit, low: deficit - 0.03, high: deficit + 0.03 },
      counts: 6,
    },
  });
  const [event] = truth.events;
  const isHurt = (x: number, y: number): boolean => {
    const pass = Math.floor(x / truth.ground.barM) + 1;
    return event!.inside({ pass, row: 1, across: x, along: y, zone: truth.ground.zoneAt(x, y) });
  };

  it("count a place on the event as found, its cause and its interval right", () => {
    const finding = place(isHurt, event!.right[0]!, event!.loss);
    const { events, findings } = scoreDocument(truth, { summary: {}, findings: [finding] });
    expect(events[0]!.found).toBe(true);
    expect(findings[0]).toMatchObject({ isTrue: true, right: true, named: true });
    expect(Math.abs(findings[0]!.deficit!.truth - event!.loss)).toBeLessThan(0.03);
  });

  it("count a place elsewhere as false, its cause as wrong, and the event as missed", () => {
    const finding = place((x, y) => !isHurt(x, y) && x < 60 && y < 120, event!.right[0]!, event!.loss);
    const { events, findings } = scoreDocument(truth, { summary: {}, findings: [finding] });
    expect(events[0]!.found).toBe(false);
    expect(findings[0]).toMatchObject({ isTrue: false, right: false });
  });

  it("find a soil zone by its contrast, and count another zone called short as wrong", () => {
    const zone = makeWorldFiles("hard", "zone-12", 13, {}).truth;
    const contrast = {
      kind: "soil-zone",
      counts: 40,
      shortShare: { estimate: 0.12, low: 0.08, high: 0.16 },
      probability: 0.97,
      verdict: "short",
    };
    const own = zone.events[0]!.contrast!.of;
    const other = zone.ground.zoneNames.find((name) => name !== own)!;
    const score = (names: string[], verdict = "short") =>
      scoreDocument(zone, {
        findings: [],
        summary: { contrasts: names.map((name) => ({ ...contrast, name, verdict })) },
      });
    expect(score([own]).events[0]).toMatchObject({ found: true, listed: true });
    expect(score([own], "could-be").events[0]).toMatchObject({ found: false, listed: true });
    expect(score([other]).events[0]).toMatchObject({ found: false, listed: false });
    expect(score([other]).wrongContrasts).toEqual([`soil-zone: ${other}`]);
    expect(score([own]).contrastIntervals).toMatchObject([{ low: 0.08, truth: 0.12 }]);
  });

  it("stand in the table with exact bounds, both sets side by side", () => {
    const field = (world: WorldName, alarms: number): ScoredField => ({
      world,
      kind: "sound",
      seed: 1,
      depthSource: "sensed",
      wanted: null,
      counts: 100,
      spots: { rowsCounted: 4, positionErrorM: 1, namesRow: false },
      events: [],
      findings: Array.from({ length: alarms }, () => ({
        kind: "area",
        cause: "misses",
        named: true,
        probability: 0.92,
        isTrue: false,
        right: false,
        counts: 3,
        deficit: null,
      })),
      wrongContrasts: [],
      contrasts: 3,
      contrastIntervals: [],
      predicted: 0,
      seconds: 1,
      failed: null,
    });
    const text = asMarkdown([field("bars", 2), field("bars", 0), field("hard", 0), field("hard", 0)]);
    expect(text).toContain(
      "| sound fields with an alarm | <= 0.05 | 0.50 (1 of 2; 0.01 to 0.99) | 0.00 (0 of 2; 0.00 to 0.84) |",
    );
    const unnamed = { ...field("bars", 1), depthSource: "unnamed" };
    expect(asMarkdown([field("bars", 0), field("hard", 0), unnamed])).toContain(
      "| sound fields with an alarm | 0.00 (0 of 1; 0.00 to 0.98) | none | 1.00 (1 of 1; 0.02 to 1.00) | none |",
    );
    expect(text).toContain("said 0.92, right 0.00 (0 of 2; 0.00 to 0.84) `..........`");
  });
});

it("exact bounds are those of Clopper and Pearson: 2 of 20 leave 0.0123 to 0.3170, 0 of 50 at most 0.0711", () => {
  const { low, high } = exactBounds(2, 20);
  expect(low).toBeCloseTo(0.0123, 4);
  expect(high).toBeCloseTo(0.317, 4);
  expect(exactBounds(0, 50).high).toBeCloseTo(1 - 0.025 ** (1 / 50), 6);
  expect(exactBounds(50, 50)).toEqual({ low: expect.closeTo(0.025 ** (1 / 50), 6), high: 1 });
});

function textOf(files: ReadonlyMap<string, Uint8Array>): string {
  return [...files].map(([name, bytes]) => `${name}\n${new TextDecoder().decode(bytes)}`).join("\n");
}

/** Squares of 8 m that hold, as rings in degrees. */
function squares(truth: Truth, inside: (x: number, y: number) => boolean): number[][][][] {
  const step = 8;
  const list: number[][][][] = [];
  for (let x = 0; x < truth.ground.widthM; x += step) {
    for (let y = 0; y < truth.ground.spec.lengthM; y += step) {
      if (!inside(x + step / 2, y + step / 2)) continue;
      const corners = [
        [x, y],
        [x + step, y],
        [x + step, y + step],
        [x, y + step],
        [x, y],
      ] as const;
      list.push([corners.map(([a, b]) => truth.ground.toDegrees(a, b))]);
    }
  }
  return list;
}
