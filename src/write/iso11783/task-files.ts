/**
 * The prescription as task files of ISO 11783-10: TASKDATA.XML, and the binary grid beside it where cells are wanted
 * in place of polygons. Written from the published facts of the format: element and attribute letters, codes 0 to
 * 254, texts of at most 32 characters, positions of at most 9 decimals, upper-case file names.
 */
import { strToU8 } from "fflate";
import { PrescriptionError } from "../../errors.ts";
import type { Prescription, RateZone } from "../../prescription/prescription.ts";
import type { UnitSystem } from "../../quantities/format.ts";
import { zonesInDegrees } from "../../rate-zones/rate-zones-degrees.ts";
import type { LocalFrame } from "../../vocabulary/field.ts";
import { plainText } from "../markup.ts";
import { xmlDecimal, xmlElement } from "../xml.ts";
import { zonesOutline } from "../zones-outline.ts";
import { type TaskChannel, taskChannel } from "./channels.ts";
import type { TaskFileKind } from "./kinds.ts";
import { type DegreeRings, type RateGrid, rateGrid } from "./rate-grid.ts";

export interface TaskFile {
  /** Name with its folder, as it has to stand on the medium. */
  name: string;
  bytes: Uint8Array;
}

/** Codes of the zones that hold beyond the map: outside the boundary, default, position lost; rates follow. */
const CODES = { outside: 0, inside: 1, lostPosition: 2, firstRate: 3 } as const;
const MOST_CODE = 254;
const MOST_TEXT = 32;
const DEGREE_DECIMALS = 9;
const GRID_FILE = "GRD00001";

/**
 * Writes the task. Every file declares what holds by default, outside the boundary and on lost position; a grid cell
 * that lies in no zone carries the default, never 0.
 * @throws {PrescriptionError} where the channel has no number in the data dictionary (a margin) or is not declared,
 *   where a rate is no positive whole number of its unit, and where there are more zones than codes.
 */
export function writeTaskFiles(
  prescription: Prescription,
  frame: LocalFrame,
  { version, zones: kind }: TaskFileKind,
  units: UnitSystem = "farm",
): TaskFile[] {
  const channel = taskChannel(prescription.channel.quantity, units);
  const pieces = zonesInDegrees(prescription.zones, frame);
  if (pieces.length === 0)
    throw new PrescriptionError("no task file: the prescription has no rate zone", {
      accepted: "at least one",
    });
  const raws = pieces.map(({ zone }) => channel.rawOf(zone.rates));
  const [major, minor] = version.split(".") as [string, string];
  const grid = kind === "polygons" ? null : rateGrid(ringsOf(pieces), frame, prescription.settings.gridCellM);
  const task =
    grid === null
      ? pieces.map(({ zone, rings }, index) => polygonZone(zone, rings, index, raws[index]!, channel))
      : gridZones(kind, raws, channel);
  if (CODES.firstRate + task.length - 1 > MOST_CODE)
    throw new PrescriptionError(
      `no task file with ${task.length} zones: codes end at ${MOST_CODE}, and three are taken by the defaults`,
      {
        value: String(task.length),
        accepted: `at most ${MOST_CODE - CODES.firstRate + 1} zones, or a grid of type 2`,
      },
    );
  const { defaults, field, settings } = prescription;
  const document = xmlElement(
    "ISO11783_TaskData",
    {
      VersionMajor: major,
      VersionMinor: minor,
      ManagementSoftwareManufacturer: "Evenstand",
      ManagementSoftwareVersion: "1",
      DataTransferOrigin: 1,
    },
    [
      partfield(field.name, field.areaHa, ringsOf(pieces)),
      xmlElement("VPN", {
        A: "VPN1",
        B: 0,
        C: xmlDecimal(channel.shownPerRaw, DEGREE_DECIMALS),
        D: 0,
        E: channel.shownUnit,
      }),
      xmlElement(
        "TSK",
        {
          A: "TSK1",
          B: text(`${channel.shownTitle}, ${settings.moisture}`),
          E: "PFD1",
          G: 1,
          H: CODES.inside,
          I: CODES.lostPosition,
          J: CODES.outside,
        },
        [
          treatmentZone(CODES.outside, "Outside the boundary", channel.rawOf(defaults.outside), channel),
          treatmentZone(CODES.inside, "Default", channel.rawOf(defaults.inside), channel),
          treatmentZone(CODES.lostPosition, "Position lost", channel.rawOf(defaults.lostPosition), channel),
          ...(kind === "grid-2" ? [] : task),
          ...(grid === null ? [] : [gridElement(grid, kind)]),
        ],
      ),
    ],
  );
  const xml = strToU8(`<?xml version="1.0" encoding="UTF-8"?>\n${document}\n`);
  const files: TaskFile[] = [{ name: "TASKDATA/TASKDATA.XML", bytes: xml }];
  if (grid !== null)
    files.push({
      name: `TASKDATA/${GRID_FILE}.BIN`,
      bytes: gridBytes(grid, kind, raws, channel.rawOf(defaults.inside)),
    });
  return files;
}

/**
 * The side of a cell that the grid files have, m: that of the settings, or a smaller one where a zone would be missed.
 * @throws {PrescriptionError} as {@link rateGrid}.
 */
export function taskGridCellM(prescription: Prescription, frame: LocalFrame): number {
  return rateGrid(ringsOf(zonesInDegrees(prescription.zones, frame)), frame, prescription.settings.gridCellM)
    .cellM;
}

function ringsOf(pieces: readonly { rings: DegreeRings }[]): DegreeRings[] {
  return pieces.map(({ rings }) => rings);
}

function partfield(name: string, areaHa: number, zones: readonly DegreeRings[]): string {
  return xmlElement(
    "PFD",
    { A: "PFD1", C: text(name) || "Field", D: Math.round(areaHa * 10_000) },
    zonesOutline(zones).map((rings) => polygon(1, rings)),
  );
}

function polygonZone(
  zone: RateZone,
  rings: DegreeRings,
  index: number,
  raw: number,
  channel: TaskChannel,
): string {
  const name = `Zone ${zone.number}${zone.proofStrip ? " proof strip" : ""}: ${shown(raw, channel)}`;
  return treatmentZone(CODES.firstRate + index, name, raw, channel, [polygon(2, rings)]);
}

/** Treatment zones of grid type 1: one for each distinct rate. */
function gridZones(kind: TaskFileKind["zones"], raws: readonly number[], channel: TaskChannel): string[] {
  if (kind !== "grid-1") return [];
  return distinct(raws).map((raw, index) =>
    treatmentZone(CODES.firstRate + index, `Rate ${shown(raw, channel)}`, raw, channel),
  );
}

function treatmentZone(
  code: number,
  name: string,
  raw: number,
  channel: TaskChannel,
  ground: readonly string[] = [],
): string {
  return xmlElement("TZN", { A: code, B: text(name) }, [
    ...ground,
    xmlElement("PDV", { A: channel.ddi, B: raw, E: "VPN1" }),
  ]);
}

function polygon(type: 1 | 2, rings: DegreeRings): string {
  return xmlElement(
    "PLN",
    { A: type },
    rings.map((ring, index) =>
      xmlElement(
        "LSG",
        { A: index === 0 ? 1 : 2 },
        ring.map(([longitude, latitude]) =>
          xmlElement("PNT", {
            A: 2,
            C: xmlDecimal(latitude!, DEGREE_DECIMALS),
            D: xmlDecimal(longitude!, DEGREE_DECIMALS),
          }),
        ),
      ),
    ),
  );
}

function gridElement(grid: RateGrid, kind: TaskFileKind["zones"]): string {
  const cells = grid.rows * grid.columns;
  return xmlElement("GRD", {
    A: xmlDecimal(grid.minimumNorth, DEGREE_DECIMALS),
    B: xmlDecimal(grid.minimumEast, DEGREE_DECIMALS),
    C: xmlDecimal(grid.cellNorth, DEGREE_DECIMALS),
    D: xmlDecimal(grid.cellEast, DEGREE_DECIMALS),
    E: grid.columns,
    F: grid.rows,
    G: GRID_FILE,
    H: kind === "grid-1" ? cells : 4 * cells,
    I: kind === "grid-1" ? 1 : 2,
    J: kind === "grid-1" ? null : CODES.inside,
  });
}

function gridBytes(
  grid: RateGrid,
  kind: TaskFileKind["zones"],
  raws: readonly number[],
  defaultRaw: number,
): Uint8Array {
  const rates = distinct(raws);
  const { zoneOfCell } = grid;
  if (kind === "grid-1")
    return Uint8Array.from(zoneOfCell, (zone) =>
      zone < 0 ? CODES.inside : CODES.firstRate + rates.indexOf(raws[zone]!),
    );
  const view = new DataView(new ArrayBuffer(4 * zoneOfCell.length));
  zoneOfCell.forEach((zone, cell) => {
    view.setInt32(4 * cell, zone < 0 ? defaultRaw : raws[zone]!, true);
  });
  return new Uint8Array(view.buffer);
}

function distinct(raws: readonly number[]): number[] {
  return [...new Set(raws)].sort((a, b) => a - b);
}

function shown(raw: number, channel: TaskChannel): string {
  return `${Math.round(raw * channel.shownPerRaw)} ${channel.shownUnit}`;
}

function text(value: string): string {
  return plainText(value, MOST_TEXT);
}
