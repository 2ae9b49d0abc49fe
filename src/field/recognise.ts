/**
 * Which column is which variable, and in what unit: by the manifest, else by name, unit suffix, size of the values
 * and relation to other columns. Nothing is guessed silently: every guess has a reason, and where two columns or
 * two units fit about equally the choice is left to the user.
 */
import type { Note } from "../errors.ts";
import type { NumberColumn, RawColumn, RawLayer } from "../ingest/layer.ts";
import { NoteBook } from "../ingest/note-book.ts";
import { type ChosenColumns, type ColumnGroup, chosenColumns, groupColumns } from "./column-groups.ts";
import { type CleanColumn, type ColumnSummary, cleanColumn, summarise } from "./column-summary.ts";
import { textAt } from "./column-text.ts";
import type { Recognition } from "./field.ts";
import type { ColumnChoice } from "./manifest-schema.ts";
import { scoreName } from "./name-score.ts";
import { type OpenChoice, openColumnChoice, openDayOrderChoice, openUnitChoice } from "./open-choice.ts";
import { type DayOrder, joinDateAndTime, readTimes, type TimeReading } from "./times.ts";
import { chooseUnits, tidy, type UnitHints, type UnitQuestion } from "./unit-choice.ts";
import { splitUnit } from "./unit-suffix.ts";
import { TYPICAL_POPULATION, type VariableDescription } from "./variable-catalogue.ts";

/** One variable found in a layer. */
export interface FoundVariable {
  variable: string;
  description: VariableDescription;
  group: ColumnGroup;
  /** Values of each number column of the group, in the file's unit, marks for "no value" as NaN. Empty for text. */
  numbers: Float64Array[];
  /** The reading of a time. */
  time: TimeReading | null;
  /** Unit the values are in; "1" for numbers without one. */
  unit: string;
  confidence: number;
  reason: string;
  source: "set" | "sensed" | "dug" | null;
}

export interface RecognitionResult {
  found: Map<string, FoundVariable>;
  /** What was recognised, in the order of the catalogue. */
  recognised: Recognition[];
  /** Names of the columns that mean nothing to the job. */
  unrecognised: string[];
  notes: Note[];
  /** What the user has to decide; empty when all is clear. */
  open: OpenChoice[];
}

export interface RecogniseOptions {
  /** Key of the layer in the manifest. */
  role: string;
  choices?: Readonly<Record<string, ColumnChoice | undefined>>;
  /** Row units of the bar, null where not known. */
  rowUnits?: number | null;
  hints?: Partial<UnitHints>;
}

/** Names scoring less are not taken. */
const LEAST_SCORE = 0.6;
/** Two columns whose scores differ by less fit about equally. */
const ABOUT_EQUAL = 0.1;

const NO_HINTS: UnitHints = { expected: {}, stepMetres: null, crop: "corn" };

/**
 * Recognises the columns of a layer.
 * @throws {ManifestError} when the manifest names a column the file does not have.
 */
export function recogniseColumns(
  layer: RawLayer,
  catalogue: Readonly<Record<string, VariableDescription>>,
  options: RecogniseOptions,
): RecognitionResult {
  return new Recogniser(layer, catalogue, options).run();
}

interface Candidate {
  group: ColumnGroup;
  score: number;
  sensed: boolean;
}

class Recogniser {
  readonly #layer: RawLayer;
  readonly #catalogue: Readonly<Record<string, VariableDescription>>;
  readonly #options: RecogniseOptions;
  readonly #hints: UnitHints;
  readonly #notes = new NoteBook();
  readonly #open: OpenChoice[] = [];
  readonly #found = new Map<string, FoundVariable>();
  readonly #unitGiven = new Map<string, string>();
  readonly #cleaned = new Map<NumberColumn, CleanColumn>();

  constructor(
    layer: RawLayer,
    catalogue: Readonly<Record<string, VariableDescription>>,
    options: RecogniseOptions,
  ) {
    this.#layer = layer;
    this.#options = options;
    this.#hints = { ...NO_HINTS, ...options.hints };
    const typical = TYPICAL_POPULATION[this.#hints.crop];
    this.#catalogue = Object.fromEntries(
      Object.entries(catalogue).map(([name, description]) => [
        name,
        description.insideUnit === "seeds/ha" ? { ...description, typical } : description,
      ]),
    );
  }

  run(): RecognitionResult {
    const chosen = this.#readChoices();
    const claims = this.#claims(chosen);
    for (const [variable, description] of Object.entries(this.#catalogue)) {
      const choice = chosen.get(variable);
      if (choice === null) continue;
      if (choice) this.#takeChosen(variable, description, choice);
      else this.#takeBest(variable, description, claims.get(variable) ?? []);
    }
    this.#decideUnits();
    return this.#result();
  }

  #readChoices(): Map<string, ChosenColumns | null> {
    const chosen = new Map<string, ChosenColumns | null>();
    for (const [variable, choice] of Object.entries(this.#options.choices ?? {})) {
      if (choice === undefined) continue;
      chosen.set(variable, chosenColumns(this.#layer, choice, `${this.#options.role}.columns.${variable}`));
    }
    return chosen;
  }

  /** Every column claims the one variable its name fits best. */
  #claims(chosen: ReadonlyMap<string, ChosenColumns | null>): Map<string, Candidate[]> {
    const taken = new Set([...chosen.values()].flatMap((choice) => choice?.group.columns ?? []));
    const claims = new Map<string, Candidate[]>();
    for (const group of groupColumns(this.#layer, this.#options.rowUnits ?? null)) {
      if (group.columns.some((column) => taken.has(column))) continue;
      const wide = group.columns.length > 1;
      let best: (Candidate & { variable: string }) | null = null;
      for (const [variable, description] of Object.entries(this.#catalogue)) {
        const { score, sensed } = scoreName(
          group.stem,
          description,
          wide ? group.stem : group.columns[0]!.name,
          wide,
        );
        if (score >= LEAST_SCORE && score > (best?.score ?? 0)) best = { variable, group, score, sensed };
      }
      if (best === null || chosen.get(best.variable) === null) continue;
      claims.set(best.variable, [...(claims.get(best.variable) ?? []), best]);
    }
    return claims;
  }

  #clean(column: NumberColumn): CleanColumn {
    const known = this.#cleaned.get(column);
    if (known) return known;
    const cleaned = cleanColumn(column.values);
    this.#cleaned.set(column, cleaned);
    return cleaned;
  }

  #summaryOf(group: ColumnGroup): ColumnSummary {
    const columns = group.columns.filter((column) => column.kind === "number");
    if (columns.length === 1) return this.#clean(columns[0]!).summary;
    const all = columns.map((column) => this.#clean(column).values);
    const joined = new Float64Array(all.reduce((total, values) => total + values.length, 0));
    let place = 0;
    for (const values of all) {
      joined.set(values, place);
      place += values.length;
    }
    return summarise(joined);
  }

  #takeChosen(variable: string, description: VariableDescription, choice: ChosenColumns): void {
    const unitIsOrder = choice.unit === "m/d/y" || choice.unit === "d/m/y";
    const why = this.#unusable(
      description,
      choice.group,
      unitIsOrder ? (choice.unit as DayOrder) : null,
      true,
    );
    if (why !== null) {
      this.#notes.add({
        reason: `${why}; not used as ${variable}`,
        effect: "left out",
        field: choice.group.label,
      });
      return;
    }
    if (choice.unit !== null && !unitIsOrder) this.#unitGiven.set(variable, choice.unit);
    this.#keep(
      variable,
      description,
      choice.group,
      1,
      "named in the manifest",
      choice.source,
      unitIsOrder ? (choice.unit as DayOrder) : null,
    );
  }

  #takeBest(variable: string, description: VariableDescription, candidates: readonly Candidate[]): void {
    if (description.kind === "time") {
      this.#takeTime(variable, description, candidates);
      return;
    }
    const usable: Candidate[] = [];
    for (const candidate of candidates) {
      const why = this.#unusable(description, candidate.group, null, false);
      if (why === null) usable.push(candidate);
      else
        this.#notes.add({
          reason: `${why}; not used as ${variable}`,
          effect: "left out",
          field: candidate.group.label,
        });
    }
    usable.sort((a, b) => b.score - a.score);
    const best = usable[0];
    if (!best) return;
    const rivals = usable.slice(1).filter((one) => best.score - one.score < ABOUT_EQUAL);
    const alike = description.kind === "label" ? samePartition : sameValues;
    const different = rivals.filter((one) => !alike(one.group, best.group));
    if (different.length > 0) {
      this.#open.push(
        openColumnChoice(this.#options.role, variable, [best.group, ...different.map((one) => one.group)]),
      );
      return;
    }
    for (const twin of rivals) {
      this.#notes.add({
        reason: `tells the records apart just as "${best.group.label}" does, which is used as ${variable}`,
        effect: "left out",
        field: twin.group.label,
      });
    }
    const wide =
      best.group.columns.length > 1 ? `, ${best.group.columns.length} columns: one per row unit` : "";
    this.#keep(
      variable,
      description,
      best.group,
      best.score,
      `the name fits ${variable}${wide}`,
      best.sensed ? "sensed" : null,
      null,
    );
  }

  #takeTime(variable: string, description: VariableDescription, candidates: readonly Candidate[]): void {
    const readings: { candidate: Candidate; reading: TimeReading }[] = [];
    for (const candidate of candidates) {
      const result = readTimes(candidate.group.columns[0]!);
      if (result === null) {
        this.#notes.add({
          reason: `cannot be read as dates or times (ISO times, seconds since 1970 or YYYYMMDD would be); not used as ${variable}`,
          effect: "left out",
          field: candidate.group.label,
        });
      } else if ("ambiguousDayOrder" in result) {
        this.#open.push(
          openDayOrderChoice(this.#options.role, variable, candidate.group, result.ambiguousDayOrder),
        );
        return;
      } else readings.push({ candidate, reading: result.reading });
    }
    const of = (resolution: TimeReading["resolution"]) =>
      readings.filter((one) => one.reading.resolution === resolution);
    const clock = of("clock")[0];
    const date = of("date")[0];
    const timeOfDay = of("time-of-day")[0];
    const seconds = of("seconds")[0];
    if (!clock && date && timeOfDay) {
      const reading = joinDateAndTime(date.reading, timeOfDay.reading);
      const columns = [...date.candidate.group.columns, ...timeOfDay.candidate.group.columns];
      const group = {
        columns,
        label: `${date.candidate.group.label} + ${timeOfDay.candidate.group.label}`,
        stem: variable,
      };
      this.#found.set(
        variable,
        this.#foundTime(variable, description, group, 0.9, "the names fit a date and a time of day", reading),
      );
      return;
    }
    const best = clock ?? seconds ?? date ?? timeOfDay;
    if (!best) return;
    const { group, score } = best.candidate;
    this.#found.set(
      variable,
      this.#foundTime(variable, description, group, score, `the name fits ${variable}`, best.reading),
    );
  }

  #foundTime(
    variable: string,
    description: VariableDescription,
    group: ColumnGroup,
    confidence: number,
    why: string,
    time: TimeReading,
  ): FoundVariable {
    if (time.unread) {
      this.#notes.add({
        reason: "cannot be read as a date or time; the value is left out",
        effect: "left out",
        field: group.label,
        record: time.unread.firstRecord,
        value: time.unread.value,
        count: time.unread.count,
      });
    }
    const reason = `${why}; ${time.reason}`;
    return { variable, description, group, numbers: [], time, unit: "s", confidence, reason, source: null };
  }

  /** Why a group cannot be the variable, null where it can. */
  #unusable(
    description: VariableDescription,
    group: ColumnGroup,
    order: DayOrder | null,
    chosen: boolean,
  ): string | null {
    const { kind } = description;
    if (kind === "label" || kind === "list" || kind === "category") return null;
    if (kind === "time")
      return readTimes(group.columns[0]!, order) === null ? "cannot be read as dates or times" : null;
    const text = group.columns.find((column) => column.kind === "text");
    if (kind === "flag") return text || this.#isFlag(group) ? null : "is not 0 or 1 throughout";
    if (text) return `is text where numbers are expected (first value "${text.labels[0] ?? ""}")`;
    const summary = this.#summaryOf(group);
    if (summary.count === 0) return "has no values";
    if (chosen) return null;
    if (description.zeroMeansAbsent && summary.minimum === 0 && summary.maximum === 0) {
      return "is zero throughout, as from a sensor that is not there";
    }
    if (kind === "number" && description.possible) {
      const [low, high] = description.possible;
      if (summary.p5 < low || summary.p95 > high) {
        return `its values (${tidy(summary.minimum)} to ${tidy(summary.maximum)}) are not within ${low} to ${high}`;
      }
    }
    return null;
  }

  #isFlag(group: ColumnGroup): boolean {
    const { minimum, maximum, distinct } = this.#summaryOf(group);
    return distinct <= 2 && minimum >= 0 && maximum <= 1;
  }

  #keep(
    variable: string,
    description: VariableDescription,
    group: ColumnGroup,
    confidence: number,
    reason: string,
    source: FoundVariable["source"],
    order: DayOrder | null,
  ): void {
    if (description.kind === "time") {
      const result = readTimes(group.columns[0]!, order);
      if (result && "reading" in result) {
        this.#found.set(
          variable,
          this.#foundTime(variable, description, group, confidence, reason, result.reading),
        );
      } else if (result) {
        this.#open.push(openDayOrderChoice(this.#options.role, variable, group, result.ambiguousDayOrder));
      }
      return;
    }
    const numbers: Float64Array[] = [];
    for (const column of group.columns) {
      if (column.kind !== "number") continue;
      const cleaned = this.#clean(column);
      numbers.push(cleaned.values);
      for (const mark of cleaned.marks) {
        this.#notes.add({
          reason: `${mark.value} stands for "no value" here: far from all other values of the column; taken as missing`,
          effect: "left out",
          field: column.name,
          record: mark.firstRecord,
          value: String(mark.value),
          count: mark.count,
        });
      }
    }
    this.#found.set(variable, {
      variable,
      description,
      group,
      numbers,
      time: null,
      unit: "1",
      confidence,
      reason,
      source,
    });
  }

  #decideUnits(): void {
    const questions = new Map<string, UnitQuestion>();
    for (const [variable, found] of this.#found) {
      if (found.description.kind !== "quantity") continue;
      questions.set(variable, {
        variable,
        description: found.description,
        split: splitUnit(found.group.stem),
        summary: this.#summaryOf(found.group),
        given: this.#unitGiven.get(variable) ?? null,
      });
    }
    for (const [variable, answer] of chooseUnits(questions, this.#hints)) {
      const found = this.#found.get(variable)!;
      if ("unit" in answer) {
        found.unit = answer.unit;
        found.confidence *= answer.confidence;
        found.reason = `${found.reason}; ${answer.reason}`;
        if (answer.note) this.#notes.add({ reason: answer.note, effect: "kept", field: found.group.label });
        continue;
      }
      this.#found.delete(variable);
      if (answer.choices.length > 0) {
        this.#open.push(
          openUnitChoice(this.#options.role, variable, found.group, answer.choices, answer.reason),
        );
      } else {
        this.#notes.add({
          reason: `is named like ${variable}, but ${answer.reason}; not used`,
          effect: "left out",
          field: found.group.label,
        });
      }
    }
  }

  #result(): RecognitionResult {
    const recognised: Recognition[] = [];
    const used = new Set<RawColumn>();
    for (const variable of Object.keys(this.#catalogue)) {
      const found = this.#found.get(variable);
      if (!found) continue;
      for (const column of found.group.columns) used.add(column);
      recognised.push({
        variable,
        column: found.group.label,
        unit: found.unit,
        confidence: Math.round(found.confidence * 100) / 100,
        reason: found.reason,
      });
    }
    const unrecognised = this.#layer.columns
      .filter((column) => !used.has(column))
      .map((column) => column.name);
    return { found: this.#found, recognised, unrecognised, notes: this.#notes.notes(), open: this.#open };
  }
}

/** True where two labels name the same groups of records. */
function samePartition(first: ColumnGroup, second: ColumnGroup): boolean {
  const [one, other] = [first.columns[0]!, second.columns[0]!];
  const count = one.kind === "text" ? one.codes.length : one.values.length;
  const forth = new Map<string | null, string | null>();
  const back = new Map<string | null, string | null>();
  for (let record = 0; record < count; record++) {
    const [a, b] = [textAt(one, record), textAt(other, record)];
    if (!forth.has(a)) forth.set(a, b);
    if (!back.has(b)) back.set(b, a);
    if (forth.get(a) !== b || back.get(b) !== a) return false;
  }
  return true;
}

function sameValues(first: ColumnGroup, second: ColumnGroup): boolean {
  if (first.columns.length !== second.columns.length) return false;
  return first.columns.every((column, index) => sameColumn(column, second.columns[index]!));
}

function sameColumn(first: RawColumn, second: RawColumn): boolean {
  if (first.kind === "number" && second.kind === "number") {
    return first.values.every((value, index) => Object.is(value, second.values[index]));
  }
  if (first.kind === "text" && second.kind === "text") {
    const text = (column: typeof first, index: number) => column.labels[column.codes[index]!];
    return first.codes.every((_, index) => text(first, index) === text(second, index));
  }
  return false;
}
