/** What `inspect --manifest` writes is analysed unchanged; what is unclear ends with 3 and the lines that settle it. */
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import { collection, plantingLog, point, smallField, square } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
let folders = 0;

function folderWith(files: Record<string, unknown>): string {
  const folder = join(base, String(++folders));
  mkdirSync(folder);
  for (const [name, content] of Object.entries(files)) {
    writeFileSync(join(folder, name), typeof content === "string" ? content : JSON.stringify(content));
  }
  return folder;
}

async function runIn(folder: string, ...argv: string[]) {
  const io = fakeIo(folder);
  const code = await run(argv, io);
  return { code, ...io.written };
}

interface LogPoint {
  geometry: { coordinates: [number, number] };
  properties: { TIME: string; SPEED_MPH: number; DEPTH_IN: number; MARGIN_LBF: number; SWATH_FT: number };
}
const POINTS = plantingLog().features as LogPoint[];

/** The small log with other properties. */
function logWith(properties: (one: LogPoint["properties"], index: number) => Record<string, unknown>) {
  return collection(
    POINTS.map((one, index) => point(one.geometry.coordinates, properties(one.properties, index))),
  );
}

function csv(rows: readonly Record<string, unknown>[]): string {
  const names = Object.keys(rows[0]!);
  const cell = (value: unknown) => `"${String(value).replaceAll('"', '""')}"`;
  return `${[names, ...rows.map((row) => names.map((name) => row[name]))].map((row) => row.map(cell).join(",")).join("\n")}\n`;
}

const { "soil.geojson": SOIL, "counts.geojson": COUNTS, "planting.geojson": LOG } = smallField();
const METRES_EAST = 1 / (111_075 * Math.cos((42 * Math.PI) / 180));
const METRES_NORTH = 1 / 111_075;

/** Day and time of a record as a person would write them, "Apr 24, 2026 2:00:01 PM". */
function worded(time: string): string {
  const date = new Date(time);
  const two = (value: number) => String(value).padStart(2, "0");
  return `Apr ${date.getUTCDate()}, 2026 ${date.getUTCHours() % 12 || 12}:${two(date.getUTCMinutes())}:${two(date.getUTCSeconds())} PM`;
}

const FIXTURES: Record<string, Record<string, unknown>> = {
  "a log, zones and counts": {
    "log.geojson": LOG,
    "soil.geojson": SOIL,
    "counts.geojson": collection(
      (COUNTS as { features: LogPoint[] }).features.map(({ geometry, properties }) =>
        point(geometry.coordinates, { ...properties, ROW_SPACING_IN: 30 }),
      ),
    ),
  },
  "a log alone": { "log.geojson": LOG },
  "with a yield map": {
    "log.geojson": LOG,
    "yield.geojson": collection(
      POINTS.slice(0, 60).map((one, i) => point(one.geometry.coordinates, { Yield_bu_ac: 180 + (i % 9) })),
    ),
  },
  "one column per row unit": {
    "log.geojson": logWith(({ TIME, SPEED_MPH, DEPTH_IN, SWATH_FT }) => ({
      TIME,
      SPEED_MPH,
      SWATH_FT,
      ...Object.fromEntries(
        Array.from({ length: 8 }, (_, unit) => [`Depth_${unit + 1}_in`, DEPTH_IN + unit / 50]),
      ),
    })),
    "soil.geojson": SOIL,
  },
  "footprint polygons": {
    "log.geojson": collection(
      POINTS.map(({ geometry, properties: { TIME, DEPTH_IN, MARGIN_LBF } }) => {
        const [longitude, latitude] = geometry.coordinates;
        const [east, north] = [(longitude + 93.6) / METRES_EAST, (latitude - 42) / METRES_NORTH];
        return square(east - 9, north - 1.5, 18, 3, { TIME, DEPTH_IN, MARGIN_LBF });
      }),
    ),
  },
  "section records": {
    "log.geojson": collection(
      POINTS.flatMap(({ geometry, properties: { TIME, DEPTH_IN } }) =>
        [0, 1, 2].map((section) =>
          point([geometry.coordinates[0] + (section - 1) * 6 * METRES_EAST, geometry.coordinates[1]], {
            TIME,
            Section: section + 1,
            DEPTH_IN: DEPTH_IN + section / 30,
            Swath_ft: 20,
          }),
        ),
      ),
    ),
  },
  "a population in percent of the target, radians, a sensed depth": {
    "log.geojson": logWith(({ TIME, DEPTH_IN, SWATH_FT }, i) => ({
      TIME,
      SWATH_FT,
      Sensed_Depth_in: DEPTH_IN,
      Population: 98 + Math.sin(i),
      Tgt_Rate_k: 30 + (Math.floor(i / 40) % 3) * 3,
      Heading: Math.floor(i / 101) % 2 === 0 ? 0.01 : Math.PI,
    })),
  },
  "tables as people write them": {
    "log.csv": csv(
      POINTS.map(({ geometry, properties: { TIME, SPEED_MPH, DEPTH_IN, SWATH_FT } }) => ({
        lon: geometry.coordinates[0],
        lat: geometry.coordinates[1],
        When_Time: worded(TIME),
        "Speed (km/h)": SPEED_MPH * 1.609344,
        "Depth (mm)": DEPTH_IN * 25.4,
        "Swath (ft)": SWATH_FT,
      })),
    ),
    "counts.csv": csv(
      [5, 300, 600, 900].map((record, i) => ({
        lon: POINTS[record]!.geometry.coordinates[0],
        lat: POINTS[record]!.geometry.coordinates[1],
        row1: 29 + i,
        row2: 30,
        row3: 31,
        row4: 28,
        row_length: "17'5\"",
        row_spacing: "30 in",
        leaf_stages_behind: "V2/V3",
        date: "22-May-2026",
      })),
    ),
    "digs.csv": csv(
      [10, 320, 610].map((record, i) => ({
        lon: POINTS[record]!.geometry.coordinates[0],
        lat: POINTS[record]!.geometry.coordinates[1],
        depth: ["1.5 in", '1 3/4"', "2 in"][i],
        smear: ["none", "some", "heavy"][i],
      })),
    ),
  },
};

describe("a starting manifest is analysed unchanged", () => {
  it.each(Object.keys(FIXTURES))("%s", async (title) => {
    const files = FIXTURES[title]!;
    const folder = folderWith(files);
    const inspected = await runIn(folder, "inspect", ...Object.keys(files), "--manifest", "field.json");
    expect(inspected.err).toContain("look it over, then run");
    expect(inspected.code).toBe(0);
    const manifest = JSON.parse(readFileSync(join(folder, "field.json"), "utf8"));
    const named = Object.values(manifest).flatMap((value) => (value as { file?: string }).file ?? []);
    expect(named.sort()).toEqual(Object.keys(files).sort());
    const analysed = await runIn(folder, "analyse", "field.json", "--out", "out");
    expect(analysed.err).not.toContain("evenstand:");
    expect(analysed.code).toBe(0);
  });

  it("the invented demo field", async () => {
    const folder = folderWith({});
    const files = [
      "planting.zip",
      "soil.geojson",
      "counts.geojson",
      "digs.csv",
      "boundary.geojson",
      "weather.csv",
    ];
    for (const file of files) {
      copyFileSync(new URL(`../../sample-data/larkspur-draw/${file}`, import.meta.url), join(folder, file));
    }
    const inspected = await runIn(folder, "inspect", ...files, "--manifest", "field.json");
    expect(inspected.err).toContain("look it over, then run");
    const analysed = await runIn(folder, "analyse", "field.json", "--out", "out");
    expect(analysed.code).toBe(0);
  });

  it("says what is lacking before it can be analysed", async () => {
    const wide = logWith(({ TIME, DEPTH_IN }) => ({
      TIME,
      ...Object.fromEntries(Array.from({ length: 4 }, (_, unit) => [`Depth_${unit + 1}_in`, DEPTH_IN])),
    }));
    for (const [files, lacking] of [
      [{ "log.geojson": wide }, "the log has one column per row unit"],
      [{ "log.geojson": LOG, "counts.geojson": COUNTS }, "counts.geojson: no spot gives a stand"],
    ] as [Record<string, unknown>, string][]) {
      const folder = folderWith(files);
      const { code, err } = await runIn(folder, "inspect", ...Object.keys(files), "--manifest", "field.json");
      expect(code).toBe(0);
      expect(err).toContain(`Before it can be analysed: ${lacking}`);
      expect(err).toContain('"planter": { "rowSpacing": "30 in" }');
    }
  });
});

const QUESTIONS: [string, string, Record<string, unknown>, RegExp, string[]][] = [
  [
    "a speed whose unit nothing tells",
    "plantingLog",
    { log: logWith(({ DEPTH_IN, SPEED_MPH }) => ({ DEPTH_IN, Speed: SPEED_MPH })) },
    /the unit of the column "Speed" \(speed\) cannot be told/,
    ['"speed": {"column":"Speed","unit":"mi/h"}', '"speed": null'],
  ],
  [
    "km/h under a name that says mph",
    "plantingLog",
    { log: logWith((one) => ({ ...one, SPEED_MPH: one.SPEED_MPH * 1.609344 })) },
    /agree with the distance between the positions divided by their times in km\/h, not in mi\/h/,
    ['"speed": {"column":"SPEED_MPH","unit":"km/h"}'],
  ],
  [
    "two columns of one variable",
    "plantingLog",
    { log: logWith((one) => ({ ...one, DEPTH_MM: 40 + one.SPEED_MPH })) },
    /"DEPTH_IN" and "DEPTH_MM" fit seedingDepth about equally/,
    ['"seedingDepth": "DEPTH_IN"', '"seedingDepth": "DEPTH_MM"'],
  ],
  [
    "a day or a month first",
    "plantingLog",
    { log: logWith(({ DEPTH_IN }) => ({ DEPTH_IN, Date: "4/5/2026" })) },
    /may have the day or the month first/,
    ['"time": {"column":"Date","unit":"m/d/y"}', '"time": {"column":"Date","unit":"d/m/y"}'],
  ],
  [
    "a vague name",
    "plantingLog",
    {
      log: logWith(({ TIME, DEPTH_IN, SPEED_MPH, SWATH_FT, MARGIN_LBF }) => ({
        TIME,
        DEPTH_IN,
        SPEED_MPH,
        SWATH_FT,
        Load: MARGIN_LBF,
      })),
    },
    /the column "Load" may be downForceMargin, but it is not sure/,
    ['"downForceMargin": {"column":"Load","unit":"lbf"}', '"downForceMargin": null'],
  ],
  [
    "a population that may be a percentage",
    "plantingLog",
    { log: logWith(({ DEPTH_IN }, i) => ({ DEPTH_IN, Population: 98 + (i % 5) })) },
    /may be percent of a target that is not in the file/,
    ['"population": {"column":"Population","unit":"1000 seeds/ha"}', '"population": null'],
  ],
  [
    "plant spacings without a unit",
    "standCounts",
    {
      log: LOG,
      counts: collection(
        [4, 500].map((record) =>
          point(POINTS[record]!.geometry.coordinates, { stand_ac: 31_000, spacings: "6; 7; 5" }),
        ),
      ),
    },
    /the unit of the column "spacings" \(spacings\) cannot be told/,
    ['"spacings": {"column":"spacings","unit":"in"}'],
  ],
];

describe("below the bar the work stops with 3 and the lines that settle it", () => {
  it.each(QUESTIONS)("%s", async (_title, role, { log, counts }, question, lines) => {
    const files = { "log.geojson": log, ...(counts ? { "counts.geojson": counts } : {}) };
    const manifest: Record<string, Record<string, unknown>> = {
      plantingLog: { file: "log.geojson" },
      ...(counts ? { standCounts: { file: "counts.geojson" } } : {}),
    };
    const folder = folderWith({ ...files, "field.json": manifest });
    const asked = await runIn(folder, "analyse", "field.json", "--out", "out");
    expect(asked.code).toBe(3);
    expect(asked.err).toMatch(question);
    expect(asked.err).toContain(`into "columns" of "${role}"`);
    const inspected = await runIn(folder, "inspect", ...Object.keys(files));
    expect(inspected.code).toBe(0);
    expect(inspected.out).toContain("1 choice yours");
    for (const line of lines) {
      expect(asked.err).toContain(`  ${line}\n`);
      expect(inspected.out).toContain(`    ${line}\n`);
    }
    const settled = { ...manifest, [role]: { ...manifest[role], columns: JSON.parse(`{${lines[0]}}`) } };
    writeFileSync(join(folder, "field.json"), JSON.stringify(settled));
    expect((await runIn(folder, "analyse", "field.json", "--out", "out")).code).toBe(0);
  });
});
