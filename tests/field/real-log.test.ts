/**
 * A real as-planted log (24 rows, 18.3 m, Ohio 2017): Data Carpentry for Agriculture, trial-lesson, CC BY 4.0.
 * Read in place through EVENSTAND_REFERENCE; never copied. Column ranges and the UTM extent were read from the
 * same file with GDAL.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { FeatureCollection } from "geojson";
import { describe, expect, it } from "vitest";
import { loadField } from "../../src/field/load.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import type { Field } from "../../src/vocabulary/field.ts";

const REFERENCE = process.env.EVENSTAND_REFERENCE;
const FOLDER = join(REFERENCE ?? "", "data", "ohio_corn_2017");

function load(file: string): Promise<Field> {
  const manifest = parseManifest({
    plantingLog: { file },
    soilZones: { file: "ssurgo.geojson", zone: "musym" },
    boundary: { file: "boundary.geojson" },
  });
  return loadField(manifest, (path) =>
    Promise.resolve([{ name: path, bytes: new Uint8Array(readFileSync(join(FOLDER, path))) }]),
  );
}

function range(values: Float64Array): [number, number] {
  return [Math.min(...values), Math.max(...values)];
}

const FOOT = 0.3048;
const POUND_FORCE = 4.4482216152605;
const PER_ACRE = 2.4710538146716536;

describe.skipIf(!REFERENCE)(
  "a real as-planted log (skipped unless EVENSTAND_REFERENCE names the folder of reference files)",
  () => {
    it("has the texture and the drainage class of each soil of the survey map", async () => {
      const { soilZones } = await load("asplanted.geojson.gz");
      const { features } = JSON.parse(
        readFileSync(join(FOLDER, "ssurgo.geojson"), "utf8"),
      ) as FeatureCollection;
      const told = new Map(features.map(({ properties }) => [properties!.musym, properties!]));
      expect(soilZones!.drainage).toEqual(
        soilZones!.names.map((name) => told.get(name)!.drclassdcd?.toLowerCase() ?? null),
      );
      expect(soilZones!.texture).toEqual(
        soilZones!.names.map((name) =>
          told.get(name)!.muname.includes("silty clay loam") ? "clay loam" : "silt loam",
        ),
      );
    });

    it("is recognised whole, with no line in the manifest", async () => {
      const field = await load("asplanted.geojson.gz");
      const report = field.inputs[0]!;
      expect(report).toMatchObject({ records: 6382, used: 6382, leftOut: 0, notes: [] });
      expect(
        Object.fromEntries(report.recognised.map(({ column, variable, unit }) => [column, [variable, unit]])),
      ).toEqual({
        Date___Tim: ["time", "s"],
        Pass_Num: ["pass", "1"],
        Track_deg_: ["heading", "deg"],
        Elevation_: ["elevation", "ft"],
        Speed_mph_: ["speed", "mi/h"],
        Distance_f: ["distance", "ft"],
        Duration_s: ["duration", "s"],
        Swth_Wdth_: ["swathWidth", "ft"],
        Y_Offset_f: ["lateralOffset", "ft"],
        DF_Margin_: ["downForceMargin", "lbf"],
        Rt_Apd_Ct_: ["population", "seeds/ac"],
        Tgt_Rate_k: ["targetPopulation", "1000 seeds/ac"],
      });
      expect(report.unrecognised).toEqual(["Obj__Id", "Seed_Cnt__"]);
      expect(report.unusedReasons).toHaveLength(2);
      // The guesses without a unit in their names are the least sure ones and say why.
      const margin = report.recognised.find(({ variable }) => variable === "downForceMargin")!;
      const leastSure = [...report.recognised].sort((a, b) => a.confidence - b.confidence).slice(0, 2);
      expect(leastSure.map(({ variable }) => variable)).toEqual(["elevation", "downForceMargin"]);
      expect(margin.reason).toContain("the other columns of the file are in such units");
    });

    it("comes out in inside units", async () => {
      const { log, planted, plantedFrom, soilZones, boundary } = await load("asplanted.geojson.gz");
      const expected: [keyof typeof log.values, number, number][] = [
        ["distance", 0.2758 * FOOT, 13.2679 * FOOT],
        ["swathWidth", 5 * FOOT, 60 * FOOT],
        ["lateralOffset", -27.5 * FOOT, 27.5 * FOOT],
        ["downForceMargin", 0, 198.2815 * POUND_FORCE],
        ["population", 10_412.6032 * PER_ACRE, 41_829.487 * PER_ACRE],
        ["targetPopulation", 29_995.4 * PER_ACRE, 37_996.1 * PER_ACRE],
        ["speed", 0.188 * 0.44704, 9.0463 * 0.44704],
      ];
      for (const [variable, low, high] of expected) {
        const [least, most] = range(log.values[variable]!);
        expect(Math.abs(least - low), `least ${variable}`).toBeLessThan(1e-9 * Math.max(1, Math.abs(low)));
        expect(Math.abs(most - high), `most ${variable}`).toBeLessThan(1e-9 * Math.max(1, Math.abs(high)));
      }
      expect(log.labels.pass!.labels).toHaveLength(27);
      expect(log).toMatchObject({ layout: "bar", hasClockTime: false });
      expect({ planted, plantedFrom }).toEqual({ planted: "2017-04-22", plantedFrom: "log" });
      expect(soilZones!.names).toEqual(["BeA", "BgB", "Cr", "Crd1B1", "Crd1C2", "HpE", "Lo", "Pm", "Sh"]);
      expect(soilZones!.texture[7]).toBe("clay loam");
      expect(boundary).toHaveLength(1);
    });

    it("is the same field from degrees and from UTM metres", async () => {
      const [degrees, metres] = await Promise.all([
        load("asplanted.geojson.gz"),
        load("asplanted_utm17n.zip"),
      ]);
      expect(degrees.frame.epsg).toBe(32617);
      expect(metres.frame).toMatchObject({
        epsg: 32617,
        originX: degrees.frame.originX,
        originY: degrees.frame.originY,
      });
      let farthest = 0;
      for (let record = 0; record < degrees.log.recordCount; record++) {
        const dx = degrees.log.x[record]! - metres.log.x[record]!;
        const dy = degrees.log.y[record]! - metres.log.y[record]!;
        farthest = Math.max(farthest, Math.hypot(dx, dy));
      }
      // Eight decimals of a degree in the one file are about 1 mm.
      expect(farthest).toBeLessThan(0.002);
      expect(metres.log.values.population).toEqual(degrees.log.values.population);
    });
  },
);
