/** Opens a field on the page: from the server, from chosen or dropped files, or the sample; nothing is sent anywhere. */
import { proxy, type Remote, transfer, wrap } from "comlink";
import type { Stage } from "../../src/analyse.ts";
import type { ColumnChoice } from "../../src/field/manifest-schema.ts";
import type { InputFile } from "../../src/ingest/layer.ts";
import * as state from "../app/state.ts";
import { withAnswers } from "./answers.ts";
import type { AskingView, Engine, FieldFiles, LoadedView, Outcome, Trouble } from "./protocol.ts";

const STAGES_SAID: Readonly<Record<Stage, string>> = {
  passes: "Telling the passes apart",
  compare: "Comparing passes, row units and soils",
  cells: "Laying the field out in pieces",
  causes: "Looking for places that group together, and what could have caused them",
  report: "Writing the ledger",
};

let worker: Worker | null = null;
let engine: Remote<Engine> | null = null;

/** The field `evenstand open FIELD` serves. @returns false when the server has none. */
export async function openServedField(): Promise<boolean> {
  const answer = await fetch("field/manifest");
  if (!answer.ok) return false;
  const { manifest } = (await answer.json()) as { name: string; manifest: unknown };
  await openFetched(manifest, (path) => `field/files/${path.split("/").map(encodeURIComponent).join("/")}`);
  return true;
}

/** The invented sample field that comes with the page. */
export async function openSample(): Promise<void> {
  const answer = await fetch("sample/field.json");
  if (!answer.ok)
    return fail({ message: "The sample did not come with this page.", accepted: null, ours: true });
  await openFetched(await answer.json(), (path) => `sample/${path}`);
}

/** Files chosen or dropped by the user. */
export async function openChosenFiles(chosen: readonly File[]): Promise<void> {
  say("Reading the files", 0, 1);
  const files: InputFile[] = [];
  for (const file of chosen) {
    const name = (file.webkitRelativePath || file.name).replaceAll("\\", "/");
    files.push({ name, bytes: new Uint8Array(await file.arrayBuffer()) });
  }
  await openField({ manifest: null, files });
}

async function openFetched(manifest: unknown, address: (path: string) => string): Promise<void> {
  say("Reading the files", 0, 1);
  const files: InputFile[] = [];
  for (const path of pathsOf(manifest)) {
    for (const each of withSiblings(path)) {
      const answer = await fetch(address(each));
      if (answer.ok) files.push({ name: each, bytes: new Uint8Array(await answer.arrayBuffer()) });
      else if (each === path) {
        return fail({
          message: `${path} could not be read: ${answer.status === 404 ? "no such file" : `the server answered ${answer.status}`}.`,
          accepted: null,
          ours: false,
        });
      }
    }
  }
  await openField({ manifest, files });
}

/** Every file a manifest names. */
function pathsOf(manifest: unknown): string[] {
  if (typeof manifest !== "object" || manifest === null) return [];
  const paths = Object.values(manifest).map((layer: unknown) =>
    typeof layer === "object" && layer !== null && "file" in layer ? layer.file : null,
  );
  return [...new Set(paths.filter((path): path is string => typeof path === "string"))];
}

function withSiblings(path: string): string[] {
  if (!/\.shp$/i.test(path)) return [path];
  const upper = path.endsWith(".SHP");
  const endings = ["dbf", "shx", "prj", "cpg"].map((ending) => (upper ? ending.toUpperCase() : ending));
  return [path, ...endings.map((ending) => `${path.slice(0, -3)}${ending}`)];
}

async function openField(input: FieldFiles): Promise<void> {
  const opening = freshEngine();
  const buffers = input.files.map(({ bytes }) => bytes.buffer as ArrayBuffer);
  await goOn(opening, () => opening.load(transfer(input, [...new Set(buffers)])));
}

/** Goes on with the files read, by what the user answered, a choice for each question asked. */
export async function answerQuestions(answers: readonly ColumnChoice[]): Promise<void> {
  const phase = state.phase.value;
  const asked = engine;
  if (phase.kind !== "asking" || !asked) return;
  const manifest = withAnswers(phase.asking.manifest, phase.asking.questions, answers);
  say("Putting the files together", 0, 1);
  await goOn(asked, () => asked.settle(manifest));
}

/** From files put together to the ledger on the page, or to what has to be asked first. */
async function goOn(
  engine: Remote<Engine>,
  load: () => Promise<Outcome<LoadedView | AskingView>>,
): Promise<void> {
  try {
    const loaded = await settled(load());
    if (!loaded) return;
    if (loaded.kind === "asking") {
      state.phase.value = { kind: "asking", asking: loaded };
      return;
    }
    state.showField(loaded);
    const { stages } = loaded;
    let atWork = true;
    // Progress comes by a channel of its own and may arrive after the answer it speaks of.
    const onStage = proxy((stage: Stage) => {
      if (atWork) say(STAGES_SAID[stage], stages.indexOf(stage) + 1, stages.length + 1);
    });
    const answer = await settled(engine.analyse(state.unitSystem.value, onStage)).finally(() => {
      atWork = false;
    });
    if (answer) state.showAnswer(answer);
  } catch (error) {
    fail({ message: error instanceof Error ? error.message : String(error), accepted: null, ours: true });
  }
}

/** The worker that holds the analysed field; null without one. */
export function engineAtWork(): Remote<Engine> | null {
  return engine;
}

/** Fetches the sentences in the units of the page where the worker has given them in others only. */
export async function fetchWords(): Promise<void> {
  const units = state.unitSystem.value;
  const asked = engine;
  if (!asked || !state.wordsMissing.value) return;
  const document = await settled(asked.documentIn(units));
  // Meanwhile another field may have been opened.
  if (document && asked === engine) state.addDocument(units, document);
}

async function settled<T>(promise: Promise<Outcome<T>>): Promise<T | null> {
  const outcome = await promise;
  if (outcome.ok) return outcome.view;
  fail(outcome.trouble);
  return null;
}

/** One worker a field: the one before is stopped, whatever it is doing. */
function freshEngine(): Remote<Engine> {
  worker?.terminate();
  worker = new Worker(new URL("./engine.worker.ts", import.meta.url), { type: "module" });
  worker.addEventListener("error", (event) =>
    fail({ message: event.message || "The worker of the page could not start.", accepted: null, ours: true }),
  );
  engine = wrap<Engine>(worker);
  return engine;
}

function say(said: string, step: number, steps: number): void {
  state.phase.value = { kind: "loading", said, step, steps };
}

function fail(trouble: Trouble): void {
  state.phase.value = { kind: "error", ...trouble };
}
