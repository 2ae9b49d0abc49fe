import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { fakeIo } from "../support/fake-io.ts";
import { writeSmallField } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
const field = writeSmallField(join(base, "field"));

async function prescribe(...argv: string[]) {
  const io = fakeIo(base);
  const code = await run(["prescribe", ...argv], io);
  return { code, ...io.written };
}
const filesIn = (folder: string) => readdirSync(join(base, folder)).sort();
const textOf = (folder: string, name: string) => readFileSync(join(base, folder, name), "utf8");

describe("evenstand prescribe", () => {
  it("writes sheet, tables and margin layer where no channel is declared, and says why there is no task file", async () => {
    const { code, out, err } = await prescribe(field, "--flat", "--out", "undeclared");
    expect(err).toContain("No task file: nobody has said yet what the machine's channel takes");
    expect(code).toBe(0);
    expect(filesIn("undeclared")).toEqual([
      ".evenstand",
      "cab-sheet.html",
      "name_map.csv",
      "prescription.csv",
      "prescription.json",
      "rates-fit-margin.zip",
      "rates-fit.geojson",
    ]);
    for (const word of ["Load on the gauge wheels", "Before any load is set", "No file for the machine"])
      expect(out).toContain(word);
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(80);
  });

  it("names the moisture in the files and prints the document with --json; the same bytes each time", async () => {
    const argv = [
      field,
      "--flat",
      "--moisture",
      "damp",
      "--channel",
      "margin",
      "--json",
      "--task-files",
      "none",
    ];
    const one = await prescribe(...argv, "--out", "one");
    const two = await prescribe(...argv, "--out", "two");
    expect([one.code, two.code]).toEqual([0, 0]);
    expect(one.out).toBe(textOf("one", "prescription.json"));
    expect(JSON.parse(one.out)).toMatchObject({
      schema: "evenstand/prescription/1",
      settings: { moisture: "damp", channel: "margin" },
    });
    expect(filesIn("one")).toContain("rates-damp-margin.zip");
    for (const name of filesIn("one"))
      expect(readFileSync(join(base, "one", name)).equals(readFileSync(join(base, "two", name))), name).toBe(
        true,
      );
  });

  it("takes limits with units, and says the margin has no number for a task file", async () => {
    const { code, err } = await prescribe(
      ...[
        field,
        "--flat",
        "--out",
        "limits",
        "--channel",
        "margin",
        "--largest-step",
        "5 lbf",
        "--lag",
        "4 s",
      ],
      ...["--most-rates", "3", "--grid-cell", "20 m", "--no-proof-strips", "--smallest-area", "2 ac"],
    );
    expect(code).toBe(0);
    expect(err).toContain("No task file for a load on the gauge wheels");
    const { settings, zones } = JSON.parse(textOf("limits", "prescription.json"));
    expect(settings).toMatchObject({ lagS: 4, mostRates: 3, gridCellM: 20, proofStrips: false });
    expect(settings.largestStepN).toBeCloseTo(5 * 4.4482216, 3);
    expect(settings.smallestAreaHa).toBeCloseTo(0.8093713, 5);
    expect(zones.length).toBeGreaterThan(0);
    for (const zone of zones) expect(zone).not.toHaveProperty("polygon");
  });

  it.each([
    [["--moisture", "putty"], "putty"],
    [["--channel", "volts"], "volts"],
    [["--largest-step", "40"], "--largest-step"],
    [["--lag", "10 lbf"], "--lag"],
    [["--minimum", "300 lbf", "--maximum", "200 lbf"], "maximumMarginN"],
    [["--task-files", "5.0-polygons"], "5.0-polygons"],
    [["--most-rates", "17"], "from 1 to 16"],
    [["--load", "90 lbf"], "names no zone"],
    [["--load", "no such soil=90 lbf"], "no such soil"],
  ])("ends with 2 for %j and says why", async (argv, named) => {
    const { code, err } = await prescribe(field, "--out", "none", ...argv);
    expect(err).toContain(named);
    expect(code).toBe(2);
    expect(readdirSync(base)).not.toContain("none");
  });

  // The field does not exist: each is refused where it stands, before any file is read.
  it.each([
    ["--minimum", "1e308 lbf", "20 lbf to 350 lbf"],
    ["--minimum", "1e400 lbf", "N, daN, kgf, lbf, lb"],
    ["--minimum", "NaN lbf", "N, daN, kgf, lbf, lb"],
    ["--minimum", "-60 lbf", "20 lbf to 350 lbf"],
    ["--minimum", "60 in", "N, daN, kgf, lbf, lb"],
    ["--maximum", "16000 lbf", "20 lbf to 350 lbf"],
    ["--largest-step", "0 lbf", "0.225 lbf to 899 lbf"],
    ["--rate-step", "-5 lbf", "0.0225 lbf to 330 lbf"],
    ["--lag", "-1 s", "0 s to 120 s"],
    ["--lag", "1e9 s", "0 s to 120 s"],
    ["--smallest-area", "1e12 ha", "0 ac to 247 ac"],
    ["--smallest-area", "-2 ac", "0 ac to 247 ac"],
    ["--grid-cell", "1e300 m", "1.64 ft to 3,281 ft"],
    ["--grid-cell", "0 m", "1.64 ft to 3,281 ft"],
    ["--outside", "0 lbf", "20 lbf to 350 lbf"],
    ["--lost-position", "Infinity lbf", "N, daN, kgf, lbf, lb"],
    ["--load", "clay loam=1e308 lbf", "20 lbf to 350 lbf"],
    ["--load", "clay loam=-90 lbf", "20 lbf to 350 lbf"],
  ])(
    "refuses %s %j where it is typed, with the option, the value and what is accepted",
    async (option, value, accepted) => {
      const { code, err } = await prescribe("no-such-field", "--out", "none", option, value);
      expect(code).toBe(2);
      for (const word of [option, value.replace(/^.*=/, ""), accepted]) expect(err).toContain(word);
      expect(err).not.toContain("no-such-field");
      expect(readdirSync(base)).not.toContain("none");
    },
  );

  it("needs a folder, and leaves a foreign one alone", async () => {
    expect((await prescribe(field)).code).toBe(2);
    expect((await prescribe(field, "--out", "field")).err).toContain("holds other files");
  });
});
