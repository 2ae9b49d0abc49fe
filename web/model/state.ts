/** What the page shows right now, as signals; every view reads them and only this file writes rules about them. */
import { computed, signal } from "@preact/signals";
import { CAUSE_DEFINITIONS } from "../../src/causes/evidence/cause-definitions.ts";
import type { CheckScreen } from "../../src/check/check-screen.ts";
import type { Finding, FindingsDocument } from "../../src/findings/findings-document.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import type { MapLayers } from "../../src/report/map-layers.ts";
import { type Writing, writingIn } from "../../src/texts/language.ts";
import type { InputReport } from "../../src/vocabulary/field.ts";
import { type Ground, groundFromCells, type ValueName } from "../protocol/ground.ts";
import {
  filterChoices as choicesOf,
  type Filter,
  type Isolated,
  NO_FILTER,
  shownPieces,
} from "../protocol/ground-filter.ts";
import type { AnswerView, AskingView, LoadedView, SortingShown } from "../protocol/protocol.ts";
import { language } from "../words/language.ts";
import { numberLocale } from "../words/numbers.ts";
import { VARIABLE_ORDER } from "../words/variables.ts";
import { forgetChanges } from "./history.ts";
import { longestPassInside } from "./pass-choice.ts";
import { type Choices, NO_CHOICES, choices as prescriptionChoices } from "./prescription-choices.ts";
import { pane } from "./prescription-pane.ts";
import { numberedFindings } from "./ranking.ts";
import type { Session } from "./session.ts";

export type Phase =
  | { kind: "empty"; said?: string }
  | { kind: "loading"; said: string; step: number; steps: number }
  | { kind: "asking"; asking: AskingView }
  | { kind: "sorting"; sorting: SortingShown }
  | { kind: "checked"; sorting: SortingShown; manifest: Record<string, unknown>; screen: CheckScreen }
  | { kind: "error"; message: string; accepted: string | null; ours: boolean }
  | { kind: "ready" };

export const DOCKS = ["furrow", "rows", "passes", "counts", "money", "seasons"] as const;
export type Dock = (typeof DOCKS)[number];
export type PhoneView = "ledger" | "map" | "dock";

export const phase = signal<Phase>({ kind: "empty" });
const documents = signal<ReadonlyMap<string, FindingsDocument>>(new Map());
export const layers = signal<MapLayers | null>(null);
export const ground = signal<Ground | null>(null);

/** How the columns of each file were read; empty in the report, which reads no files. */
export const inputReports = signal<InputReport[]>([]);

/** The manifest the field was loaded by, answers of the user in it; null in the report. */
export const manifest = signal<Record<string, unknown> | null>(null);

/** Where the open field came from. */
export const source = signal<Session["source"]>("files");

/** The user's notes by finding; "field" for the whole field. */
export const notes = signal<Readonly<Record<string, string>>>({});

/** A session whose files are still to come; null for none. */
export const awaitedSession = signal<Session | null>(null);

/** Something to know about what was opened, above the ledger; null for nothing. */
export const notice = signal<string | null>(null);

export const unitSystem = signal<UnitSystem>("farm");

/** How the page writes its sentences. */
export const writing = computed<Writing>(() =>
  writingIn(unitSystem.value, language.value, numberLocale.value),
);

function keyOf({ units, language, locale }: Writing): string {
  return [units, language, locale].join(" ");
}

/** The document written as the page writes; otherwise until that has come, and in the report. */
export const findingsDocument = computed<FindingsDocument | null>(
  () => documents.value.get(keyOf(writing.value)) ?? [...documents.value.values()][0] ?? null,
);

/** What the documents say of loads rests on these choices about the prescription; null while the loads are to come. */
const documentsChosen = signal<Readonly<Choices> | null>(NO_CHOICES);

/** True while the ledger is shown and the loads that it advises are still being worked out. */
export const loadsToCome = computed(() => documentsChosen.value === null);

/**
 * True where there is an answer, but not yet written as the page writes, or with loads other than those chosen since. While loads
 * are being set the ledger is out of sight and the worker has enough to do: it is asked for when the ledger is looked at.
 */
export const wordsMissing = computed(
  () =>
    findingsDocument.value !== null &&
    (!documents.value.has(keyOf(writing.value)) ||
      loadsToCome.value ||
      (pane.value === "ledger" && documentsChosen.value !== prescriptionChoices.value)),
);

/** Adds the answer with its sentences written otherwise, or with the loads that were chosen since. */
export function addDocument(as: Writing, document: FindingsDocument, chosen: Readonly<Choices>): void {
  const kept = documentsChosen.value === chosen ? documents.value : [];
  documents.value = new Map([...kept, [keyOf(as), document]]);
  documentsChosen.value = chosen;
}

/** The variable the passes are coloured by; null draws them as plain threads. */
export const variable = signal<ValueName | null>(null);
/** The variable of a second map beside the first; null without one. */
export const beside = signal<ValueName | null>(null);
export const selectedId = signal<string | null>(null);
export const hoveredId = signal<string | null>(null);
export const selectedPass = signal<number | null>(null);
/** The place under the pointer (or moved by the arrow keys): a piece of ground. */
export const cursor = signal<number | null>(null);
/** A place (longitude, latitude) a table asked the map to show; null for none. */
export const shownPlace = signal<[number, number] | null>(null);
export interface MapPlace {
  longitude: number;
  latitude: number;
  zoom: number;
}
/** Where the reader moved the map to; null while it shows what was chosen, or the field. */
export const mapPlace = signal<MapPlace | null>(null);
/** Where an address asks the map to be; null for nothing. */
export const placeAsked = signal<MapPlace | null>(null);
/** Counts how often the map was asked for the whole field. */
export const wholeFieldAsked = signal(0);
/** What the place under the pointer says, in one line. */
export const readout = signal<string>("");
export const dock = signal<Dock>("furrow");
export const phoneView = signal<PhoneView>("ledger");

export const findings = computed(() =>
  findingsDocument.value ? numberedFindings(findingsDocument.value) : [],
);

export const selectedFinding = computed<Finding | null>(
  () => findings.value.find((entry) => entry.finding.id === selectedId.value)?.finding ?? null,
);

/** Passes along the field edge. */
export const endRows = computed<ReadonlySet<number>>(
  () =>
    new Set(
      (layers.value?.passLines.features ?? [])
        .filter((line) => line.properties.headland)
        .map((line) => line.properties.pass),
    ),
);

/** Which part of the planted ground the map shows. */
export const filter = signal<Readonly<Filter>>(NO_FILTER);

const dayOfPass = computed<ReadonlyMap<number, string | null>>(
  () =>
    new Map(
      (layers.value?.passLines.features ?? []).map(({ properties }) => [properties.pass, properties.date]),
    ),
);

/** Whether a chosen finding of row units or passes is shown alone; "Show all" takes it back until the next one. */
export const isolates = signal(true);

/** Row units and passes of the chosen finding, where it is one of those and not of an area; null for no such. */
export const isolated = computed<Isolated | null>(() => {
  const finding = selectedFinding.value;
  if (!isolates.value || !finding) return null;
  const { rowUnits, passes } = finding.where;
  // Pieces of a report do not know their row unit.
  const known = (filterChoices.value?.rowUnits.length ?? 0) > 0;
  if (finding.kind === "row-unit" && rowUnits.length > 0 && known)
    return { rowUnits: new Set(rowUnits), passes: null };
  if (finding.kind === "pass" && passes.length > 0) return { rowUnits: null, passes: new Set(passes) };
  return null;
});

/** Parts of the map that are left out, by name (`map/layer-names.ts`). */
export const hiddenLayers = signal<ReadonlySet<string>>(new Set());

function piecesShown(of: Ground | null) {
  const bands = filterChoices.value?.speedBands ?? [];
  return of && shownPieces(of, filter.value, dayOfPass.value, bands, isolated.value);
}

/** The pieces the map shows; null for all of them. */
export const shown = computed(() => piecesShown(ground.value));

/** What the map draws of the ground: every record, or the means of pieces of pass about 12 m long. */
export const drawnAs = signal<"records" | "cells">("records");

const cellGround = computed(() => (layers.value ? groundFromCells(layers.value.cells) : null));

/** True where there are pieces to draw instead of records. */
export const cellsAtHand = computed(
  () => ground.value?.pieces === "records" && (layers.value?.cells.pass.length ?? 0) > 0,
);

/** The ground as the map draws it; by records where a single row unit is asked for, which a piece does not know. */
export const mapGround = computed(() =>
  drawnAs.value === "cells" && cellsAtHand.value && filter.value.rowUnit === null && !isolated.value?.rowUnits
    ? cellGround.value
    : ground.value,
);

/** The pieces of `mapGround` that are shown; null for all of them. */
export const shownOnMap = computed(() =>
  mapGround.value === ground.value || !mapGround.value ? shown.value : piecesShown(mapGround.value),
);

/** Passes the map draws as threads; null for all of them. */
export const shownPasses = computed<number[] | null>(() => {
  const { pass, day } = filter.value;
  const only = isolated.value?.passes ?? null;
  if (pass === null && day === null && only === null) return null;
  return [...dayOfPass.value]
    .filter(([number, date]) => (pass === null || number === pass) && (day === null || date === day))
    .filter(([number]) => only === null || only.has(number))
    .map(([number]) => number);
});

export const filterChoices = computed(() => (ground.value ? choicesOf(ground.value, dayOfPass.value) : null));

/** A filter as far as the field has what it names. */
export function fittingFilter(wanted: Readonly<Filter>): Filter {
  const choices = filterChoices.value;
  const among = <T>(value: T | null, offered: readonly T[] | undefined) =>
    value !== null && offered?.includes(value) ? value : null;
  return {
    pass: among(wanted.pass, choices?.passes),
    rowUnit: among(wanted.rowUnit, choices?.rowUnits),
    zone: among(wanted.zone, choices?.zones),
    day: among(wanted.day, choices?.days),
    speedBand: among(wanted.speedBand, choices ? [...choices.speedBands.keys()] : []),
  };
}

/** Shows one row unit alone on the map, coloured by a variable; on a phone the map comes to the front. */
export function showRowUnit(rowUnit: number, colouredBy: ValueName): void {
  filter.value = { ...NO_FILTER, rowUnit };
  if (variablesAtHand.value.includes(colouredBy)) variable.value = colouredBy;
  phoneView.value = "map";
}

/** Variables the opened field has values of. */
export const variablesAtHand = computed<ValueName[]>(() => {
  const values = ground.value?.values ?? {};
  return VARIABLE_ORDER.filter((name) => values[name]?.some((value) => !Number.isNaN(value)));
});

/** Selects a finding (null: none); the map's variable and the strip's pass follow it. */
export function selectFinding(id: string | null): void {
  selectedId.value = id;
  isolates.value = true;
  mapPlace.value = null;
  placeAsked.value = null;
  cursor.value = null;
  shownPlace.value = null;
  const finding = selectedFinding.value;
  if (!finding) return;
  variable.value = variableThatShows(finding) ?? variable.value;
  const pass = ground.value ? longestPassInside(ground.value, finding, endRows.value) : null;
  if (pass !== null) selectedPass.value = pass;
}

/** The variable of the map that shows the finding's cause best; undefined where none at hand does. */
function variableThatShows(finding: Finding): ValueName | undefined {
  const { shownBy } = CAUSE_DEFINITIONS[finding.cause];
  return shownBy.find((name) => variablesAtHand.value.includes(name));
}

/** Takes everything of a field off the page. */
export function clearField(): void {
  documents.value = new Map();
  documentsChosen.value = NO_CHOICES;
  forgetChanges();
  notes.value = {};
  prescriptionChoices.value = NO_CHOICES;
  notice.value = null;
  drawnAs.value = "records";
  beside.value = null;
  selectedId.value = null;
  hoveredId.value = null;
  selectedPass.value = null;
  cursor.value = null;
  filter.value = NO_FILTER;
  hiddenLayers.value = new Set();
  mapPlace.value = null;
  placeAsked.value = null;
  variable.value = null;
  layers.value = null;
  ground.value = null;
  inputReports.value = [];
  manifest.value = null;
}

/** Puts a loaded field on the page, before it is analysed. */
export function showField(view: LoadedView): void {
  clearField();
  layers.value = view.layers;
  inputReports.value = view.inputs;
  manifest.value = view.manifest;
}

/** Puts the whole answer on the page. */
export function showAnswer(view: AnswerView): void {
  layers.value = view.layers;
  ground.value = view.ground;
  documents.value = new Map([[keyOf(view.writing), view.document]]);
  documentsChosen.value = view.loadsToCome ? null : NO_CHOICES;
  const first = findings.value[0]?.finding;
  variable.value = (first && variableThatShows(first)) ?? variablesAtHand.value[0] ?? null;
  selectedPass.value =
    (first ? longestPassInside(view.ground, first, endRows.value) : null) ??
    view.layers.passLines.features.find((line) => !line.properties.headland)?.properties.pass ??
    view.layers.passLines.features[0]?.properties.pass ??
    null;
  phase.value = { kind: "ready" };
}
