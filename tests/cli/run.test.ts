import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { area, booleanClockwise } from "@turf/turf";
import { Ajv2020 } from "ajv/dist/2020.js";
import type { FeatureCollection, Polygon } from "geojson";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { fakeIo } from "../support/fake-io.ts";
import {
  collection,
  degrees,
  plantingLog,
  point,
  SMALL_MANIFEST,
  square,
  writeSmallField,
} from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
let folders = 0;

/** A new empty folder to work in. */
function newFolder(): string {
  const folder = join(base, String(++folders));
  mkdirSync(folder);
  return folder;
}

async function runIn(folder: string, ...argv: string[]) {
  const io = fakeIo(folder);
  const code = await run(argv, io);
  return { code, ...io.written };
}

const OUTPUTS = [
  ".evenstand",
  "cells.geojson",
  "findings.geojson",
  "findings.json",
  "passes.csv",
  "report.html",
  "row-units.csv",
  "soil-zones.csv",
];

describe("the command line", () => {
  it("shows help and version and ends with 0", async () => {
    const help = await runIn(base, "--help");
    expect(help.code).toBe(0);
    expect(help.out).toMatchSnapshot();
    expect(help.err).toBe("");
    const { version } = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
    expect(await runIn(base, "--version")).toEqual({ code: 0, out: `${version}\n`, err: "" });
    for (const command of ["inspect", "analyse", "open"]) {
      const shown = await runIn(base, command, "--help");
      expect(shown.code).toBe(0);
      expect(shown.out).toContain(`evenstand ${command}`);
    }
  });

  it.each([
    [["analyse", "field", "--out", "out", "--no-such"], "--no-such"],
    [["analyse", "field"], "--out"],
    [["analyse", "--out", "out"], "field"],
    [["analyse", "a", "b", "--out", "out"], "argument"],
    [["frobnicate"], "frobnicate"],
    [["inspect"], "file"],
    [["open", "--port", "ninety"], "ninety"],
    [["open", "--port", "70000"], "70000"],
    [["--no-such"], "--no-such"],
    [[], "Usage"],
  ])("ends with 2 for %j and says why", async (argv, named) => {
    const folder = newFolder();
    const { code, out, err } = await runIn(folder, ...argv);
    expect(code).toBe(2);
    expect(err).toContain(named);
    expect(out).toBe("");
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("analyse", () => {
  it("writes every output, the same bytes each time, and prints the ledger", async () => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    const first = await runIn(folder, "analyse", "field", "--out", "out/one");
    expect(first.err).toBe("Results are in out/one; open report.html there for the map.\n");
    expect(first.code).toBe(0);
    expect(first.out).toContain("Small Field");
    expect(first.out).toContain("Tested and even on");
    for (const line of first.out.split("\n")) expect(line.length).toBeLessThanOrEqual(80);
    expect(readdirSync(join(folder, "out/one")).sort()).toEqual(OUTPUTS);
    const second = await runIn(folder, "analyse", "field/field.json", "--out", "out/two");
    expect(second.code).toBe(0);
    for (const name of OUTPUTS) {
      const [one, two] = ["one", "two"].map((out) => readFileSync(join(folder, "out", out, name)));
      expect(one!.equals(two!), name).toBe(true);
    }
  });

  it("writes findings that the schema accepts, with the hash of every input; --json prints the same", async () => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    const { code, out } = await runIn(folder, "analyse", "field", "--out", "out", "--json");
    expect(code).toBe(0);
    expect(out).toBe(readFileSync(join(folder, "out/findings.json"), "utf8"));
    const document = JSON.parse(out) as FindingsDocument;
    const schema = JSON.parse(
      readFileSync(new URL("../../docs/findings.schema.json", import.meta.url), "utf8"),
    );
    const validate = new Ajv2020({ allErrors: true, allowUnionTypes: true }).compile(schema);
    expect(validate(document), JSON.stringify(validate.errors, null, 1)).toBe(true);
    expect(document.inputs.map((input) => input.role).sort()).toEqual([
      "plantingLog",
      "soilZones",
      "standCounts",
    ]);
    for (const input of document.inputs) expect(input.sha256, input.file).toMatch(/^[0-9a-f]{64}$/);
  });

  it("draws cells as the ground they stand for", async () => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    await runIn(folder, "analyse", "field", "--out", "out");
    const cells = JSON.parse(
      readFileSync(join(folder, "out/cells.geojson"), "utf8"),
    ) as FeatureCollection<Polygon>;
    expect(cells.features.length).toBeGreaterThan(200);
    for (const { geometry, properties } of cells.features) {
      // Geodesic area of the polygon against the area the cell states: within 1 %, of 200 m2 some 2 m2.
      expect(Math.abs(area(geometry) / 1e4 - properties!.areaHa) / properties!.areaHa).toBeLessThan(0.01);
      expect(booleanClockwise(geometry.coordinates[0]!)).toBe(false);
      expect(properties!.seedingDepthMm).toBeGreaterThan(45);
      expect(["silt loam", "clay loam"]).toContain(properties!.soilZone);
    }
  });

  it("puts the findings into the report, so that no text in them becomes markup", async () => {
    const folder = newFolder();
    const name = '</script><script>alert("x")</script><!--';
    writeSmallField(join(folder, "field"), { "field.json": { ...SMALL_MANIFEST, name } });
    expect((await runIn(folder, "analyse", "field", "--out", "out")).code).toBe(0);
    const html = readFileSync(join(folder, "out/report.html"), "utf8");
    expect(html).not.toContain("<script>alert");
    const json = /<script type="application\/json" id="findings">([^<]*)<\/script>/.exec(html)?.[1];
    expect((JSON.parse(json!) as FindingsDocument).field.name).toBe(name);
  });

  it("prints processor time per stage on demand, to standard error", async () => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    const { err } = await runIn(folder, "analyse", "field", "--out", "out", "--timings");
    for (const stage of ["read", "passes", "compare", "report", "write", "total"]) {
      expect(err).toMatch(new RegExp(`^  ${stage} +\\d+\\.\\d\\d$`, "m"));
    }
  });

  it("draws a bar on a terminal only, and bold only where NO_COLOR is unset", async () => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    const terminal = fakeIo(folder, { terminal: true });
    expect(await run(["analyse", "field", "--out", "out"], terminal)).toBe(0);
    expect(terminal.written.err).toContain("[####");
    expect(terminal.written.out).toContain("\u001B[1m");
    const plain = fakeIo(folder, { terminal: true, environment: { NO_COLOR: "1" } });
    await run(["analyse", "field", "--out", "out"], plain);
    expect(plain.written.out).not.toContain("\u001B");
  });

  it("refuses an output folder that is not ours before it reads anything", async () => {
    const folder = newFolder();
    mkdirSync(join(folder, "mine"));
    writeFileSync(join(folder, "mine/letter.txt"), "mine");
    const { code, err } = await runIn(folder, "analyse", "no-such-field", "--out", "mine");
    expect(code).toBe(2);
    expect(err).toContain("mine");
    expect(readdirSync(join(folder, "mine"))).toEqual(["letter.txt"]);
  });

  it("ends with 1 for a fault of ours, says how to report it, and shows the stack on demand", async () => {
    const broken = fakeIo(base, {
      out: () => {
        throw new TypeError("boom");
      },
    });
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    const argv = ["analyse", join(folder, "field"), "--out", join(folder, "out")];
    expect(await run(argv, broken)).toBe(1);
    expect(broken.written.err).toContain("a fault of ours");
    expect(broken.written.err).toContain("report it");
    expect(broken.written.err).not.toContain("    at ");
    const debugging = { ...broken, environment: { EVENSTAND_DEBUG: "1" } };
    expect(await run(argv, debugging)).toBe(1);
    expect(broken.written.err).toContain("    at ");
  });
});

const LONE = { soilZones: undefined, standCounts: undefined, targets: undefined, planter: undefined };
const log = plantingLog();
const withoutPlantingVariables = collection(
  log.features.map((feature) => ({ ...feature, properties: { NAME: "x", COLOUR: "red" } })),
);
const farAway = collection([
  {
    ...square(0, 0, 100, 100, { texture: "loam" }),
    geometry: {
      type: "Polygon",
      coordinates: [
        [
          [10, 50],
          [10.01, 50],
          [10.01, 50.01],
          [10, 50],
        ],
      ],
    },
  },
]);
const utmMetres = collection([
  point([448_000, 4_650_000], { DEPTH_IN: 2 }),
  point([448_010, 4_650_000], { DEPTH_IN: 2 }),
]);

/** What is wrong, the files changed, and words the one message has to hold. */
const BAD_INPUTS: [string, Record<string, unknown>, string[]][] = [
  ["a missing log", { "planting.geojson": null }, ["planting.geojson", "no such file"]],
  ["a log that is not JSON", { "planting.geojson": "PK not json at all" }, ["planting.geojson", "JSON"]],
  ["a manifest that is not JSON", { "field.json": "{ name: " }, ["field.json", "JSON"]],
  ["no manifest", { "field.json": null }, ["field.json"]],
  ["an unknown key", { "field.json": { ...SMALL_MANIFEST, soilZone: {} } }, ["soilZone", "soilZones"]],
  [
    "a unit that does not fit",
    { "field.json": { ...SMALL_MANIFEST, targets: { seedingDepth: "2 lbf" } } },
    ["seedingDepth", "2 lbf", "in"],
  ],
  [
    "lines where points or polygons belong",
    {
      "planting.geojson": collection([
        {
          type: "Feature",
          geometry: { type: "LineString", coordinates: [degrees(0, 0), degrees(1, 1)] },
          properties: { DEPTH_IN: 2 },
        },
      ]),
    },
    ["planting.geojson", "LineString"],
  ],
  [
    "points where the soil map belongs",
    { "soil.geojson": collection([point(degrees(1, 1), { texture: "loam" })]) },
    ["soil.geojson", "polygon"],
  ],
  [
    "a log without a planting variable",
    {
      "planting.geojson": withoutPlantingVariables,
      "field.json": { ...SMALL_MANIFEST, plantingLog: { file: "planting.geojson" } },
    },
    ["planting.geojson", "COLOUR"],
  ],
  ["a log without records", { "planting.geojson": collection([]) }, ["planting.geojson"]],
  ["metres without a coordinate system", { "planting.geojson": utmMetres }, ["planting.geojson", "448"]],
  ["a soil map of another place", { "soil.geojson": farAway }, ["soil.geojson", "planting.geojson"]],
  [
    "a file outside the folder",
    { "field.json": { ...SMALL_MANIFEST, ...LONE, plantingLog: { file: "../planting.geojson" } } },
    ["../planting.geojson"],
  ],
];

describe("an input that cannot be used", () => {
  it.each(BAD_INPUTS)("%s: ends with 3, one message, no folder left", async (_what, changes, words) => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"), changes);
    const { code, out, err } = await runIn(folder, "analyse", "field", "--out", "results/out");
    expect(err.match(/^evenstand: /gm)).toHaveLength(1);
    for (const word of words) expect(err).toContain(word);
    expect(err).not.toContain("    at ");
    expect(code).toBe(3);
    expect(out).toBe("");
    expect(existsSync(join(folder, "results"))).toBe(false);
    expect(readdirSync(folder)).toEqual(["field"]);
  });

  it("says so when the field is not there at all", async () => {
    const folder = newFolder();
    const { code, err } = await runIn(folder, "analyse", "nowhere", "--out", "out");
    expect(code).toBe(3);
    expect(err).toContain("nowhere: no such file or folder");
    expect(readdirSync(folder)).toEqual([]);
  });

  it("leaves earlier results as they were", async () => {
    const folder = newFolder();
    writeSmallField(join(folder, "field"));
    expect((await runIn(folder, "analyse", "field", "--out", "out")).code).toBe(0);
    const before = readFileSync(join(folder, "out/findings.json"));
    writeFileSync(join(folder, "field/planting.geojson"), "damaged");
    expect((await runIn(folder, "analyse", "field", "--out", "out")).code).toBe(3);
    expect(readdirSync(join(folder, "out")).sort()).toEqual(OUTPUTS);
    expect(readFileSync(join(folder, "out/findings.json")).equals(before)).toBe(true);
  });
});
