/** Cases C8 to C11 and A26: names and units as machines write them, logs of other machines, times and missing parts. */
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { fakeIo } from "../support/fake-io.ts";
import { collection, degrees, plantingLog, point, writeSmallField } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
let folders = 0;

type Properties = Record<string, unknown>;

/** The small field's log with its columns named or counted otherwise. */
function logWith(change: (properties: Properties, record: number) => Properties) {
  const log = plantingLog();
  (log.features as { properties: Properties }[]).forEach((feature, record) => {
    feature.properties = change(feature.properties, record);
  });
  return log;
}

async function inspected(files: Record<string, unknown>, name = Object.keys(files)[0]!) {
  const folder = writeSmallField(`${base}/${++folders}`, files);
  const io = fakeIo(folder);
  const code = await run(["inspect", name], io);
  return { folder, code, ...io.written };
}

/** What inspect says of a column: the lines under its name. */
function saidOf(text: string, column: string): string {
  const lines = text.split("\n");
  const at = lines.findIndex((line) => line.startsWith(`    ${column} `));
  const rest = lines.slice(at + 1);
  const end = rest.findIndex((line) => !line.trim().startsWith("->"));
  return rest.slice(0, end).join("\n");
}

const plain = ({ TIME, SPEED_MPH, DEPTH_IN, MARGIN_LBF }: Properties) => ({
  TIME,
  SPEED_MPH,
  DEPTH_IN,
  MARGIN_LBF,
});

describe("C10: cut and squeezed names", () => {
  it("are read as what they stand for", async () => {
    const log = logWith((one, record) => ({
      TIME: one.TIME,
      spd_mp_: one.SPEED_MPH,
      dstnc_f: 9.84,
      SWATHWI: 60,
      trck_d_: record % 202 < 101 ? 0 : 180,
      TargtRt: 34_000 - (record % 3),
      DPTH_IN: one.DEPTH_IN,
    }));
    const { code, out } = await inspected({ "log.geojson": log });
    expect(code).toBe(0);
    expect(saidOf(out, "spd_mp_")).toContain("-> speed [mi/h]");
    expect(saidOf(out, "dstnc_f")).toContain("-> distance [ft]");
    expect(saidOf(out, "SWATHWI")).toContain("-> swathWidth [ft]");
    expect(saidOf(out, "trck_d_")).toContain("-> heading [deg]");
    expect(saidOf(out, "TargtRt")).toContain("-> targetPopulation [seeds/ac]");
  });

  it("leave a reason for each column that is not used, and what is missing is told before the run", async () => {
    const log = logWith((one) => ({
      ...plain(one),
      NOTES: "x",
      Moisture: 18,
      Fert_lb_ac: 120,
      GaugeLoad_psi: 40,
      Blank: null,
      Zq: 7,
    }));
    const { out } = await inspected({ "log.geojson": log });
    for (const column of ["NOTES", "Moisture", "Fert_lb_ac", "GaugeLoad_psi", "Zq"])
      expect(saidOf(out, column), column).toMatch(/-> not used: \S/);
    expect(saidOf(out, "GaugeLoad_psi")).toContain("a pressure");
    expect(saidOf(out, "Moisture")).toContain("moisture");
    expect(out).toContain("missing, and what it changes");
    expect(out).toMatch(/no population: .*\n/);
    expect(out).toMatch(/no stand counts: .*predictions/);
  });
});

describe("C8: widths and distances in inches", () => {
  it("are told by the positions and by size", async () => {
    const log = logWith((one) => ({ ...plain(one), Distance: 118.1, Swath_Width: 720 }));
    const { out } = await inspected({ "log.geojson": log });
    expect(saidOf(out, "Distance")).toContain("-> distance [in]");
    expect(saidOf(out, "Swath_Width")).toContain("-> swathWidth [in]");
  });

  it("a distance in inches that could be feet is told by the positions", async () => {
    // Three metres a record in the file; 9.84 could be feet only.
    const log = logWith((one) => ({ ...plain(one), Distance: 9.84 }));
    expect(saidOf((await inspected({ "log.geojson": log })).out, "Distance")).toContain("-> distance [ft]");
  });
});

describe("C9: logs of other machines", () => {
  it.each([
    [
      "a harvest",
      (one: Properties) => ({
        TIME: one.TIME,
        SPEED_MPH: one.SPEED_MPH,
        Yield_bu_ac: 190,
        Moisture: 18.2,
        "Load Number": 3,
        SWATH_FT: 30,
      }),
      "harvest log",
    ],
    [
      "nitrogen",
      (one: Properties) => ({
        TIME: one.TIME,
        SPEED_MPH: one.SPEED_MPH,
        UAN_Rate_gal_ac: 31,
        Target_Rate: 32,
        SWATH_FT: 60,
      }),
      "fertilizer or spray",
    ],
  ] as const)("%s is named as such and not taken for planting", async (_, change, named) => {
    const { folder, out } = await inspected({ "log.geojson": logWith(change) });
    expect(out).not.toContain("taken for: planting log");
    expect(out).not.toContain("taken for: digs");
    expect(out).toContain(named === "harvest log" ? "yield map" : named);
    const io = fakeIo(folder);
    const manifest = { plantingLog: { file: "log.geojson" } };
    writeSmallField(folder, { "field.json": manifest });
    expect(await run(["analyse", ".", "--out", "out"], io)).toBe(3);
    expect(io.written.err).toContain(named);
  });

  it("a rate by weight is no population until the size of the seed is known, a load number no load", async () => {
    const log = logWith((one) => ({ ...plain(one), Seed_Rate_lb_ac: 24, LoadNum: 12 }));
    const { out } = await inspected({ "log.geojson": log });
    expect(saidOf(out, "Seed_Rate_lb_ac")).toContain("a rate by weight; where it is one of seed");
    expect(saidOf(out, "LoadNum")).toContain("not used");
    expect(saidOf(out, "MARGIN_LBF")).toContain("-> downForceMargin [lbf]");
  });
});

describe("a seed rate by weight", () => {
  it("is read with the seeds in a pound, with and without the unit in the name", async () => {
    // 34,000 seeds/ac at 1,700 seeds a pound are 20 lb/ac.
    const log = logWith((one) => ({ ...plain(one), POPULATION: undefined, Seed_Rate_lb_ac: 20 }));
    const otherName = logWith((one) => ({ ...plain(one), POPULATION: undefined, Poundage: 20 }));
    for (const [content, columns] of [
      [log, undefined],
      [otherName, { population: { column: "Poundage", unit: "lb/ac" } }],
    ] as const) {
      const folder = writeSmallField(`${base}/${++folders}`, {
        "planting.geojson": content,
        "field.json": {
          plantingLog: { file: "planting.geojson", ...(columns ? { columns } : {}) },
          seedSize: "1700 seeds/lb",
        },
      });
      const io = fakeIo(folder);
      expect(await run(["analyse", ".", "--out", "out", "--json"], io), io.written.err).toBe(0);
      const document = JSON.parse(io.written.out) as FindingsDocument;
      const rate = document.comparison.find(({ variable }) => variable === "population");
      expect(rate!.mean / 2.4710538146716536).toBeCloseTo(34_000, 0);
    }
  });

  it("gives the target of the manifest too: 21 lb/ac at 1,700 seeds a pound are 35,700 seeds/ac", async () => {
    const targetOf = async (targets: object, parts: object): Promise<unknown> => {
      const folder = writeSmallField(`${base}/${++folders}`, {
        "planting.geojson": logWith(plain),
        "field.json": { plantingLog: { file: "planting.geojson" }, targets, ...parts },
      });
      const io = fakeIo(folder);
      const code = await run(["analyse", ".", "--out", "out", "--json"], io);
      if (code !== 0) return `${code} ${io.written.err}`;
      return (JSON.parse(io.written.out) as FindingsDocument).settings.referencePopulationPerHa;
    };
    const byNumber = await targetOf({ population: "35700 seeds/ac" }, {});
    expect(byNumber).toBeCloseTo(35_700 * 2.4710538146716536, 1);
    const seedSize = "1700 seeds/lb";
    expect(await targetOf({ population: "21 lb/ac" }, { seedSize })).toBeCloseTo(byNumber as number, 1);
    expect(await targetOf({ population: "23.5378743 kg/ha" }, { seedSize })).toBeCloseTo(
      byNumber as number,
      0,
    );
    expect(await targetOf({ population: "21 lb/ac" }, {})).toMatch(/^3 .*"seedSize": "2600 seeds\/lb"/);
  });

  it("is refused where the size of the seed cannot be", async () => {
    const folder = writeSmallField(`${base}/${++folders}`, {
      "planting.geojson": logWith(plain),
      "field.json": { plantingLog: { file: "planting.geojson" }, seedSize: "3 seeds/lb" },
    });
    const io = fakeIo(folder);
    expect(await run(["analyse", ".", "--out", "out"], io)).toBe(3);
    expect(io.written.err).toMatch(/seedSize is "3 seeds\/lb", which cannot be/);
  });
});

describe("C11: a hemisphere in a column of its own", () => {
  const table = (rows: readonly string[]): string =>
    ["LAT,LON,Lat_Hemi,EW,Direction,SPEED_MPH,DEPTH_IN", ...rows].join("\n");

  it("gives unsigned degrees their side of the globe, and a direction of travel does not", async () => {
    const rows = Array.from({ length: 60 }, (_, k) => `${31 + k * 2e-5},64.5,S,W,N,5.${k % 10},2.0${k % 7}`);
    const { out } = await inspected({ "log.csv": table(rows) });
    expect(out).toContain("longitude -64.5");
    expect(out).toContain("latitude -31.");
    expect(out).toMatch(/"EW" says south or west/);
    const north = await inspected({ "log.csv": table(rows.map((row) => row.replace("S,W,N", "N,E,S"))) });
    expect(north.out).toContain("longitude 64.5");
    expect(north.out).toContain("latitude 31");
  });
});

describe("C11: seconds of GPS time", () => {
  it("are read by the name, and by the year of planting", async () => {
    const gps = (one: Properties) => Date.parse(one.TIME as string) / 1000 - 315_964_800 + 18;
    for (const [column, parts] of [
      ["GPS_Time", {}],
      ["Time", { season: 2026 }],
    ] as const) {
      const log = logWith((one) => ({ ...plain(one), TIME: undefined, [column]: gps(one) }));
      const folder = writeSmallField(`${base}/${++folders}`, {
        "planting.geojson": log,
        "field.json": { plantingLog: { file: "planting.geojson" }, ...parts },
      });
      const io = fakeIo(folder);
      expect(await run(["analyse", ".", "--out", "out", "--json"], io), io.written.err).toBe(0);
      expect(JSON.parse(io.written.out).field.planted, column).toBe("2026-04-24");
    }
  });
});

it("a log of positions alone is refused with what it lacks", async () => {
  const bare = collection([0, 3, 6].map((north) => point(degrees(0, north), { id: north })));
  const { out } = await inspected({ "log.geojson": bare });
  expect(out).toContain("taken for: nothing the job knows");
});

describe("C11 and C13: longitudes counted from 0 to 360, and past 180", () => {
  type Line = { geometry: { coordinates: [number, number] } };

  it.each([
    ["unsigned", (longitude: number) => longitude + 360, "longitude -93.59"],
    ["across 180", (longitude: number) => longitude + 93.6 + 179.9995, "longitude 179.99"],
  ] as const)("%s", async (_, turned, shown) => {
    const log = plantingLog();
    for (const { geometry } of log.features as unknown as Line[])
      geometry.coordinates = [turned(geometry.coordinates[0]), geometry.coordinates[1]];
    const { out } = await inspected({ "log.geojson": log });
    expect(out).toContain(shown);
    expect(out).toContain("1010 records;");
    expect(out).not.toContain("without position");
  });
});
