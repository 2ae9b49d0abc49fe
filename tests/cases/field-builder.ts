/**
 * Invented fields for cases: a sound field of corn (`SOUND` in case-setup.ts) with what a case changes, as the files a
 * user would hand in, and the command run over them.
 *
 *     const result = await analyseCase({
 *       emerged: ({ zone }) => (zone === "silty clay" ? 0.7 : 0.94), // by place, zone, row, pass, lot, day
 *       counts: { number: 50 },
 *       manifest: { targets: null },                                  // changes to field.json; null takes a key out
 *     });
 *     result.document.findings; result.said;                          // findings.json; all words, in small letters
 *
 * `buildCase` gives the files alone, for commands other than `analyse` and for a test that changes them by hand.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { run } from "../../src/cli/run.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { fakeIo } from "../support/fake-io.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { caseCounts, caseDigs } from "./case-counts.ts";
import { CaseGround, degreesAt } from "./case-ground.ts";
import { caseLog } from "./case-log.ts";
import { type CaseSetup, SOUND, type Zone } from "./case-setup.ts";
import { caseWeather } from "./case-weather.ts";

export type CaseFiles = Record<string, string>;

/** The files of a field, `field.json` among them, by name. */
export function buildCase(changes: Partial<CaseSetup> = {}): CaseFiles {
  const setup: CaseSetup = { ...SOUND, ...changes };
  const ground = new CaseGround(setup);
  const files: CaseFiles = { "planting.csv": caseLog(setup, ground) };
  if (setup.soil) files["soil.geojson"] = zones(setup.soil, "texture");
  if (setup.lots) files["lots.geojson"] = zones(setup.lots, "lot");
  if (setup.boundary) files["boundary.geojson"] = zones([outline(setup, ground)], "field");
  if (setup.counts) files["counts.geojson"] = JSON.stringify(caseCounts(setup, ground));
  if (setup.digs) files["digs.csv"] = caseDigs(setup.digs);
  if (setup.weather) files["weather.csv"] = caseWeather(setup.dateOf(1, ground.lanes.length), setup.weather);
  files["field.json"] = JSON.stringify(patched(manifestOf(setup, files), setup.manifest), null, 2);
  return files;
}

export interface CaseResult {
  code: number;
  out: string;
  err: string;
  /** findings.json. */
  document: FindingsDocument;
  /** Everything printed and every sentence of the document, in small letters, without line breaks. */
  said: string;
  /** Only what was printed, likewise. */
  printed: string;
}

const base = temporaryFolder();
let folders = 0;

/** Writes the files into a folder of their own; gives the folder that holds it as `field`. */
export function writeCase(files: CaseFiles): string {
  const folder = join(base, String(++folders));
  mkdirSync(join(folder, "field"), { recursive: true });
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, "field", name), content);
  return folder;
}

/** Runs a command in a folder. */
export async function runCase(folder: string, ...argv: string[]) {
  const io = fakeIo(folder);
  const code = await run(argv, io);
  return { code, ...io.written };
}

/** Analyses the field of a case, or of files that a test has changed. Fails where the command refuses the field. */
export async function analyseFiles(files: CaseFiles): Promise<CaseResult> {
  const folder = writeCase(files);
  const { code, out, err } = await runCase(folder, "analyse", "field", "--out", "out");
  if (code !== 0) throw new Error(`analyse ended with ${code}: ${err}`);
  const text = readFileSync(join(folder, "out", "findings.json"), "utf8");
  const plain = (words: string): string => words.toLowerCase().replaceAll(/\s+/g, " ");
  return {
    code,
    out,
    err,
    document: JSON.parse(text) as FindingsDocument,
    said: plain(`${out} ${err} ${sentencesOf(JSON.parse(text)).join(" ")}`),
    printed: plain(`${out} ${err}`),
  };
}

/** {@link analyseFiles} of {@link buildCase}. */
export function analyseCase(changes: Partial<CaseSetup> = {}): Promise<CaseResult> {
  return analyseFiles(buildCase(changes));
}

function manifestOf(setup: CaseSetup, files: CaseFiles): Record<string, unknown> {
  const has = (file: string, more: object = {}) =>
    files[file] === undefined ? undefined : { file, ...more };
  const depth = setup.columns.includes("depth")
    ? { columns: { seedingDepth: { column: setup.rename.DEPTH_IN ?? "DEPTH_IN", source: "sensed" } } }
    : {};
  return {
    name: "Case",
    crop: setup.crop,
    plantingLog: { file: "planting.csv", ...depth },
    soilZones: has("soil.geojson", { zone: "texture" }),
    seedLots: has("lots.geojson", { zone: "lot" }),
    boundary: has("boundary.geojson"),
    standCounts: has("counts.geojson"),
    digs: has("digs.csv"),
    weather: has("weather.csv"),
    planter: { rowUnits: setup.rows, rowSpacing: `${setup.rowSpacingIn} in` },
    targets: {
      seedingDepth: "2.0 in",
      population: `${setup.target} seeds/ac`,
      downForceMargin: ["60 lbf", "160 lbf"],
    },
    prices: { grain: "4.50 USD/bu", expectedYield: "200 bu/ac", seed: "3.75 USD/1000" },
  };
}

function patched(whole: Record<string, unknown>, changes: Readonly<Record<string, unknown>>) {
  const result: Record<string, unknown> = { ...whole };
  for (const [key, change] of Object.entries(changes)) {
    const old = result[key];
    if (change === null) delete result[key];
    else if (isObject(change) && isObject(old)) result[key] = patched(old, change);
    else result[key] = change;
  }
  return result;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function outline(setup: CaseSetup, { barM }: CaseGround): Zone {
  const lanes = Math.round(setup.widthM / barM);
  return {
    name: "Case",
    west: setup.eastM,
    east: setup.eastM + lanes * barM,
    south: 0,
    north: setup.lengthM,
  };
}

function zones(rectangles: readonly Zone[], key: string): string {
  const features = rectangles.map(({ name, west, east, south, north }) => ({
    type: "Feature",
    properties: { [key]: name },
    geometry: {
      type: "Polygon",
      coordinates: [
        [
          degreesAt(west, south),
          degreesAt(east, south),
          degreesAt(east, north),
          degreesAt(west, north),
          degreesAt(west, south),
        ],
      ],
    },
  }));
  return JSON.stringify({ type: "FeatureCollection", features });
}

/** Every text inside a document. */
function sentencesOf(value: unknown): string[] {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(sentencesOf) : [];
}
