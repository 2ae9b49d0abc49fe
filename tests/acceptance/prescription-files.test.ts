/** The files of the sample field's prescription: added force in every task file, cell by cell as in the GeoJSON. */
import { booleanPointInPolygon } from "@turf/turf";
import { Ajv2020 } from "ajv/dist/2020.js";
import { strFromU8, unzipSync } from "fflate";
import type { FeatureCollection, Polygon } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import schema from "../../docs/prescription.schema.json" with { type: "json" };
import { analyseField } from "../../src/analyse.ts";
import { prescribe } from "../../src/prescribe.ts";
import type { Prescription } from "../../src/prescription/prescription.ts";
import {
  ALL_TASK_FILES,
  type PrescriptionFile,
  prescriptionFiles,
} from "../../src/write/prescription-files.ts";
import { allOf, readCells, readXml, setPoints } from "../write/iso11783/support/read-grid.ts";
import { larkspurFiles, loadLarkspur } from "./support/larkspur.ts";

let prescription: Prescription;
let files: Map<string, PrescriptionFile["content"]>;
let notes: string[];

beforeAll(async () => {
  const field = await loadLarkspur(larkspurFiles(1));
  prescription = prescribe(await analyseField(field), { channel: "added-force", moisture: "dry" });
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
  it("is written in all six kinds of task file without a note", () => {
    expect(notes).toEqual([]);
    expect([...files.keys()].filter((name) => name.startsWith("task-dry-"))).toHaveLength(6);
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);
    expect(
      validate(JSON.parse(files.get("prescription.json") as string)),
      JSON.stringify(validate.errors),
    ).toBe(true);
  });

  it("has a treatment zone for each rate zone, and the grids carry the force at each cell's centre", () => {
    const zones = JSON.parse(files.get("rates-dry.geojson") as string) as FeatureCollection<
      Polygon,
      { forceN: number }
    >;
    const polygons = [...setPoints(task("4.3-polygons").document)].filter(([code]) => code > 2);
    expect(polygons.map(([, value]) => value).sort()).toEqual(
      zones.features.map(({ properties }) => Math.round(properties.forceN)).sort(),
    );
    for (const kind of ["3.3-grid-1", "4.3-grid-2"]) {
      const { document, grid } = task(kind);
      const cells = readCells(document, grid!);
      expect(cells.length).toBeGreaterThan(3000);
      const inside = Math.round(prescription.defaults.inside.forceN!);
      const wrong = cells.filter(({ longitude, latitude, value }) => {
        const here = zones.features.find((zone) => booleanPointInPolygon([longitude, latitude], zone));
        return value !== (here ? Math.round(here.properties.forceN) : inside);
      });
      expect(wrong).toEqual([]);
      for (const { value } of cells) expect(value).toBeGreaterThan(0);
      expect(allOf(document, "TSK")[0]!.attributes.B).toBe("Down force, dry ground");
    }
  });
});
