/** `evenstand proof` on an invented field that was planted by a prescription, one pass left at the old load. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { seededRandom } from "../../src/numerics/random.ts";
import type { ProofResult } from "../../src/proof/proof-result.ts";
import { fakeIo } from "../support/fake-io.ts";
import {
  BAR_WIDTH_M,
  collection,
  degrees,
  LENGTH_M,
  PASSES,
  plantingLog,
  point,
  SMALL_MANIFEST,
  square,
  writeSmallField,
} from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const STRIP_PASS = 2;
const WEST = STRIP_PASS * BAR_WIDTH_M;
const WIDTH = PASSES * BAR_WIDTH_M;

interface Scene {
  /** Loads asked for in the strip and beside it, and carried in the strip, lbf. */
  asked?: [strip: number, beside: number];
  carriedInStrip?: number;
  /** Plants missing in the strip, share. */
  missing?: number;
  counts?: number;
}

/** The field's folder and the zones sent, west of the soil border a strip in the middle. */
function scene({ asked = [60, 110], carriedInStrip = 60, missing = 0.12, counts = 14 }: Scene = {}) {
  const folder = temporaryFolder();
  const log = plantingLog();
  for (const feature of log.features as {
    geometry: { coordinates: [number, number] };
    properties: { MARGIN_LBF: number };
  }[]) {
    const east = (feature.geometry.coordinates[0] - degrees(0, 0)[0]) / (degrees(1, 0)[0] - degrees(0, 0)[0]);
    if (east > WEST && east < WEST + BAR_WIDTH_M) feature.properties.MARGIN_LBF += carriedInStrip - 110;
  }
  const random = seededRandom(7);
  const spots = [];
  for (let k = 0; k < counts; k++) {
    const north = ((k + 0.5) / counts) * LENGTH_M;
    for (const [east, share] of [
      [WEST + BAR_WIDTH_M / 2, 0.94 * (1 - missing)],
      [WEST + (k % 2 === 0 ? 1.5 : -0.5) * BAR_WIDTH_M, 0.94],
    ] as const)
      spots.push(
        point(degrees(east, north), {
          PLANTS: Math.round(34 * share + 3 * (random() - 0.5)),
          ROW_LENGTH_FT: 17.424,
        }),
      );
  }
  writeSmallField(folder, {
    "planting.geojson": log,
    "counts.geojson": collection(spots),
    "field.json": {
      ...SMALL_MANIFEST,
      prices: { grain: "4.20 USD/bu", expectedYield: "200 bu/ac" },
    },
  });
  const [strip, beside] = asked;
  const zones = collection([
    square(-5, -5, WEST + 5, LENGTH_M + 10, {
      ZONE: "1",
      SOIL_ZONE: "silt loam",
      PROOF: "no",
      MARGIN_LBF: beside,
    }),
    square(WEST, -5, BAR_WIDTH_M, LENGTH_M + 10, {
      ZONE: "2",
      SOIL_ZONE: "silt loam",
      PROOF: "yes",
      MARGIN_LBF: strip,
    }),
    square(WEST + BAR_WIDTH_M, -5, WIDTH / 2 - WEST - BAR_WIDTH_M, LENGTH_M + 10, {
      ZONE: "1",
      SOIL_ZONE: "silt loam",
      PROOF: "no",
      MARGIN_LBF: beside,
    }),
    square(WIDTH / 2, -5, WIDTH / 2 + 5, LENGTH_M + 10, {
      ZONE: "3",
      SOIL_ZONE: "clay loam",
      PROOF: "no",
      MARGIN_LBF: 110,
    }),
  ]);
  const sent = join(folder, "rates-fit.geojson");
  writeFileSync(sent, JSON.stringify(zones));
  return { folder, sent };
}

async function proofOf(field: { folder: string; sent: string }, ...more: string[]) {
  const io = fakeIo(field.folder);
  const code = await run(["proof", field.folder, "--zones", field.sent, ...more], io);
  return { code, out: io.written.out, err: io.written.err };
}

async function resultOf(what: Scene): Promise<ProofResult> {
  const { code, out, err } = await proofOf(scene(what), "--json");
  expect(code, err).toBe(0);
  return JSON.parse(out) as ProofResult;
}

describe("evenstand proof", () => {
  it("finds what the new load gained, in plants and in money, and what each side carried", async () => {
    const result = await resultOf({});
    expect(result.verdict).toBe("gained");
    const [strip] = result.strips;
    expect(result.strips).toHaveLength(1);
    expect(strip!.strip.counts).toBe(14);
    expect(strip!.beside.counts).toBe(14);
    // 12 % of 0.94 of the plants wanted.
    expect(result.gain!.low).toBeLessThan(0.113);
    expect(result.gain!.high).toBeGreaterThan(0.113);
    expect(result.gain!.low).toBeGreaterThan(0);
    expect(strip!.carriedOut).toBeGreaterThan(0.9);
    expect(result.money!.low).toBeGreaterThan(0);
    expect(result.money!.currency).toBe("USD");
    // Silt loam is the west half, the strip off it.
    expect(result.areaHa).toBeCloseTo(((WIDTH / 2 - BAR_WIDTH_M) * LENGTH_M) / 10_000, 0);
  });

  it("does not call a gain where there is none, and says how many counts would show one", async () => {
    const result = await resultOf({ missing: 0 });
    expect(result.verdict).toBe("not-shown");
    expect(result.gain!.low).toBeLessThan(0);
    expect(result.gain!.high).toBeGreaterThan(0);
    expect(result.money).toBeNull();
    expect(result.countsToShow).toBeGreaterThan(5);
  });

  it("says a loss where the strip stands better", async () => {
    const { out } = await proofOf(scene({ missing: -0.06, counts: 40 }));
    const text = out.replaceAll(/\s+/g, " ");
    expect(text).toMatch(
      /^It did not pay: of every hundred plants wanted [\d.]+ fewer stand .* that cost about USD \d+ \(USD/,
    );
    expect(text).toContain("operator's manual");
  });

  it("says nothing of the loads where the machine did not change them", async () => {
    const result = await resultOf({ carriedInStrip: 108 });
    expect(result.verdict).toBe("not-carried");
    expect(result.gain).toBeNull();
  });

  it("without counts says where to count, on both sides, and writes the places", async () => {
    const field = scene({ counts: 1 });
    const out = join(field.folder, "proof");
    const { code, out: text } = await proofOf(field, "--out", out);
    expect(code).toBe(0);
    expect(text).toContain("It cannot be said yet");
    const form = readFileSync(join(out, "proof-counts.csv"), "utf8").trim().split("\r\n");
    const sides = form.slice(1).map((line) => line.split(",")[3]);
    expect(sides.filter((side) => side === "in the strip of zone 2").length).toBeGreaterThanOrEqual(6);
    expect(sides.filter((side) => side === "beside the strip of zone 2")).toHaveLength(sides.length / 2);
    const gpx = readFileSync(join(out, "proof-counts.gpx"), "utf8");
    expect(gpx.match(/<wpt /g)).toHaveLength(sides.length);
  });

  it("refuses a file that holds no zones, and zones without a strip", async () => {
    const { folder, sent } = scene();
    const { code, err } = await proofOf({ folder, sent: join(folder, "soil.geojson") });
    expect(code).toBe(3);
    expect(err).toContain("has no column ZONE (its columns: texture)");
    const zones = JSON.parse(readFileSync(sent, "utf8"));
    zones.features = zones.features.filter(
      (zone: { properties: { PROOF: string } }) => zone.properties.PROOF === "no",
    );
    writeFileSync(sent, JSON.stringify(zones));
    const second = await proofOf({ folder, sent });
    expect(second.code).toBe(3);
    expect(second.err).toContain("no zone has PROOF");
  });
});
