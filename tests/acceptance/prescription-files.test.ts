/** The files of the sample field's prescription: added force in every task file, cell by cell as in the GeoJSON. */
import { booleanPointInPolygon } from "@turf/turf";
import { Ajv2020 } from "ajv/dist/2020.js";
import { strFromU8, unzipSync } from "fflate";
import type { FeatureCollection, Polygon } from "geojson";
import { open } from "shapefile";
import { beforeAll, describe, expect, it } from "vitest";
import schema from "../../docs/prescription.schema.json" with { type: "json" };
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { prescribe, withPrescribedLoads } from "../../src/jobs/prescribe.ts";
import type { Prescription } from "../../src/prescription/prescription.ts";
import { zonesOf } from "../../src/rate-zones/zones-of-soil.ts";
import { prescriptionView } from "../../src/report/prescription-view.ts";
import { writingIn } from "../../src/texts/language.ts";
import {
  ALL_TASK_FILES,
  type PrescriptionFile,
  prescriptionFiles,
} from "../../src/write/prescription-files.ts";
import { allOf, readCells, readXml, setPoints } from "../write/iso11783/support/read-grid.ts";
import { larkspurFiles, loadLarkspur } from "./support/larkspur.ts";

/** Whole newtons of a pound-force (NIST SP 811). */
const newtons = (pounds: number): number => Math.round(pounds * 4.4482216152605);

let analysis: Analysis;
let prescription: Prescription;
let files: Map<string, PrescriptionFile["content"]>;
let notes: string[];

beforeAll(async () => {
  const field = await loadLarkspur(larkspurFiles(1));
  analysis = await analyseField(field);
  prescription = prescribe(analysis, { channel: "added-force", moisture: "dry" });
  const made = prescriptionFiles(prescription, field.frame, { taskFiles: ALL_TASK_FILES });
  files = new Map(made.files.map(({ name, content }) => [name, content]));
  notes = made.notes;
}, 120_000);

function task(kind: string) {
  const parts = unzipSync(files.get(`task-dry-${kind}.zip`) as Uint8Array);
  return {
    document: readXml(strFromU8(parts["TASKDATA/TASKDATA.XML"]!)),
    grid: parts["TASKDATA/GRD00001.BIN"],
  };
}

describe("the prescription of Larkspur Draw", () => {
  it("is written in all six kinds of task file, with a note that the force is one row unit's", () => {
    expect(notes).toEqual([expect.stringContaining("that of one row unit (ISO 11783-11 DDI 426, in N)")]);
    expect([...files.keys()].filter((name) => name.startsWith("task-dry-"))).toHaveLength(6);
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
    expect(
      validate(JSON.parse(files.get("prescription.json") as string)),
      JSON.stringify(validate.errors),
    ).toBe(true);
  });

  it("says one figure for each zone on sheet, table, shapefile, GeoJSON and task file", async () => {
    const byZone = new Map(
      (JSON.parse(files.get("rates-dry.geojson") as string) as FeatureCollection).features.map(
        ({ properties }) => [Number(properties!.ZONE), properties!.FORCE_LBF as number],
      ),
    );
    const parts = unzipSync(files.get("rates-dry-added-force.zip") as Uint8Array);
    const part = (ending: string) => parts[`rates-dry-added-force.${ending}`]!.slice().buffer as ArrayBuffer;
    const source = await open(part("shp"), part("dbf"));
    for (let step = await source.read(); !step.done; step = await source.read())
      expect(step.value.properties!.FORCE_LBF).toBe(byZone.get(Number(step.value.properties!.ZONE)));
    const keyed = [...(files.get("cab-sheet.html") as string).matchAll(/<td class="key">([^<]+)<\/td>/g)];
    const [heads, ...lines] = (files.get("prescription.csv") as string)
      .trimEnd()
      .split("\r\n")
      .map((line) => line.split(","));
    const cell = (line: string[], name: string) => line[heads!.indexOf(name)]!;
    expect(keyed).toHaveLength(prescription.decisions.length);
    prescription.decisions.forEach((decision, k) => {
      const line = lines[k]!;
      const number = Number(cell(line, "map_zones").split(" ")[0]);
      expect(cell(line, "soil_zone")).toBe(decision.soilZone);
      expect(cell(line, "sent")).toBe(`${byZone.get(number)} lb`);
      expect(keyed[k]![1]).toBe(String(byZone.get(number)));
    });
  });

  it("says one load for each place in ledger, cards, map, report and table", () => {
    const pounds = (load: number): number => Math.round(load / 4.4482216152605);
    for (const usual of [prescribe(analysis), prescription]) {
      const { moisture } = usual.settings;
      const document = withPrescribedLoads(analysis, analysis.document, writingIn("farm"), usual);
      const view = prescriptionView(usual, analysis.field);
      const findings = document.findings.filter(
        ({ remedy, kind }) => remedy.parameter === "downForceMargin" && kind !== "row-unit",
      );
      expect(findings.length).toBeGreaterThan(0);
      for (const { id, remedy, where } of findings) {
        const places = usual.places.filter(({ finding }) => finding === id);
        expect(places.length).toBe(where.soilZones.length);
        const [lead] = remedy.text.split(". ");
        const said = places.map(({ soilZone }) => [
          soilZone,
          Number(new RegExp(`[:,] ${soilZone}(?: stays at)? (\\d+) lb`).exec(lead!)?.[1]),
        ]);
        // No load besides those and the one it ran at.
        expect(lead!.match(/\d+ lb/g)).toHaveLength(places.length + 1);
        expect(said).toEqual(
          places.map(({ soilZone }) => {
            // The card's load, and with it that of every state's table.
            const card = view.decisions.find((decision) => decision.soilZone === soilZone)!;
            return [soilZone, pounds(card.prescribedN[moisture])];
          }),
        );
        if (places.length === 1)
          expect(remedy.to).toBe(
            view.decisions.find((decision) => decision.soilZone === places[0]!.soilZone)!.prescribedN[
              moisture
            ],
          );
        for (const { soilZone, mended, why } of places) {
          const card = view.decisions.find((decision) => decision.soilZone === soilZone)!;
          const own = card.notMended.filter(({ finding }) => finding === id);
          expect(own.map(({ words }) => words.endsWith(why))).toEqual(mended ? [] : [true]);
          if (!mended) expect(remedy.text).toContain(why);
        }
      }
      // The map's zones carry the cards' loads: by whole steps of 5 lb where a force is sent.
      for (const { soilZone, prescribedN } of view.decisions) {
        const [zone] = zonesOf(view.zones, soilZone).zones;
        expect(Math.abs(pounds(zone!.rates.marginN - prescribedN[moisture])), soilZone).toBeLessThanOrEqual(
          0,
        );
      }
    }
  });

  it("has a treatment zone for each rate zone, and the grids carry the force at each cell's centre", () => {
    const zones = JSON.parse(files.get("rates-dry.geojson") as string) as FeatureCollection<
      Polygon,
      { FORCE_LBF: number }
    >;
    const polygons = [...setPoints(task("4.3-polygons").document)].filter(([code]) => code > 2);
    expect(polygons.map(([, value]) => value).sort()).toEqual(
      zones.features.map(({ properties }) => newtons(properties.FORCE_LBF)).sort(),
    );
    for (const kind of ["3.3-grid-1", "4.3-grid-2"]) {
      const { document, grid } = task(kind);
      const cells = readCells(document, grid!);
      expect(cells.length).toBeGreaterThan(3000);
      const inside = Math.round(prescription.defaults.inside.forceN!);
      const wrong = cells.filter(({ longitude, latitude, value }) => {
        const here = zones.features.find((zone) => booleanPointInPolygon([longitude, latitude], zone));
        return value !== (here ? newtons(here.properties.FORCE_LBF) : inside);
      });
      expect(wrong).toEqual([]);
      for (const { value } of cells) expect(value).toBeGreaterThan(0);
      expect(allOf(document, "TSK")[0]!.attributes.B).toBe("Down force a row unit, dry");
    }
  });
});
