import { strFromU8, unzipSync } from "fflate";
import type { Polygon } from "geojson";
import { open } from "shapefile";
import { describe, expect, it } from "vitest";
import type { DrawnZone } from "../../src/rate-zones/ground.ts";
import { drawRateZones } from "../../src/rate-zones/rate-zones.ts";
import { zonesInDegrees } from "../../src/rate-zones/rate-zones-degrees.ts";
import { rateZonesGeoJson, rateZonesNameMap, rateZonesShapefile } from "../../src/write/rate-zones-files.ts";
import { drawnPrescription, FRAME } from "../prescription/support/drawn-prescription.ts";
import { checkPartition, type Polygon as Rings, shoelace } from "../prescription/support/partition-check.ts";
import { randomGround } from "../prescription/support/random-ground.ts";

/** Metres to a degree at the frame's place, for areas and distances in square metres and metres. */
const NORTH = 111_075;
const EAST = NORTH * Math.cos((42 * Math.PI) / 180);

function inMetres(polygon: Rings): Rings {
  return polygon.map((ring) => ring.map(([x, y]): [number, number] => [(x + 93.6) * EAST, (y - 42) * NORTH]));
}

function drawn(seed: number) {
  const { ground, loads, limits } = randomGround(seed);
  return { outline: ground.outline, zones: drawRateZones(ground, loads, limits).zones };
}

function zone(number: number, polygon: DrawnZone["polygon"], changes: Partial<DrawnZone> = {}): DrawnZone {
  return {
    number,
    soilZones: ["clay"],
    proofStrip: false,
    areaHa: 1,
    polygon,
    marginN: 400,
    soilHa: [],
    ...changes,
  };
}

const square: DrawnZone["polygon"] = [
  [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
    [0, 0],
  ],
];
const neighbour: DrawnZone["polygon"] = [square[0]!.map(([x, y]): [number, number] => [x + 100, y])];
const holed: DrawnZone["polygon"] = [
  square[0]!.map(([x, y]): [number, number] => [x, y + 200]),
  square[0]!.map(([x, y]): [number, number] => [40 + x / 5, 240 + y / 5]).reverse(),
];

describe("zonesInDegrees", () => {
  const seeds = [1, 4, 7, 13, 18, 19, 22, 27, 40, 103, 137, 207];
  it.each(seeds)("field %i: whole 1e-7 degrees, shared borders, no crossing, the area kept", (seed) => {
    const { outline, zones } = drawn(seed);
    const written = zonesInDegrees(zones, FRAME);
    for (const [x, y] of written.flatMap(({ rings }) => rings.flat())) {
      expect(Number(x.toFixed(7))).toBe(x);
      expect(Number(y.toFixed(7))).toBe(y);
    }
    const boundary = outline.map((polygon) =>
      polygon.map((ring) => ring.map(([x, y]) => FRAME.toLonLat(x, y))),
    );
    const found = checkPartition(
      written.map(({ rings }) => inMetres(rings)),
      boundary.map(inMetres),
      200,
      seed,
    );
    expect(found.ringFaults).toEqual([]);
    expect(found.doubledEdges).toBe(0);
    // Half a step of 1e-7 degrees either way, and what a line bends between UTM and degrees over a kilometre.
    expect(found.farthestFromOutline).toBeLessThan(0.03);
    expect(found.gapArea + found.overlapArea).toBeLessThan(2e-4 * found.outlineArea);
    const areas = zones.map(({ areaHa }) => areaHa * 1e4);
    const total = areas.reduce((sum, area) => sum + area, 0);
    // UTM differs from the test's plane (round metres to a degree) in scale alone, by the same share everywhere.
    const scale = found.polygonArea / total;
    expect(Math.abs(scale - 1)).toBeLessThan(4e-3);
    expect(new Set(written.map((part) => part.zone.number)).size).toBe(zones.length);
    for (const [index, { rings }] of written.entries()) {
      const area = inMetres(rings).reduce((sum, ring) => sum + shoelace(ring), 0);
      if (written.length === zones.length)
        expect(Math.abs(area / scale / areas[index]! - 1)).toBeLessThan(2e-4);
    }
  });

  it("mends a corner that rounding moves across a line nearby", () => {
    // The middle corner lies 2 mm from the long edge between the zones; a step is about a centimetre.
    const upper: DrawnZone["polygon"] = [
      [
        [0, 0],
        [50.003, 0.002],
        [100, 0],
        [100, 50],
        [0, 50],
        [0, 0],
      ],
    ];
    const lower: DrawnZone["polygon"] = [
      [
        [0, 0],
        [0, -50],
        [100, -50],
        [100, 0],
        [50.003, 0.002],
        [0, 0],
      ],
    ];
    const sliver = [upper, lower].map((polygon, k) => zone(k + 1, polygon));
    const parts = zonesInDegrees(sliver, FRAME).map(({ rings }) => inMetres(rings));
    const found = checkPartition(parts, parts, 50, 1);
    expect(parts).toHaveLength(2);
    expect([found.ringFaults, found.doubledEdges, found.neighbours]).toEqual([[], 0, [[0, 1]]]);
  });
});

describe("rateZonesGeoJson", () => {
  it("winds outer rings counter-clockwise, keeps holes and has one number a zone, its quantity and unit in the name", () => {
    const collection = rateZonesGeoJson(
      drawnPrescription([zone(1, square), zone(2, holed, { marginN: 500, proofStrip: true })], null, "damp"),
      FRAME,
    );
    expect(collection.features.map((feature) => feature.properties)).toEqual([
      {
        ZONE: "1",
        SOIL_ZONE: "clay",
        PROOF: "no",
        GROUND: "damp",
        FIELD: "Invented, 4.9 ac",
        MARGIN_LBF: 89.9,
      },
      expect.objectContaining({ ZONE: "2", PROOF: "yes", MARGIN_LBF: 112.4 }),
    ]);
    for (const { properties } of collection.features)
      expect(Object.values(properties).filter((value) => typeof value === "number")).toHaveLength(1);
    const rings = collection.features[1]!.geometry.coordinates as [number, number][][];
    expect(rings.map((ring) => Math.sign(shoelace(ring)))).toEqual([1, -1]);
  });
});

describe("rateZonesShapefile", () => {
  async function readBack(zip: Uint8Array, name: string) {
    const files = unzipSync(zip);
    const part = (ending: string) => files[`${name}.${ending}`]!.slice().buffer as ArrayBuffer;
    const source = await open(part("shp"), part("dbf"), { encoding: strFromU8(files[`${name}.cpg`]!) });
    const features = [];
    for (let step = await source.read(); !step.done; step = await source.read()) features.push(step.value);
    return { files, features };
  }
  const zones = [
    zone(1, square, { soilZones: ["Lößlehm", "clay"] }),
    zone(2, neighbour, { marginN: 500 }),
    zone(3, holed, { marginN: 604, proofStrip: true, soilZones: [] }),
  ];

  it("carries the quantity of the channel alone, with no blank, named in the file name", async () => {
    const expected = {
      margin: "MARGIN_LBF",
      "added-force": "FORCE_LBF",
      pressure: "PRESS_PSI",
    };
    for (const channel of ["margin", "added-force", "pressure"] as const) {
      const { name, bytes } = rateZonesShapefile(drawnPrescription(zones, channel, "dry"), FRAME);
      expect(name).toBe(`rates-dry-${channel}.zip`);
      const { features } = await readBack(bytes, `rates-dry-${channel}`);
      const columns = ["ZONE", "SOIL_ZONE", "PROOF", "GROUND", "FIELD", expected[channel]];
      for (const feature of features) {
        expect(Object.keys(feature.properties!)).toEqual(columns);
        expect(Object.values(feature.properties!)).not.toContain(null);
        expect(Object.values(feature.properties!).filter((value) => typeof value === "number")).toHaveLength(
          1,
        );
      }
      expect(
        rateZonesNameMap(drawnPrescription(zones, channel, "dry"))
          .text.split("\r\n")
          .slice(1, -1),
      ).toEqual(columns.map((column) => expect.stringMatching(new RegExp(`^${column},`))));
    }
  });

  it("reads back with values, ASCII names and holes", async () => {
    const { features, files } = await readBack(
      rateZonesShapefile(drawnPrescription(zones), FRAME).bytes,
      "rates-fit-margin",
    );
    expect(Object.keys(files).sort()).toEqual(
      ["cpg", "dbf", "prj", "shp", "shx"].map((part) => `rates-fit-margin.${part}`),
    );
    // 400 N / 4.4482216 N to a pound-force (NIST SP 811).
    const all = { GROUND: "fit", FIELD: "Invented, 7.4 ac" };
    expect(features.map((feature) => feature.properties)).toEqual([
      { ZONE: "1", SOIL_ZONE: "Losslehm, clay", PROOF: "no", ...all, MARGIN_LBF: 89.9 },
      { ZONE: "2", SOIL_ZONE: "clay", PROOF: "no", ...all, MARGIN_LBF: 112.4 },
      { ZONE: "3", SOIL_ZONE: "none", PROOF: "yes", ...all, MARGIN_LBF: 135.8 },
    ]);
    expect(features.map((feature) => (feature.geometry as { type: string }).type)).toEqual([
      "Polygon",
      "Polygon",
      "Polygon",
    ]);
    const wound = (features[2]!.geometry as Polygon).coordinates as [number, number][][];
    // The format winds outer rings clockwise, the other way round than GeoJSON.
    expect(wound.map((ring) => Math.sign(shoelace(ring)))).toEqual([-1, 1]);
  });

  it("writes no channel that a zone has no value for", () => {
    const prescription = drawnPrescription(zones, "added-force");
    prescription.zones[1]!.rates.forceN = null;
    expect(() => rateZonesShapefile(prescription, FRAME)).toThrow("zone 2 has no added force");
  });
});
