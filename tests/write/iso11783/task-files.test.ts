import { booleanPointInPolygon, polygon } from "@turf/turf";
import { strFromU8, zipSync } from "fflate";
import { ISOXMLManager, type Task } from "isoxml";
import { describe, expect, it } from "vitest";
import type { Prescription } from "../../../src/prescription/prescription.ts";
import { ALL_TASK_FILES, type TaskFileKind } from "../../../src/write/iso11783/kinds.ts";
import { type TaskFile, taskGridCellM, writeTaskFiles } from "../../../src/write/iso11783/task-files.ts";
import {
  FIXTURE_FRAME,
  prescriptionFixture,
  rateZone,
  rectangle,
} from "../../support/prescription-fixture.ts";
import { allOf, readCells, readXml, setPoints } from "./support/read-grid.ts";

const KINDS = ALL_TASK_FILES;
const LBF = 4.4482216152605;
const newtons = (lbf: number): number => Math.round(lbf * LBF);

function written(kind: TaskFileKind, prescription = prescriptionFixture()) {
  const files = writeTaskFiles(prescription, FIXTURE_FRAME, kind);
  return { files, document: readXml(strFromU8(files[0]!.bytes)), grid: files[1]?.bytes };
}

/** Attributes each element must and may have (V4.3 and V3.3 alike), with what is allowed in them. */
const INTEGER = /^(0|[1-9]\d*)$/;
const DEGREES = /^-?\d{1,3}(\.\d{1,9})?$/;
const TEXT = /^.{1,32}$/u;
const STRUCTURE: Record<string, { must: Record<string, RegExp>; may?: Record<string, RegExp>; in: string }> =
  {
    ISO11783_TaskData: {
      in: "",
      must: {
        VersionMajor: /^[34]$/,
        VersionMinor: /^3$/,
        ManagementSoftwareManufacturer: TEXT,
        ManagementSoftwareVersion: TEXT,
        DataTransferOrigin: /^1$/,
      },
    },
    PFD: { in: "ISO11783_TaskData", must: { A: /^PFD\d+$/, C: TEXT, D: INTEGER } },
    VPN: {
      in: "ISO11783_TaskData",
      must: { A: /^VPN\d+$/, B: INTEGER, C: /^\d+(\.\d{1,9})?$/, D: /^[0-7]$/, E: TEXT },
    },
    TSK: {
      in: "ISO11783_TaskData",
      must: { A: /^TSK\d+$/, B: TEXT, E: /^PFD1$/, G: /^1$/, H: /^1$/, I: /^2$/, J: /^0$/ },
    },
    TZN: { in: "TSK", must: { A: INTEGER, B: TEXT } },
    PDV: { in: "TZN", must: { A: /^[0-9A-F]{4}$/, B: INTEGER, E: /^VPN1$/ } },
    PLN: { in: "PFD TZN", must: { A: /^[12]$/ } },
    LSG: { in: "PLN", must: { A: /^[12]$/ } },
    PNT: { in: "LSG", must: { A: /^2$/, C: DEGREES, D: DEGREES } },
    GRD: {
      in: "TSK",
      must: {
        A: DEGREES,
        B: DEGREES,
        C: /^0\.\d{1,9}$/,
        D: /^0\.\d{1,9}$/,
        E: INTEGER,
        F: INTEGER,
        G: /^GRD\d{5}$/,
        H: INTEGER,
        I: /^[12]$/,
      },
      may: { J: /^1$/ },
    },
  };

function faults(element: ReturnType<typeof readXml>, parent = ""): string[] {
  const rule = STRUCTURE[element.tag];
  if (!rule) return [`unknown element ${element.tag}`];
  const found = rule.in.split(" ").includes(parent) ? [] : [`${element.tag} in ${parent}`];
  for (const [name, allowed] of Object.entries(rule.must)) {
    const value = element.attributes[name];
    if (value === undefined || !allowed.test(value)) found.push(`${element.tag}@${name}="${value}"`);
  }
  for (const [name, value] of Object.entries(element.attributes))
    if (!(name in rule.must) && !rule.may?.[name]?.test(value)) found.push(`${element.tag}@${name} unknown`);
  return [...found, ...element.children.flatMap((child) => faults(child, element.tag))];
}

describe.each(KINDS)("task file $version with $zones", (kind) => {
  const { files, document, grid } = written(kind);

  it("has the structure the format asks for, the version, and upper-case names", () => {
    expect(faults(document)).toEqual([]);
    expect(`${document.attributes.VersionMajor}.${document.attributes.VersionMinor}`).toBe(kind.version);
    const names = ["TASKDATA/TASKDATA.XML", "TASKDATA/GRD00001.BIN"];
    expect(files.map(({ name }) => name)).toEqual(kind.zones === "polygons" ? names.slice(0, 1) : names);
    const codes = allOf(document, "TZN").map(({ attributes }) => Number(attributes.A));
    expect(new Set(codes).size).toBe(codes.length);
    expect(Math.max(...codes)).toBeLessThanOrEqual(254);
    expect(allOf(document, "PFD")[0]!.attributes.C).toBe('Test "Field" <A&B>');
    expect(allOf(document, "TSK")[0]!.attributes.B).toBe("Down force a row unit, fit");
  });

  it("declares default, lost position and outside with their own set-points in DDI 426", () => {
    const values = setPoints(document);
    expect([values.get(1), values.get(2), values.get(0)]).toEqual([190, 195, 185].map(newtons));
    for (const { attributes } of allOf(document, "PDV")) expect(attributes.A).toBe("01AA");
    const { C, E } = allOf(document, "VPN")[0]!.attributes;
    expect(E).toBe("lbf");
    expect(Math.round(newtons(210) * Number(C))).toBe(210);
  });

  it("is read by an independent library without a warning", async () => {
    const { manager, task } = await readWithLibrary(files);
    // Names are upper-case as the format has them; this library alone looks for ".bin" first and says so.
    const aboutCase = /^Letter case of filename GRD00001.bin doesn't match/;
    expect(manager.getWarnings().filter((warning) => !aboutCase.test(warning))).toEqual([]);
    expect(manager.options.version).toBe(Number(kind.version[0]));
    const values = task.attributes.TreatmentZone!.map(
      (zone) => zone.attributes.ProcessDataVariable![0]!.attributes.ProcessDataValue,
    );
    expect([...new Set(values)].sort((a, b) => a - b)).toEqual(
      (kind.zones === "grid-2" ? [185, 190, 195] : [180, 185, 190, 195, 210, 250]).map(newtons),
    );
    expect(task.attributes.Grid?.length ?? 0).toBe(kind.zones === "polygons" ? 0 : 1);
  });

  const title = "carries in each cell the rate at its centre, else the default";
  if (grid)
    it(title, () => {
      const cells = readCells(document, grid);
      expectCells(cells, prescriptionFixture());
      // South-west and north-east corner: the sand's rate and the loam's; the empty south-east corner: the default.
      const rows = Math.max(...cells.map(({ row }) => row));
      const columns = Math.max(...cells.map(({ column }) => column));
      const at = (row: number, column: number) =>
        cells.find((cell) => cell.row === row && cell.column === column)!.value;
      expect([at(1, 1), at(rows - 1, columns - 2), at(1, columns - 2)]).toEqual([210, 180, 190].map(newtons));
    });
});

/** Each cell against the zone its centre lies in, by another library's point-in-polygon. */
function expectCells(cells: ReturnType<typeof readCells>, prescription: Prescription): void {
  const zones = prescription.zones.map((zone) => ({
    zone,
    shape: polygon(zone.polygon.map((ring) => ring.map(([x, y]) => FIXTURE_FRAME.toLonLat(x, y)))),
  }));
  const seen = new Map<number, number>();
  let wrong = 0;
  for (const { longitude, latitude, value } of cells) {
    const here = zones.find(({ shape }) => booleanPointInPolygon([longitude, latitude], shape));
    const number = here?.zone.number ?? 0;
    seen.set(number, (seen.get(number) ?? 0) + 1);
    if (value !== Math.round(here?.zone.rates.forceN ?? prescription.defaults.inside.forceN!)) wrong++;
  }
  expect(wrong).toBe(0);
  // Area of each zone by its cells, 3.6 ha of sand among them, to within a cell along the border.
  expect(seen.size).toBe(zones.length + (seen.has(0) ? 1 : 0));
}

async function readWithLibrary(files: readonly TaskFile[]) {
  const manager = new ISOXMLManager();
  const zip = zipSync(Object.fromEntries(files.map(({ name, bytes }) => [name, bytes])));
  await manager.parseISOXMLFile(zip, "application/zip");
  return { manager, task: manager.rootElement.attributes.Task![0] as Task };
}

describe("polygons", () => {
  const { document } = written({ version: "4.3", zones: "polygons" });

  it("write each zone as a treatment zone of type 2 with its holes, and the boundary once around all", () => {
    const zones = allOf(document, "TZN").slice(3);
    expect(zones.map((zone) => allOf(zone, "LSG").map(({ attributes }) => attributes.A))).toEqual([
      ["1"],
      ["1", "2"],
      ["1"],
      ["1"],
      ["1"],
    ]);
    for (const zone of zones) expect(zone.children[0]!.attributes.A).toBe("2");
    const boundary = allOf(allOf(document, "PFD")[0]!, "PLN");
    expect(boundary.map(({ attributes }) => attributes.A)).toEqual(["1"]);
    const corners = allOf(boundary[0]!, "PNT").map(({ attributes }) => {
      const [x, y] = FIXTURE_FRAME.toLocal(Number(attributes.D), Number(attributes.C));
      return `${Math.round(x)} ${Math.round(y)}`;
    });
    expect(corners.at(-1)).toBe(corners[0]);
    // The hole of the loam is filled by the clay, the corner without a zone is outside.
    for (const corner of ["0 0", "0 300", "400 300", "400 100", "200 100", "200 0"])
      expect(corners).toContain(corner);
    expect(corners).not.toContain("300 200");
  });

  it("end at 252 zones: more is refused with the way out", () => {
    const strips = (count: number) =>
      Array.from({ length: count }, (_, k) =>
        rateZone(k + 1, [rectangle(k * 20, 0, k * 20 + 20, 100)], 150 + k),
      );
    const write = (count: number) =>
      written({ version: "4.3", zones: "polygons" }, prescriptionFixture({ zones: strips(count) }));
    expect(allOf(write(252).document, "TZN").at(-1)!.attributes.A).toBe("254");
    expect(() => write(253)).toThrow(/253 zones.*254/);
  });
});

describe("the pressure channel", () => {
  it("sends Pa in DDI 365, shown in psi", () => {
    const { document } = written(
      { version: "4.3", zones: "polygons" },
      prescriptionFixture({ channel: { quantity: "pressure", formula: "", reason: null } }),
    );
    expect([...setPoints(document).values()].slice(0, 4)).toEqual([
      1_850_000, 1_900_000, 1_950_000, 2_100_000,
    ]);
    expect(allOf(document, "PDV")[0]!.attributes.A).toBe("016D");
    // 6894.757 Pa a psi (NIST SP 811).
    const { C, E } = allOf(document, "VPN")[0]!.attributes;
    expect(E).toBe("psi");
    expect(1 / Number(C)).toBeCloseTo(6894.757, -1);
  });
});

describe("what is refused", () => {
  const kind: TaskFileKind = { version: "4.3", zones: "grid-1" };
  const broken = (changes: Partial<Prescription>) => () => written(kind, prescriptionFixture(changes));
  const zones = prescriptionFixture().zones;
  const withForce = (forceN: number | null) => [
    { ...zones[0]!, rates: { ...zones[0]!.rates, forceN } },
    ...zones.slice(1),
  ];

  it("a margin and an undeclared channel have no number to be sent under", () => {
    expect(broken({ channel: { quantity: "margin", formula: "", reason: null } })).toThrow(/no number/);
    expect(broken({ channel: { quantity: null, formula: "", reason: "not said" } })).toThrow(/not declared/);
  });

  it.each([0, -100, 0.4, Number.NaN, 3e9, null])("a rate of %s N", (forceN) => {
    expect(broken({ zones: withForce(forceN) })).toThrow(/zero and lift are never written/);
  });

  it("no zone, a grid beyond the limit, a cell that is no length", () => {
    const settings = prescriptionFixture().settings;
    expect(broken({ zones: [] })).toThrow(/no rate zone/);
    expect(broken({ settings: { ...settings, gridCellM: 0.5 } })).toThrow(/at most 250000 cells/);
    for (const gridCellM of [0, -5, Number.NaN, Number.POSITIVE_INFINITY])
      expect(broken({ settings: { ...settings, gridCellM } })).toThrow(/cannot be written/);
  });
});

describe("a grid on small ground", () => {
  it("takes smaller cells where a field or a strip is about as small as a cell", () => {
    const settings = { ...prescriptionFixture().settings, gridCellM: 50 };
    const tiny = prescriptionFixture({ settings, zones: [rateZone(1, [rectangle(0, 0, 9, 7)], 210)] });
    const { document, grid } = written({ version: "4.3", zones: "grid-2" }, tiny);
    const cells = readCells(document, grid!);
    expect(cells.filter(({ value }) => value === newtons(210)).length).toBeGreaterThanOrEqual(4);
    expect(taskGridCellM(tiny, FIXTURE_FRAME)).toBeLessThan(9);
    expectCells(cells, tiny);
    expect(taskGridCellM(prescriptionFixture(), FIXTURE_FRAME)).toBe(10);
  });
});

it("writes the same bytes each time", () => {
  for (const kind of KINDS) expect(written(kind).files).toEqual(written(kind).files);
});

it("cuts a long name to 32 characters, whole ones, without what XML forbids", () => {
  const field = { name: `\u0000Lang\u{1F33D}${"e".repeat(40)}`, season: null, areaHa: 1 };
  const { document } = written({ version: "3.3", zones: "polygons" }, prescriptionFixture({ field }));
  expect(allOf(document, "PFD")[0]!.attributes.C).toBe(`Lang\u{1F33D}${"e".repeat(27)}`);
});
