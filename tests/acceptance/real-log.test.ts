/**
 * The whole job on a real as-planted log (24 rows, 18.3 m, Ohio 2017: Data Carpentry for Agriculture,
 * trial-lesson, CC BY 4.0), read in place through EVENSTAND_REFERENCE; never copied. Figures by soil were
 * computed from the same file with R 4.2.2 and sf 1.0.9, planar in EPSG:32617.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { loadField } from "../../src/field/load.ts";
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { convert } from "../../src/quantities/units.ts";
import { expectRelative } from "../support/relative.ts";

const REFERENCE = process.env.EVENSTAND_REFERENCE;
const FOLDER = join(REFERENCE ?? "", "data", "ohio_corn_2017");

interface Oracle {
  n: number;
  points_without_soil: number;
  by_musym: {
    musym: string;
    n: number;
    pop_mean: number;
    pop_sd: number;
    df_mean: number;
    speed_mean: number;
  }[];
  boundary_area_ac: number;
}

async function analyseLog(file: string): Promise<Analysis> {
  const manifest = parseManifest({
    plantingLog: { file },
    soilZones: { file: "ssurgo.geojson", zone: "musym" },
    boundary: { file: "boundary.geojson" },
  });
  const field = await loadField(manifest, (path) =>
    Promise.resolve([{ name: path, bytes: new Uint8Array(readFileSync(join(FOLDER, path))) }]),
  );
  return analyseField(field);
}

describe.skipIf(!REFERENCE)(
  "the whole job on a real log (skipped unless EVENSTAND_REFERENCE names the folder of reference files)",
  () => {
    let degrees: Analysis;
    let metres: Analysis;
    let oracle: Oracle;

    beforeAll(async () => {
      oracle = JSON.parse(readFileSync(join(FOLDER, "oracle.json"), "utf8")) as Oracle;
      degrees = await analyseLog("asplanted.geojson.gz");
      metres = await analyseLog("asplanted_utm17n.zip");
    });

    it("says what it could not judge", () => {
      const { notJudged } = degrees.document.summary;
      const what = notJudged.map((entry) => entry.what);
      for (const missing of [
        "seeding depth",
        "singulation",
        "skips",
        "single row units",
        "the stand",
        "money",
      ])
        expect(what).toContain(missing);
      for (const present of ["gauge-wheel load", "seeding rate", "speed", "soil zones"])
        expect(what).not.toContain(present);
      expect(notJudged.every(({ why }) => why.length > 10)).toBe(true);
    });

    it("names no cause that the log cannot show, and nothing as counted", () => {
      for (const { basis, cause, stand, where } of degrees.document.findings) {
        expect(basis).toBe("predicted");
        expect(["too-shallow", "too-deep", "uneven-depth", "misses", "multiples"]).not.toContain(cause);
        expect(where.rowUnits).toEqual([]);
        expect(stand).toMatchObject({ deficitShare: null, counts: 0, digs: 0 });
      }
      // Nobody complained of this field: what is flagged may not be more than a scrap of it.
      const { affectedHa } = degrees.document.summary;
      expect(affectedHa).toBeLessThan(0.02 * degrees.document.field.areaHa);
    });

    it("finds the same in degrees and in UTM metres", () => {
      const [one, other] = [degrees.document, metres.document];
      const kinds = (document: typeof one) =>
        document.findings.map(({ kind, cause, basis, where }) => [kind, cause, basis, where.passes]);
      expect(kinds(other)).toEqual(kinds(one));
      one.findings.forEach(({ where }, k) => {
        expectRelative(other.findings[k]!.where.areaHa, where.areaHa, 0.001);
      });
      expectRelative(other.summary.affectedHa, one.summary.affectedHa, 0.001);
      expectRelative(other.field.areaHa, one.field.areaHa, 0.001);
      expect(other.comparison.map(({ pass, soilZone, records }) => [pass, soilZone, records])).toEqual(
        one.comparison.map(({ pass, soilZone, records }) => [pass, soilZone, records]),
      );
    });

    it("rows by soil equal the outside figures to 1e-9", () => {
      const rows = degrees.document.comparison.filter((row) => row.pass === null && row.rowUnit === null);
      const row = (soil: string, variable: string) =>
        rows.find((candidate) => candidate.soilZone === soil && candidate.variable === variable)!;
      expect(oracle.by_musym.length).toBe(9);
      for (const soil of oracle.by_musym) {
        const population = row(soil.musym, "population");
        expect(population.records).toBe(soil.n);
        expectRelative(convert(population.mean, "seeds/ha", "seeds/ac"), soil.pop_mean, 1e-9);
        expectRelative(convert(population.sd!, "seeds/ha", "seeds/ac"), soil.pop_sd, 1e-9);
        const margin = row(soil.musym, "downForceMargin");
        expectRelative(convert(margin.mean, "N", "lbf"), soil.df_mean, 1e-9);
        expectRelative(convert(row(soil.musym, "speed").mean, "m/s", "mi/h"), soil.speed_mean, 1e-9);
      }
      expect(new Set(rows.map((candidate) => candidate.soilZone)).size).toBe(oracle.by_musym.length);
    });

    it("records without a soil are counted in a note of the log", () => {
      const log = degrees.document.inputs.find(({ role }) => role === "plantingLog")!;
      expect(log).toMatchObject({ records: oracle.n, used: oracle.n, leftOut: 0 });
      // In a gap of the soil map, or beyond it.
      const notes = log.notes.filter(({ reason }) => /gap between soil|outside all soil/.test(reason));
      expect(notes.map(({ effect }) => effect)).toEqual(["kept", "kept"]);
      const without = notes.reduce((sum, { count }) => sum + count, 0);
      expect(without).toBe(2472);
      expect(without).toBe(oracle.points_without_soil);
    });

    it("the area is that of the boundary", () => {
      // The document rounds to 0.01 ha; the projection of the zone is no equal-area one.
      const acres = convert(degrees.document.field.areaHa, "ha", "ac");
      expectRelative(acres, oracle.boundary_area_ac, 0.001);
    });
  },
);
