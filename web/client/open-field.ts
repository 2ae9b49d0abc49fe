/** Opens a field on the page: from the server, from chosen or dropped files, or the sample; nothing is sent anywhere. */
import { batch } from "@preact/signals";
import { proxy, transfer } from "comlink";
import type { InputFile } from "../../src/ingest/layer.ts";
import type { Stage } from "../../src/jobs/analyse.ts";
import type { FieldAnswers } from "../../src/manifest/field-answers.ts";
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";
import { applySession, openedBefore, takeUpSession } from "../model/remembered.ts";
import { fieldKey, type Session, saysSession, sessionOf } from "../model/session.ts";
import * as state from "../model/state.ts";
import { withAnswers } from "../protocol/answers.ts";
import type {
  AskingView,
  FieldFiles,
  LoadedView,
  Outcome,
  SortingShown,
  Trouble,
} from "../protocol/protocol.ts";
import { texts } from "../words/texts/texts.ts";
import { fetchFiles } from "./fetch-files.ts";
import { startWork, type Work } from "./field-worker.ts";
import { findKeptFields, keepField, keptField, keptFields } from "./kept-fields.ts";

/** Reading the files comes before the stages of the analysis. */
const STEPS = Object.keys(texts.value.work).length + 1;

/** Larger JSON files are data, not sessions. */
const LARGEST_SESSION_BYTES = 4_000_000;

/** The work behind what is on the page, and the one that is to take its place. */
let current: Work | null = null;
let opening: Work | null = null;
/** The files behind the field on the page, and behind the one being opened; empty where they were fetched. */
let filesOpen: readonly File[] = [];
let filesOpening: readonly File[] = [];
/** Grows with each opening and each stop, so that what is late knows that it is no longer wanted. */
let turn = 0;

/** The field `evenstand open FIELD` serves, or after a reload the sample. */
export async function openFirstField(): Promise<void> {
  const answer = await fetch("field/manifest");
  const served = answer.ok ? ((await answer.json()) as { name: string; manifest: unknown } | null) : null;
  if (served) {
    const { manifest } = served;
    state.source.value = "served";
    await openFetched(manifest, (path) => `field/files/${path.split("/").map(encodeURIComponent).join("/")}`);
    return;
  }
  const before = openedBefore();
  await findKeptFields();
  if (before?.source === "sample") await openSample();
  else if (before && keptFields.value.some(({ name }) => name === before.name)) await openKept(before.name);
  else if (before) {
    const files = before.files.join(", ");
    state.phase.value = {
      kind: "empty",
      said: `${before.name} was open here. Choose its files again (${files}); your choices and notes come back with them.`,
    };
  }
}

/** The invented sample field that comes with the page. */
export async function openSample(): Promise<void> {
  const answer = await fetch("sample/field.json");
  if (!answer.ok)
    return fail({ message: "The sample did not come with this page.", accepted: null, ours: true });
  state.source.value = "sample";
  await openFetched(await answer.json(), (path) => `sample/${path}`);
}

/** Keeps the files of the field on the page in the browser. @throws {Error} in words, where that cannot be */
export async function keepOpenField(): Promise<void> {
  const name = state.findingsDocument.value?.field.name;
  const manifest = state.manifest.value;
  if (!name || !manifest || filesOpen.length === 0)
    throw new Error("only files that were chosen or dropped here can be kept");
  try {
    await keepField({
      name,
      manifest,
      files: filesOpen.map((file) => ({ name: pathOf(file), bytes: file })),
    });
  } catch {
    throw new Error("this browser does not keep files of this size here");
  }
}

/** A field that was kept, with what its files are as the user had settled it. */
export async function openKept(name: string): Promise<void> {
  const kept = await keptField(name);
  if (!kept) return findKeptFields();
  const files = kept.files.map(({ name: path, bytes }) => new File([bytes], path));
  await openChosenFiles(files, kept.manifest);
}

function pathOf(file: File): string {
  return (file.webkitRelativePath || file.name).replaceAll("\\", "/");
}

/**
 * Files chosen or dropped by the user; a session file among them is taken up with them.
 * @param settled what each of them is, where that is known; a `field.json` among them is not asked then
 */
export async function openChosenFiles(
  chosen: readonly File[],
  settled: Record<string, unknown> | null = null,
): Promise<void> {
  const mine = begin();
  filesOpening = chosen;
  const files: InputFile[] = [];
  let session: Session | null = null;
  for (const file of chosen) {
    const name = pathOf(file);
    const bytes = new Uint8Array(await file.arrayBuffer());
    if (mine !== turn) return;
    const text =
      /\.json$/i.test(name) && bytes.length <= LARGEST_SESSION_BYTES ? new TextDecoder().decode(bytes) : "";
    if (!saysSession(text)) files.push({ name, bytes });
    else {
      session = sessionOf(text);
      if (session) continue;
      return fail({
        message: `${name} is a session that this page cannot read: it is damaged or from another version.`,
        accepted: "a session file saved by this page",
        ours: false,
      });
    }
  }
  if (session && files.length === 0) return openSession(session);
  state.awaitedSession.value = session ?? state.awaitedSession.value;
  state.source.value = "files";
  // The session knows what the user answered about the columns.
  const hasManifest = files.some(({ name }) => /(^|\/)field\.json$/.test(name));
  const known = settled ?? (hasManifest ? null : (session?.manifest ?? null));
  await openField({ manifest: known, files }, mine);
}

/** A session without files: taken up at once where its field is open, else when its files come. */
async function openSession(session: Session): Promise<void> {
  const { name, files } = session.field;
  const document = state.findingsDocument.value;
  if (document && fieldKey(document.field.name, document.inputs) === fieldKey(name, files)) {
    state.phase.value = { kind: "ready" };
    applySession(session);
    return;
  }
  state.awaitedSession.value = session;
  if (session.source === "sample") return openSample();
  state.phase.value = {
    kind: "empty",
    said: `The session of ${name} is read. Now choose its files: ${files.map(({ file }) => file).join(", ")}.`,
  };
}

async function openFetched(manifest: unknown, address: (path: string) => string): Promise<void> {
  const mine = begin();
  filesOpening = [];
  // The worker starts while the files come, all of them at once.
  opening = workFor(mine);
  const { files, missing } = await fetchFiles(manifest, address);
  if (mine !== turn) return;
  if (missing) {
    opening?.stop();
    opening = null;
    return fail({ message: missing, accepted: null, ours: false });
  }
  await openField({ manifest, files }, mine);
}

function workFor(mine: number): Work {
  return startWork((message) => {
    if (mine === turn) fail({ message, accepted: null, ours: true });
  });
}

async function openField(input: FieldFiles, mine: number): Promise<void> {
  if (mine !== turn) return;
  opening ??= workFor(mine);
  const { engine } = opening;
  const buffers = input.files.map(({ bytes }) => bytes.buffer as ArrayBuffer);
  await goOn(mine, () => engine.load(transfer(input, [...new Set(buffers)])));
}

/** Goes on with the files read, by what the user answered, a choice for each question asked. */
export async function answerQuestions(answers: readonly ColumnChoice[]): Promise<void> {
  const phase = state.phase.value;
  const asked = opening;
  if (phase.kind !== "asking" || !asked) return;
  const manifest = withAnswers(phase.asking.manifest, phase.asking.questions, answers);
  say("Putting the files together", 0);
  await goOn(turn, () => asked.engine.settle(manifest));
}

/**
 * Goes on with files that were looked over. What is wrong with them is said beside the table, where it is put right.
 */
export async function readSorted(manifest: Record<string, unknown>): Promise<void> {
  const phase = state.phase.value;
  const asked = opening;
  if ((phase.kind !== "sorting" && phase.kind !== "checked") || !asked) return;
  const { sorting } = phase;
  say("Reading the files", 0);
  await goOn(turn, async () => {
    const outcome = await asked.engine.loadBy(manifest);
    if (outcome.ok || outcome.trouble.ours) return outcome;
    return { ok: true, view: { ...sorting, trouble: outcome.trouble } };
  });
}

/** Looks at the first passes of a log that was looked over, and keeps it at hand for the whole work. */
export async function lookAtFirstPasses(manifest: Record<string, unknown>): Promise<void> {
  const phase = state.phase.value;
  const asked = opening;
  if ((phase.kind !== "sorting" && phase.kind !== "checked") || !asked) return;
  const { sorting } = phase;
  const mine = turn;
  say("Looking at the passes so far", 0);
  const outcome = await asked.engine.check(manifest, state.unitSystem.value);
  if (mine !== turn) return;
  if (outcome.ok) state.phase.value = { kind: "checked", sorting, manifest, screen: outcome.view };
  else if (outcome.trouble.ours) fail(outcome.trouble);
  else state.phase.value = { kind: "sorting", sorting: { ...sorting, trouble: outcome.trouble } };
}

/** From files put together to the ledger on the page, or to what has to be asked first. */
async function goOn(
  mine: number,
  load: () => Promise<Outcome<LoadedView | AskingView | SortingShown>>,
): Promise<void> {
  try {
    const loaded = await settled(mine, load());
    if (!loaded || !opening) return;
    if (loaded.kind === "sorting") {
      state.phase.value = { kind: "sorting", sorting: loaded };
      return;
    }
    if (loaded.kind === "asking") {
      state.phase.value = { kind: "asking", asking: loaded };
      return;
    }
    current?.stop();
    [current, opening] = [opening, null];
    filesOpen = filesOpening;
    state.showField(loaded);
    const { stages } = loaded;
    let atWork = true;
    // Progress comes by a channel of its own and may arrive after the answer it speaks of.
    const onStage = proxy((stage: Stage) => {
      if (atWork && mine === turn) say(texts.value.work[stage], stages.indexOf(stage) + 1);
    });
    const answer = await settled(mine, current.engine.analyse(state.writing.value, onStage)).finally(() => {
      atWork = false;
    });
    if (!answer) return;
    // At once: what is kept of the field must not be written over before it is read.
    batch(() => {
      state.showAnswer(answer);
      takeUpSession();
    });
  } catch (error) {
    if (mine === turn)
      fail({ message: error instanceof Error ? error.message : String(error), accepted: null, ours: true });
  }
}

/**
 * Works the field on the page out again with what the user answered.
 * @returns what is wrong with an answer, null where all of them were used
 */
export async function answerField(answers: FieldAnswers): Promise<Trouble | null> {
  const asked = current;
  if (!asked || state.phase.value.kind !== "ready") return null;
  const mine = ++turn;
  const writing = state.writing.value;
  say(texts.value.work.passes, 1);
  const stages = Object.keys(texts.value.work);
  let atWork = true;
  const onStage = proxy((stage: Stage) => {
    if (atWork && mine === turn) say(texts.value.work[stage], stages.indexOf(stage) + 1);
  });
  const outcome = await asked.engine.amend(answers, writing, onStage);
  atWork = false;
  if (mine !== turn || asked !== current) return null;
  if (!outcome.ok) {
    state.phase.value = { kind: "ready" };
    return outcome.trouble;
  }
  batch(() => {
    state.manifest.value = outcome.view.manifest;
    state.showAnswer(outcome.view);
  });
  return null;
}

/** Ends the work that is going on. What was on the page before stays, where it is still whole. */
export function stopWork(): void {
  turn++;
  opening?.stop();
  opening = null;
  if (state.findingsDocument.value) {
    state.phase.value = { kind: "ready" };
    return;
  }
  current?.stop();
  current = null;
  state.clearField();
  state.phase.value = { kind: "empty", said: "Stopped. Nothing of these files was kept." };
}

/** The worker that holds the analysed field; null without one. */
export function engineAtWork(): Work["engine"] | null {
  return current?.engine ?? null;
}

/** @returns null where it failed, which the page then says, and where it is no longer wanted. */
async function settled<T>(mine: number, promise: Promise<Outcome<T>>): Promise<T | null> {
  const outcome = await promise;
  if (mine !== turn) return null;
  if (outcome.ok) return outcome.view;
  fail(outcome.trouble);
  return null;
}

/** Another field is to be opened: whatever was being opened is dropped. */
function begin(): number {
  opening?.stop();
  opening = null;
  state.notice.value = null;
  say("Reading the files", 0);
  return ++turn;
}

function say(said: string, step: number): void {
  state.phase.value = { kind: "loading", said, step, steps: STEPS };
}

function fail(trouble: Trouble): void {
  state.phase.value = { kind: "error", ...trouble };
}
