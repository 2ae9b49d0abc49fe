/** What the browser keeps of the work between two visits: choices and notes by field, never data. */
import { effect } from "@preact/signals";
import { LANGUAGE_CHOICES, languageChoice } from "../words/language.ts";
import { NUMBER_CHOICES, numberChoice } from "../words/numbers.ts";
import { forgetChanges } from "./history.ts";
import { LOOKS, look } from "./look.ts";
import { paneSizes, paneSizesOf } from "./panes.ts";
import { type Choices, choices, NO_CHOICES } from "./prescription-choices.ts";
import { fieldKey, otherFiles, SESSION_SCHEMA, type Session, sessionOf } from "./session.ts";
import * as state from "./state.ts";

const PREFIX = "evenstand session ";
const ORDER = "evenstand sessions";
const UNITS = "evenstand units";
const NUMBERS = "evenstand numbers";
const LANGUAGE = "evenstand language";
const LOOK = "evenstand look";
const PANES = "evenstand parts";
/** Opened in this tab, to come back to after a reload. */
const IN_THIS_TAB = "evenstand opened";
/** More fields than this are not remembered, the oldest is forgotten. */
const MOST_FIELDS = 40;

/** The state of work right now; null without a field. */
export function sessionNow(): Session | null {
  const document = state.findingsDocument.value;
  if (!document) return null;
  return {
    schema: SESSION_SCHEMA,
    field: { name: document.field.name, files: filesNow() },
    source: state.source.value,
    manifest: state.manifest.value,
    choices: {
      units: state.unitSystem.value,
      variable: state.variable.value,
      beside: state.beside.value,
      finding: state.selectedId.value,
      pass: state.selectedPass.value,
      dock: state.dock.value,
      filter: { ...state.filter.value },
    },
    ...(choices.value === NO_CHOICES ? {} : { prescription: choices.value as Session["prescription"] }),
    notes: { ...state.notes.value },
  };
}

/** Puts a session on the page as far as it fits the field that is open, and says where it does not. */
export function applySession(session: Session): void {
  const { choices: chosen } = session;
  const atHand = (name: string | null) => state.variablesAtHand.value.find((each) => each === name) ?? null;
  forgetChanges();
  state.notes.value = session.notes;
  choices.value = (session.prescription as Choices | undefined) ?? NO_CHOICES;
  state.unitSystem.value = chosen.units;
  state.filter.value = state.fittingFilter(chosen.filter);
  if (chosen.finding !== null) state.selectFinding(chosen.finding);
  state.variable.value = chosen.variable === null ? null : (atHand(chosen.variable) ?? state.variable.value);
  state.beside.value = atHand(chosen.beside);
  if (state.filterChoices.value?.passes.includes(chosen.pass ?? -1)) state.selectedPass.value = chosen.pass;
  state.dock.value = state.DOCKS.find((dock) => dock === chosen.dock) ?? state.dock.value;
  const others = otherFiles(session.field.files, filesNow());
  state.notice.value =
    others.length === 0
      ? null
      : `Not all files are those the session was saved with (${others.join(", ")}). Choices and notes are kept where they still fit; the numbers are new.`;
}

/** After a field was worked out: the session that was opened with it, else what is remembered of it. */
export function takeUpSession(): void {
  const waiting = state.awaitedSession.value;
  state.awaitedSession.value = null;
  const session = waiting ?? rememberedSession();
  if (session) applySession(session);
}

function rememberedSession(): Session | null {
  const document = state.findingsDocument.value;
  const text = document && kept(localStorage, PREFIX + fieldKey(document.field.name, filesNow()));
  return text ? sessionOf(text) : null;
}

/** Keeps what is chosen and noted from now on. The browser may refuse to; the page works without. */
export function keepChoices(): void {
  const units = kept(localStorage, UNITS);
  if (units === "farm" || units === "metric") state.unitSystem.value = units;
  effect(() => keep(localStorage, UNITS, state.unitSystem.value));
  const numbers = kept(localStorage, NUMBERS);
  numberChoice.value = NUMBER_CHOICES.find((choice) => choice === numbers) ?? "auto";
  effect(() => keep(localStorage, NUMBERS, numberChoice.value));
  const spoken = kept(localStorage, LANGUAGE);
  languageChoice.value = LANGUAGE_CHOICES.find((choice) => choice === spoken) ?? "auto";
  effect(() => keep(localStorage, LANGUAGE, languageChoice.value));
  const wished = kept(localStorage, LOOK);
  look.value = LOOKS.find((name) => name === wished) ?? "device";
  effect(() => keep(localStorage, LOOK, look.value));
  paneSizes.value = paneSizesOf(kept(localStorage, PANES));
  effect(() => keep(localStorage, PANES, JSON.stringify(paneSizes.value)));
  effect(() => {
    if (state.phase.value.kind !== "ready") return;
    const session = sessionNow();
    if (!session) return;
    const key = PREFIX + fieldKey(session.field.name, session.field.files);
    keep(localStorage, key, JSON.stringify(session));
    rememberOrder(key);
    const { name, files } = session.field;
    keep(
      sessionStorage,
      IN_THIS_TAB,
      JSON.stringify({ source: session.source, name, files: files.map(({ file }) => file) }),
    );
  });
}

/** What this tab had open before it was loaded again; null for nothing. */
export function openedBefore(): { source: string; name: string; files: string[] } | null {
  const text = kept(sessionStorage, IN_THIS_TAB);
  return text ? (JSON.parse(text) as { source: string; name: string; files: string[] }) : null;
}

function filesNow(): Session["field"]["files"] {
  return (state.findingsDocument.value?.inputs ?? []).map(({ role, file, sha256 }) => ({
    role,
    file,
    sha256,
  }));
}

function rememberOrder(key: string): void {
  const before = kept(localStorage, ORDER)?.split("\n") ?? [];
  if (before.at(-1) === key) return;
  const order = [...before.filter((each) => each !== key), key];
  for (const old of order.splice(0, Math.max(0, order.length - MOST_FIELDS))) {
    try {
      localStorage.removeItem(old);
    } catch {
      return;
    }
  }
  keep(localStorage, ORDER, order.join("\n"));
}

function kept(where: Storage, key: string): string | null {
  try {
    return where.getItem(key);
  } catch {
    return null;
  }
}

function keep(where: Storage, key: string, text: string): void {
  try {
    where.setItem(key, text);
  } catch {
    // Full, or not allowed here.
  }
}
