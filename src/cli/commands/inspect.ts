/** `evenstand inspect`: what is in files, what they are taken for, and a starting manifest. */
import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import { type WantedKey, wantedAnswers } from "../../field/wanted-answers.ts";
import { describeLayer } from "../../ingest/index.ts";
import type { LayerFile } from "../../ingest/layer.ts";
import type { LayerRole } from "../../manifest/manifest.ts";
import type { Manifest } from "../../manifest/manifest-schema.ts";
import { missingParts, variablesIn } from "../../roles/missing-parts.ts";
import { type GuessedLayer, startingManifest } from "../../roles/starting-manifest.ts";
import { FieldFiles } from "../files/field-files.ts";
import { CommandLineError } from "../terminal/failure.ts";
import type { Io } from "../terminal/io.ts";
import { inspectedText } from "./inspect-text.ts";
import { whatIsLacking } from "./manifest-check.ts";

export interface InspectOptions {
  manifest?: string;
}

const ROLE_TITLES: Record<LayerRole, string> = {
  plantingLog: "planting log",
  soilZones: "soil zones",
  standCounts: "stand counts",
  digs: "digs",
  boundary: "boundary",
  seedLots: "seed lots",
  weather: "weather",
  yield: "yield map",
};

/** Where the manifest answers a question, with an example. */
const MANIFEST_LINES: Record<WantedKey, string> = {
  seedingDepth: '"targets": { "seedingDepth": "2.0 in" }',
  depthSensed:
    '"plantingLog": { "columns": { "seedingDepth": { "column": ..., "unit": ..., "source": "sensed" } } }',
  downForceMargin: '"targets": { "downForceMargin": ["60 lbf", "160 lbf"] }',
  population: '"targets": { "population": "34000 seeds/ac" }',
  speed: '"targets": { "speed": "5.5 mi/h" }',
  grain: '"prices": { "grain": "4.50 USD/bu" }',
  expectedYield: '"prices": { "expectedYield": "200 bu/ac" }',
};

/**
 * Prints what each file holds and, with `manifest`, writes a starting manifest that names them.
 * @throws {EvenstandError} of the first file that cannot be used, after the others have been shown.
 */
export async function inspect(paths: readonly string[], options: InspectOptions, io: Io): Promise<void> {
  const target = options.manifest === undefined ? null : resolve(io.workingFolder, options.manifest);
  if (target) refuseExisting(target, options.manifest!);
  const folder = target ? dirname(target) : io.workingFolder;
  const files = await readFiles(target ? paths.map((path) => nameFrom(folder, path, io)) : paths, folder);
  const { manifest, layers } = await startingManifest(files, { spellColumns: target !== null });
  io.out(layers.map(layerText).join("\n"));
  const asked = questionsText(layers);
  if (asked) io.out(asked);
  const unusable = layers.find((layer) => layer.error !== null)?.error;
  if (unusable) throw unusable;
  io.out(missingText(manifest, layers));
  if (!target) return;
  await writeFile(target, `${JSON.stringify(manifest, null, 2)}\n`, { flag: "wx" });
  const lacking = whatIsLacking(manifest, layers);
  io.err(
    lacking === null
      ? `Wrote ${options.manifest}: look it over, then run "evenstand analyse ${options.manifest} --out DIR".\n`
      : `Wrote ${options.manifest}. Before it can be analysed: ${lacking}\n`,
  );
}

/** What the files cannot say and would change the verdict, with the lines of the manifest that answer it; "" without a log. */
function questionsText(layers: readonly GuessedLayer[]): string {
  const log = layers.find(({ role }) => role === "plantingLog")?.recognition;
  if (!log) return "";
  const wanted = wantedAnswers({
    logged: new Set(log.recognised.map(({ variable }) => variable)),
    depthSource: log.found.get("seedingDepth")?.source ?? "unknown",
    targets: {
      seedingDepthMm: null,
      populationPerHa: null,
      downForceMarginN: null,
      speedMetresPerSecond: null,
    },
    prices: { grainPerBushel: null, expectedBushelPerAcre: null },
  });
  const lines = wanted.map(({ key, asked, why }) => `  ${asked}: ${why}\n    ${MANIFEST_LINES[key]}`);
  return ["", "answers that would change the verdict; write them into the manifest:", ...lines, ""].join(
    "\n",
  );
}

/** What is missing and what it would change; nothing where there is no log to judge. */
function missingText(manifest: Partial<Manifest>, layers: readonly GuessedLayer[]): string {
  const log = layers.find(({ role }) => role === "plantingLog");
  if (!log) return "";
  const inLog = log.recognition && new Set(variablesIn(log.recognition));
  const lacks = missingParts(manifest, inLog);
  return lacks.length === 0
    ? ""
    : `\nmissing, and what it changes\n${lacks.map((lack) => `  no ${lack}\n`).join("")}`;
}

function layerText({ file, role, reason, layer, recognition, error }: GuessedLayer): string {
  if (!layer) return `${file}\n  cannot be used: ${error?.message ?? reason}\n`;
  return inspectedText({
    description: describeLayer(layer),
    role: role
      ? `${ROLE_TITLES[role]} (${reason})`
      : /^looks like a (?:harvest|log)/.test(reason)
        ? reason
        : null,
    recognised: recognition?.recognised ?? [],
    unused: new Map(
      recognition?.unrecognised.map((name, index) => [name, recognition.unusedReasons[index]!]) ?? [],
    ),
    open: recognition?.open ?? [],
    notes: [...layer.notes, ...(recognition?.notes ?? [])],
  });
}

/** The files and the siblings of each .shp, each once. */
async function readFiles(paths: readonly string[], folder: string): Promise<LayerFile[]> {
  const reader = new FieldFiles(folder, true);
  const files = new Map<string, LayerFile>();
  for (const path of paths) {
    for (const file of await reader.open(path)) files.set(resolve(folder, file.name), file);
  }
  return [...files.values()];
}

function refuseExisting(target: string, named: string): void {
  if (!existsSync(target)) return;
  throw new CommandLineError(`--manifest ${named}: exists already and is not overwritten; name a new file`, {
    value: named,
  });
}

/** Name of a file as the manifest has to write it: relative to its folder, with forward slashes. */
function nameFrom(folder: string, path: string, io: Io): string {
  const name = relative(folder, resolve(io.workingFolder, path));
  if (name.startsWith(`..${sep}`) || isAbsolute(name)) {
    throw new CommandLineError(
      `--manifest: ${path} lies outside the manifest's folder; write the manifest into a folder above all files`,
      { value: path },
    );
  }
  return name.split(sep).join("/");
}
