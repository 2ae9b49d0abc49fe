/** What the page and its worker say to each other. Trouble of the user's files travels as data, not as an exception. */
import type { CheckScreen } from "../../src/check/check-screen.ts";
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import type { InputFile } from "../../src/ingest/layer.ts";
import type { Stage } from "../../src/jobs/analyse.ts";
import type { FieldAnswers } from "../../src/manifest/field-answers.ts";
import type { PrescriptionSettings, ZoneEdits } from "../../src/prescription/prescription.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import type { MapLayers } from "../../src/report/map-layers.ts";
import type { PrescriptionView } from "../../src/report/prescription-view.ts";
import type { Writing } from "../../src/texts/language.ts";
import type { InputReport } from "../../src/vocabulary/field.ts";
import type { ColumnQuestion } from "./answers.ts";
import type { SortedFile } from "./file-choices.ts";
import type { Ground } from "./ground.ts";

/** A field as files; without a manifest one is guessed from the files. */
export interface FieldFiles {
  manifest: unknown | null;
  files: InputFile[];
}

export interface LoadedView {
  kind: "loaded";
  /** What the field was loaded by. */
  manifest: Record<string, unknown>;
  layers: MapLayers;
  /** How each file was read. */
  inputs: InputReport[];
  /** What `analyse` will go through, for progress. */
  stages: readonly Stage[];
}

/** The columns of one file leave something to the user. */
export interface AskingView {
  kind: "asking";
  file: string;
  manifest: Record<string, unknown>;
  questions: ColumnQuestion[];
}

/** Files without a manifest: what each is taken for, to be looked over. */
export interface SortingView {
  kind: "sorting";
  files: SortedFile[];
  /** As they are taken; without a log it has no `plantingLog`. */
  manifest: Record<string, unknown>;
}

/** The same on the page, with what stood in the way the last time. */
export type SortingShown = SortingView & { trouble?: Trouble };

export interface AnswerView {
  /** How the document's sentences are written. */
  writing: Writing;
  document: FindingsDocument;
  /** True where the advice of a load in it still lacks the load, which `documentIn` has. */
  loadsToCome?: boolean;
  layers: MapLayers;
  ground: Ground;
}

/** The answer with what the user said put in, and the manifest that says so. */
export interface AmendedView extends AnswerView {
  manifest: Record<string, unknown>;
}

export interface PrescriptionRequest {
  /** What the user chose; the field's manifest and the defaults stand behind it. */
  settings: Partial<PrescriptionSettings>;
  /** Loads set by hand for the picked state of the ground. */
  edits: ZoneEdits;
  /** How the sentences are written. */
  writing: Writing;
}

export interface PrescriptionFiles {
  /** `rare`: a kind that few terminals ask for. */
  files: { name: string; purpose: string; bytes: Uint8Array; rare: boolean }[];
  /** What was not written, and why. */
  notes: string[];
}

/** A file to keep, made in the worker. */
export interface FileMade {
  name: string;
  bytes: Uint8Array;
}

/** Groups of files that are made together: what `analyse` writes, where to count next, or all there is as one zip. */
export const FILE_GROUPS = ["results", "report", "scouting", "everything"] as const;
export type FileGroup = (typeof FILE_GROUPS)[number];

export interface FilesRequest extends PrescriptionRequest {
  group: FileGroup;
  /** Text of the built report; only a report needs it. */
  template: string | null;
}

export interface Trouble {
  message: string;
  /** What would have been accepted, null where the message says it all. */
  accepted: string | null;
  /** The setting or column at fault, null or left out where there is no single one. */
  field?: string | null;
  /** True when the fault is ours, not the files'. */
  ours: boolean;
}

export type Outcome<T> = { ok: true; view: T } | { ok: false; trouble: Trouble };

export interface Engine {
  /** Reads the files; without a manifest it only says what each is taken for. */
  load(input: FieldFiles): Promise<Outcome<LoadedView | AskingView | SortingView>>;
  /** Looks at the first passes of the log among the files that were looked over, by a manifest; the files stay for `loadBy`. */
  check(manifest: Record<string, unknown>, units: UnitSystem): Promise<Outcome<CheckScreen>>;
  /** Reads the files that were looked over, by a manifest. */
  loadBy(manifest: Record<string, unknown>): Promise<Outcome<LoadedView | AskingView>>;
  /** Puts the files that were read together once more, by a manifest with answers in it. */
  settle(manifest: Record<string, unknown>): Promise<Outcome<LoadedView | AskingView>>;
  /** Works on what was loaded; `onStage` is called as each stage begins. */
  analyse(writing: Writing, onStage: (stage: Stage) => void): Promise<Outcome<AnswerView>>;
  /** Works on it again, by what the user answered since. */
  amend(
    answers: FieldAnswers,
    writing: Writing,
    onStage: (stage: Stage) => void,
  ): Promise<Outcome<AmendedView>>;
  /** The document of the last analysis with its sentences written otherwise, and with the loads as they were chosen. */
  documentIn(request: PrescriptionRequest): Promise<Outcome<FindingsDocument>>;
  /** The down-force prescription of the last analysis. */
  prescribe(request: PrescriptionRequest): Promise<Outcome<PrescriptionView>>;
  /** The files of such a prescription. */
  prescriptionFiles(request: PrescriptionRequest): Promise<Outcome<PrescriptionFiles>>;
  /** Files of the last analysis to keep, made as the command makes them. */
  files(request: FilesRequest): Promise<Outcome<FileMade[]>>;
}
