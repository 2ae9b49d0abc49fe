/** The library in a worker: reads the files, does the job, hands columns over without copying them. */
import { expose, transfer } from "comlink";
import { checkPasses } from "../../src/check/check-passes.ts";
import { checkScreen } from "../../src/check/check-screen.ts";
import { logOnly } from "../../src/check/log-only.ts";
import { ChoiceNeededError, FileUnusableError, isEvenstandError } from "../../src/errors.ts";
import { assembleField, type RawLayers } from "../../src/field/load.ts";
import { readLayers } from "../../src/field/read-layers.ts";
import type { Analysis } from "../../src/findings/analysis.ts";
import type { InputFile } from "../../src/ingest/layer.ts";
import { analyseField, STAGES } from "../../src/jobs/analyse.ts";
import { advisesLoads, prescribe } from "../../src/jobs/prescribe.ts";
import { withFieldAnswers } from "../../src/manifest/field-answers.ts";
import { type LayerRole, parseManifest } from "../../src/manifest/manifest.ts";
import type { Prescription } from "../../src/prescription/prescription.ts";
import { fieldLayers, mapLayers } from "../../src/report/map-layers.ts";
import { prescriptionView } from "../../src/report/prescription-view.ts";
import { startingManifest } from "../../src/roles/starting-manifest.ts";
import type { Writing } from "../../src/texts/language.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { buffersOf } from "../protocol/ground.ts";
import type {
  AnswerView,
  AskingView,
  Engine,
  FieldFiles,
  LoadedView,
  Outcome,
  PrescriptionRequest,
  SortingView,
  Trouble,
} from "../protocol/protocol.ts";
import { questionOf } from "./column-glimpse.ts";
import { documentIn, filesToKeep } from "./files-to-keep.ts";
import { filesOf } from "./prescription-files.ts";
import { groundFromRecords } from "./record-ground.ts";
import { sortedFiles } from "./sorted-files.ts";

const MANIFEST_NAME = "field.json";

let read: { layers: RawLayers; files: InputFile[] } | null = null;
/** Files whose parts are being looked over. */
let lookedOver: InputFile[] | null = null;
let loaded: Field | null = null;
/** The manifest of the loaded field, answers of the user in it. */
let loadedBy: Record<string, unknown> = {};
let analysed: Analysis | null = null;

const engine: Engine = {
  async load(input) {
    loaded = null;
    analysed = null;
    return outcome(async () => {
      const manifest = manifestOf(input);
      if (manifest === null) return sortingOf(input.files);
      return readBy(manifest as Record<string, unknown>, input.files);
    });
  },
  async check(manifest, units) {
    return outcome(async () => {
      const files = lookedOver;
      if (!files) throw new FileUnusableError("no files have been read");
      const log = logOnly(parseManifest(manifest));
      const layers = await readLayers(log, async (path) => filesFor(path, files));
      return checkScreen(checkPasses(assembleField(log, layers), null, units), units);
    });
  },
  async loadBy(manifest) {
    return outcome(async () => {
      if (!lookedOver) throw new FileUnusableError("no files have been read");
      return readBy(manifest, lookedOver);
    });
  },
  async settle(manifest) {
    return outcome(() => assemble(manifest));
  },
  async analyse(writing, onStage) {
    return outcome(async () => {
      if (!loaded) throw new FileUnusableError("no field has been loaded");
      // The ledger first; the loads that it names are asked for as soon as it is shown.
      analysed = await analyseField(loaded, { ...writing, onStage, withoutLoads: true });
      return { ...answerOf(analysed, writing), loadsToCome: advisesLoads(analysed.document) };
    });
  },
  async amend(answers, writing, onStage) {
    return outcome(async () => {
      if (!loaded) throw new FileUnusableError("no field has been loaded");
      const amended = withFieldAnswers(loaded, loadedBy, answers);
      analysed = await analyseField(amended.field, { ...writing, onStage });
      loaded = amended.field;
      loadedBy = amended.manifest;
      const answer = answerOf(analysed, writing);
      return transfer({ ...answer, manifest: loadedBy }, buffersOf(answer.ground));
    });
  },
  async documentIn(request) {
    return outcome(async () => documentIn(analysis(), request.writing, request));
  },
  async prescribe(request) {
    return outcome(async () => prescriptionView(prescriptionOf(request), analysis().field));
  },
  async prescriptionFiles(request) {
    return outcome(async () => {
      const made = filesOf(prescriptionOf(request), analysis().field.frame, request.writing.units);
      return transfer(made, [...new Set(made.files.map(({ bytes }) => bytes.buffer as ArrayBuffer))]);
    });
  },
  async files(request) {
    return outcome(async () => {
      const made = filesToKeep(analysis(), request);
      return transfer(
        made,
        made.map(({ bytes }) => bytes.buffer as ArrayBuffer),
      );
    });
  },
};

expose(engine);

function analysis(): Analysis {
  if (!analysed) throw new FileUnusableError("no field has been analysed");
  return analysed;
}

function prescriptionOf({ settings, edits, writing }: PrescriptionRequest): Prescription {
  return prescribe(analysis(), settings, edits, writing);
}

/** The field of the files read, or what its columns leave to the user. */
async function assemble(manifest: Record<string, unknown>): Promise<LoadedView | AskingView> {
  if (!read) throw new FileUnusableError("no files have been read");
  const { layers, files } = read;
  try {
    loaded = assembleField(parseManifest(manifest), layers);
    loadedBy = manifest;
  } catch (error) {
    const asking = askingOf(error, manifest, layers);
    if (!asking) throw error;
    return asking;
  }
  read = null;
  lookedOver = null;
  for (const report of loaded.inputs) report.sha256 = await hashOf(filesFor(report.file, files));
  // The passes come with the answer: drawn before it, they would take the processor from it.
  return { kind: "loaded", manifest, layers: fieldLayers(loaded), inputs: loaded.inputs, stages: STAGES };
}

/** Null where the error is not a choice that can be made here. */
function askingOf(error: unknown, manifest: Record<string, unknown>, layers: RawLayers): AskingView | null {
  const choices = error instanceof ChoiceNeededError ? (error.details.choices ?? []) : [];
  const layer = choices[0] && layers[choices[0].role as LayerRole];
  if (!layer) return null;
  return {
    kind: "asking",
    file: layer.file,
    manifest,
    questions: choices.map((choice) => questionOf(choice, layer)),
  };
}

function answerOf(analysis: Analysis, writing: Writing): AnswerView {
  const ground = groundFromRecords(analysis.field, analysis.passes, analysis.zoneOfRecord);
  return transfer(
    { writing, document: analysis.document, layers: mapLayers(analysis), ground },
    buffersOf(ground),
  );
}

/** The manifest given, or the field.json among the files; null where there is neither. */
function manifestOf({ manifest, files }: FieldFiles): unknown {
  if (manifest !== null) return manifest;
  const file = files.find(({ name }) => baseName(name) === MANIFEST_NAME);
  if (!file) return null;
  try {
    return JSON.parse(new TextDecoder().decode(file.bytes));
  } catch (cause) {
    throw new FileUnusableError(`${file.name} is not JSON: ${(cause as Error).message}`, {
      file: file.name,
      cause,
    });
  }
}

async function readBy(
  manifest: Record<string, unknown>,
  files: InputFile[],
): Promise<LoadedView | AskingView> {
  const provide = (path: string) => Promise.resolve(filesFor(path, files));
  read = { layers: await readLayers(parseManifest(manifest), provide), files };
  return assemble(manifest);
}

/** @throws {FileUnusableError} where none of the files can be read as anything; says what is wrong with each */
async function sortingOf(files: InputFile[]): Promise<SortingView> {
  const { manifest, layers } = await startingManifest(files);
  if (layers.every(({ layer }) => layer === null)) {
    const seen = layers.map(({ file, reason }) => (reason.startsWith(file) ? reason : `${file}: ${reason}`));
    throw new FileUnusableError(`none of these files can be read. ${seen.join("; ")}`, {
      accepted: "a planter's log as shapefile, zipped or loose, GeoJSON or CSV",
    });
  }
  lookedOver = files;
  return { kind: "sorting", files: sortedFiles(layers), manifest: manifest as Record<string, unknown> };
}

/**
 * The file a manifest names, found by its whole path or else by its own name; for a .shp its siblings too.
 * @throws {FileUnusableError} when it is not among the files.
 */
function filesFor(path: string, files: InputFile[]): InputFile[] {
  const same = (a: string, b: string) => a.toLowerCase() === b.toLowerCase();
  const main =
    files.find(({ name }) => name === path) ?? files.find(({ name }) => same(baseName(name), baseName(path)));
  if (!main) {
    throw new FileUnusableError(`${path} is named by the field but is not among the files`, {
      file: path,
      accepted: files.map(({ name }) => name).join(", "),
    });
  }
  if (!/\.shp$/i.test(main.name)) return [main];
  const stem = (name: string) => name.slice(0, -4).toLowerCase();
  return files.filter(
    ({ name }) => /\.(shp|shx|dbf|prj|cpg|dbt|fpt)$/i.test(name) && stem(name) === stem(main.name),
  );
}

function baseName(path: string): string {
  return path.slice(path.lastIndexOf("/") + 1);
}

/** SHA-256 of the file; of a set of files, that of the lines "hash  name" sorted by name. Null where hashing is not offered. */
async function hashOf(files: InputFile[]): Promise<string | null> {
  if (!globalThis.crypto?.subtle) return null;
  const [only] = files;
  if (only && files.length === 1) return sha256(only.bytes);
  const sorted = [...files].sort((a, b) => (baseName(a.name) < baseName(b.name) ? -1 : 1));
  const lines = await Promise.all(
    sorted.map(async ({ name, bytes }) => `${await sha256(bytes)}  ${baseName(name)}\n`),
  );
  return sha256(new TextEncoder().encode(lines.join("")));
}

async function sha256(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", bytes as Uint8Array<ArrayBuffer>);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function outcome<T>(work: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return { ok: true, view: await work() };
  } catch (error) {
    return { ok: false, trouble: troubleOf(error) };
  }
}

function troubleOf(error: unknown): Trouble {
  const message = error instanceof Error ? error.message : String(error);
  return isEvenstandError(error)
    ? { message, accepted: error.details.accepted ?? null, field: error.details.field ?? null, ours: false }
    : { message, accepted: null, ours: true };
}
