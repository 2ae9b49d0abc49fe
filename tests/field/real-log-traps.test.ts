/**
 * Traps set into a real as-planted log (Ohio 2017; Data Carpentry for Agriculture, trial-lesson, CC BY 4.0), read in
 * place through EVENSTAND_REFERENCE. The columns that are traps are made here from the log's own.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ChoiceNeededError } from "../../src/errors.ts";
import { assembleField } from "../../src/field/load.ts";
import { readLayer } from "../../src/ingest/index.ts";
import type { NumberColumn, RawLayer } from "../../src/ingest/layer.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import type { Field } from "../../src/vocabulary/field.ts";

const REFERENCE = process.env.EVENSTAND_REFERENCE;
const FOLDER = join(REFERENCE ?? "", "data", "ohio_corn_2017");
const FILE = "asplanted.geojson.gz";

let read: Promise<RawLayer> | null = null;

/** The real log with columns added, changed or (null) taken away. */
async function log(changes: (values: (name: string) => Float64Array) => Record<string, Float64Array | null>) {
  read ??= readLayer([{ name: FILE, bytes: new Uint8Array(readFileSync(join(FOLDER, FILE))) }], {
    role: "plantingLog",
    expect: "any",
  });
  const layer = await read;
  const columns = new Map(layer.columns.map((column) => [column.name, column]));
  const valuesOf = (name: string) => (columns.get(name) as NumberColumn).values;
  for (const [name, values] of Object.entries(changes(valuesOf))) {
    if (values === null) columns.delete(name);
    else columns.set(name, { kind: "number", name, values });
  }
  return { ...layer, columns: [...columns.values()] };
}

function load(plantingLog: RawLayer, columns: object = {}): Field {
  return assembleField(parseManifest({ plantingLog: { file: FILE, columns } }), { plantingLog });
}

function columnOf(field: Field, variable: string) {
  const found = field.inputs[0]!.recognised.find((one) => one.variable === variable);
  return found ? [found.column, found.unit] : null;
}

const notesOn = (field: Field, column: string) =>
  field.inputs[0]!.notes.filter((note) => note.field === column);
const PER_ACRE = 2.4710538146716536;

describe.skipIf(!REFERENCE)("traps in a real log (skipped unless EVENSTAND_REFERENCE is set)", () => {
  it("all of them at once: none is taken wrongly", async () => {
    const plain = load(await log(() => ({})));
    const field = load(
      await log((values) => {
        const zero = new Float64Array(values("Speed_mph_").length);
        const blanked = (name: string, mark: number, every: number) =>
          values(name).map((value, record) => (record % every === 5 ? mark : value));
        return {
          Population: values("Rt_Apd_Ct_").map((seeds, i) => seeds / (10 * values("Tgt_Rate_k")[i]!)),
          Speed: values("Speed_mph_").map((mph) => mph * 1.609344),
          Depth_in: zero,
          Singulatio: zero,
          GroundCont: zero,
          DF_Margin_: blanked("DF_Margin_", -9999, 50),
          Rt_Apd_Ct_: blanked("Rt_Apd_Ct_", 6553.5, 70),
        };
      }),
    );
    expect(columnOf(field, "population")).toEqual(["Rt_Apd_Ct_", "seeds/ac"]);
    expect(notesOn(field, "Population")[0]!.reason).toContain('is "Rt_Apd_Ct_" in percent of the target');
    expect(columnOf(field, "speed")).toEqual(["Speed_mph_", "mi/h"]);
    expect(notesOn(field, "Speed")[0]!.reason).toContain("holds the same measure");
    for (const [variable, column] of [
      ["seedingDepth", "Depth_in"],
      ["singulation", "Singulatio"],
      ["groundContact", "GroundCont"],
    ] as const) {
      expect(columnOf(field, variable)).toBeNull();
      expect(notesOn(field, column)[0]!.reason).toContain("is zero throughout");
    }
    const { values } = field.log;
    const records = field.log.recordCount;
    for (const [variable, every] of [
      ["downForceMargin", 50],
      ["population", 70],
    ] as const) {
      const expected = plain.log.values[variable]!.map((value, i) => (i % every === 5 ? Number.NaN : value));
      expect(values[variable]).toEqual(expected);
      expect(values[variable]!.filter(Number.isNaN)).toHaveLength(Math.ceil((records - 5) / every));
    }
    expect(notesOn(field, "DF_Margin_")).toMatchObject([{ value: "-9999", firstRecord: 6 }]);
    expect(notesOn(field, "Rt_Apd_Ct_")).toMatchObject([{ value: "6553.5", firstRecord: 6 }]);
    expect(values.speed).toEqual(plain.log.values.speed);
  });

  it("a population in percent of the target alone becomes seeds by the target", async () => {
    const plain = load(await log(() => ({})));
    const field = load(
      await log((values) => ({
        Rt_Apd_Ct_: null,
        Population: values("Rt_Apd_Ct_").map((seeds, i) => seeds / (10 * values("Tgt_Rate_k")[i]!)),
      })),
    );
    expect(columnOf(field, "population")).toEqual(["Population", "%"]);
    for (const [record, value] of field.log.values.population!.entries()) {
      // Only the order of the multiplications differs.
      expect(Math.abs(value / plain.log.values.population![record]! - 1)).toBeLessThan(1e-12);
    }
    expect(notesOn(field, "Population")).toMatchObject([{ effect: "converted" }]);
  });

  it("thousands of seeds under a bare name are seen", async () => {
    const field = load(
      await log((values) => ({
        Rt_Apd_Ct_: null,
        Population: values("Rt_Apd_Ct_").map((seeds) => seeds / 1000),
      })),
    );
    expect(columnOf(field, "population")).toEqual(["Population", "1000 seeds/ac"]);
    expect(field.log.values.population![0]! / PER_ACRE).toBeGreaterThan(10_000);
  });

  it("a bare speed in km/h is told by distance over duration", async () => {
    const plain = load(await log(() => ({})));
    const field = load(
      await log((values) => ({
        Speed_mph_: null,
        Speed: values("Speed_mph_").map((mph) => mph * 1.609344),
      })),
    );
    expect(columnOf(field, "speed")).toEqual(["Speed", "km/h"]);
    expect(field.log.values.speed![7]! / plain.log.values.speed![7]!).toBeCloseTo(1, 12);
  });

  it("km/h under a name that says mph is not taken in silence", async () => {
    const trap = await log((values) => ({ Speed_mph_: values("Speed_mph_").map((mph) => mph * 1.609344) }));
    expect(() => load(trap)).toThrow(ChoiceNeededError);
    expect(() => load(trap)).toThrow(
      /agree with distance divided by duration in km\/h, not in mi\/h[\s\S]*"speed": \{"column":"Speed_mph_","unit":"km\/h"\}/,
    );
    const settled = load(trap, { speed: { column: "Speed_mph_", unit: "km/h" } });
    expect(columnOf(settled, "speed")).toEqual(["Speed_mph_", "km/h"]);
    const insisted = load(trap, { speed: { column: "Speed_mph_", unit: "mi/h" } });
    expect(notesOn(insisted, "Speed_mph_")[0]!.reason).toContain("in km/h, not in mi/h");
  });

  it("distance under a name that says feet but in metres is found out by speed times duration", async () => {
    const trap = await log((values) => ({ Distance_f: values("Distance_f").map((feet) => feet * 0.3048) }));
    expect(() => load(trap)).toThrow(/agree with speed times duration in m, not in ft/);
  });

  it("headings in radians and past 360 degrees are the same headings", async () => {
    const plain = load(await log(() => ({})));
    const angle = (field: Field, record: number) =>
      Math.abs(((field.log.values.heading![record]! - plain.log.values.heading![record]! + 540) % 360) - 180);
    const radians = load(
      await log((values) => ({
        Track_deg_: null,
        Heading: values("Track_deg_").map((degrees) => (degrees * Math.PI) / 180),
      })),
    );
    expect(columnOf(radians, "heading")).toEqual(["Heading", "rad"]);
    const past = load(
      await log((values) => ({
        Track_deg_: values("Track_deg_").map((degrees, i) => degrees + 360 * (i % 3)),
      })),
    );
    for (let record = 0; record < plain.log.recordCount; record += 17) {
      expect(angle(radians, record)).toBeLessThan(1e-9);
      expect(angle(past, record)).toBeLessThan(1e-9);
    }
    const turned = notesOn(past, "Track_deg_");
    expect(turned).toMatchObject([{ effect: "converted" }]);
    expect(turned[0]!.count).toBeGreaterThan(4000);
    const dead = load(await log((values) => ({ Track_deg_: new Float64Array(values("Track_deg_").length) })));
    expect(columnOf(dead, "heading")).toBeNull();
    expect(notesOn(dead, "Track_deg_")[0]!.reason).toContain("zero throughout, while the positions");
  });
});
