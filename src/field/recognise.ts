/**
 * Which column is which variable, and in what unit: by the manifest, else by name, unit suffix, size of the values
 * and relation to other columns. Nothing is guessed silently: every guess has a reason, and where two columns or
 * two units fit about equally the choice is left to the user.
 */
import { ManifestError } from "../errors.ts";
import type { RawColumn, RawLayer } from "../ingest/layer.ts";
import { NoteBook } from "../ingest/note-book.ts";
import { TYPICAL_POPULATION } from "./catalogue-log.ts";
import { CleanedColumns } from "./cleaned-columns.ts";
import { type ChosenColumns, type ColumnGroup, chosenColumns, groupColumns } from "./column-groups.ts";
import type { Recognition } from "./field.ts";
import { scoreName } from "./name-score.ts";
import { type OpenChoice, openColumnChoice, openUnitChoice } from "./open-choice.ts";
import { pickTime, type TimeCandidate } from "./pick-time.ts";
import type { FoundVariable, RecogniseOptions, RecognitionResult } from "./recognition.ts";
import { recordNumber } from "./record-number.ts";
import { samePartition, sameValues } from "./same-columns.ts";
import type { DayOrder } from "./times.ts";
import { chooseUnits, type UnitHints, type UnitQuestion } from "./unit-choice.ts";
import { splitUnit, unitOfDimension } from "./unit-suffix.ts";
import { textAmongNumbers, whyUnusable } from "./usable-column.ts";
import type { VariableDescription } from "./variable-description.ts";

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
  readonly #columns = new CleanedColumns();

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

  /**
   * Takes the columns the manifest names.
   * @throws {ManifestError} for text where numbers are needed.
   */
  #takeChosen(
    variable: string,
    description: VariableDescription,
    { group, unit, source }: ChosenColumns,
  ): void {
    const order = unit === "m/d/y" || unit === "d/m/y" ? unit : null;
    if (description.kind === "time") {
      this.#takeTime(variable, description, [{ group, score: 1 }], "named in the manifest", order);
      return;
    }
    const text = textAmongNumbers(description, group);
    if (text !== null) {
      const field = `${this.#options.role}.columns.${variable}`;
      throw new ManifestError(
        `${field} names the column "${group.label}" of ${this.#layer.file}, which is text (first value "${text}"); a column of numbers is needed`,
        { file: this.#layer.file, field, value: text, accepted: "a column of numbers" },
      );
    }
    if (!this.#isUsable(variable, description, group, true)) return;
    if (unit !== null) this.#unitGiven.set(variable, unit);
    this.#keep(variable, description, group, 1, "named in the manifest", source);
  }

  #takeBest(variable: string, description: VariableDescription, candidates: readonly Candidate[]): void {
    if (description.kind === "time") {
      this.#takeTime(variable, description, candidates, readsAs(variable), null);
      return;
    }
    const usable = candidates.filter(({ group }) => this.#isUsable(variable, description, group, false));
    usable.sort((a, b) => b.score - a.score);
    const best = usable[0];
    if (!best) return;
    const rivals = usable.slice(1).filter((one) => best.score - one.score < ABOUT_EQUAL);
    const alike = description.kind === "label" ? samePartition : sameValues;
    const different = rivals.filter((one) => !alike(one.group, best.group));
    if (different.length > 0) {
      const groups = [best, ...different].map(({ group }) => group);
      this.#open.push(openColumnChoice(this.#options.role, variable, groups));
      return;
    }
    for (const twin of rivals) {
      this.#notes.add({
        reason: `tells the records apart just as "${best.group.label}" does, which is used as ${variable}`,
        effect: "left out",
        field: twin.group.label,
      });
    }
    const { group, score, sensed } = best;
    const wide = group.columns.length > 1 ? `, ${group.columns.length} columns: one per row unit` : "";
    const reason = `${readsAs(variable)}${wide}`;
    this.#keep(variable, description, group, score, reason, sensed ? "sensed" : null);
  }

  #isUsable(
    variable: string,
    description: VariableDescription,
    group: ColumnGroup,
    chosen: boolean,
  ): boolean {
    const why = whyUnusable(description, group, () => this.#columns.summaryOf(group), chosen);
    if (why !== null) {
      this.#notes.add({ reason: `${why}; not used as ${variable}`, effect: "left out", field: group.label });
    }
    return why === null;
  }

  #takeTime(
    variable: string,
    description: VariableDescription,
    candidates: readonly TimeCandidate[],
    why: string,
    order: DayOrder | null,
  ): void {
    const picked = pickTime(
      candidates,
      { role: this.#options.role, variable, order, layer: this.#layer },
      this.#notes,
    );
    if (picked === null) return;
    if ("open" in picked) {
      this.#open.push(picked.open);
      return;
    }
    const { group, reading: time, score: confidence } = picked;
    const reason = `${why}; ${time.reason}`;
    this.#found.set(variable, {
      variable,
      description,
      group,
      numbers: [],
      time,
      unit: "s",
      confidence,
      reason,
      source: null,
    });
  }

  #keep(
    variable: string,
    description: VariableDescription,
    group: ColumnGroup,
    confidence: number,
    reason: string,
    source: FoundVariable["source"],
  ): void {
    const numbers: Float64Array[] = [];
    for (const column of group.columns) {
      if (column.kind !== "number") continue;
      const { values, marks } = this.#columns.clean(column);
      numbers.push(values);
      for (const mark of marks) {
        this.#notes.add({
          reason: `${mark.value} stands for "no value" here: far from all other values of the column; taken as missing`,
          effect: "left out",
          field: column.name,
          record: recordNumber(this.#layer, mark.firstRecord - 1),
          value: String(mark.value),
          count: mark.count,
        });
      }
    }
    const time = null;
    this.#found.set(variable, {
      variable,
      description,
      group,
      numbers,
      time,
      unit: "1",
      confidence,
      reason,
      source,
    });
  }

  /** Lists are text, so that only the manifest or the name can tell their unit. */
  #decideListUnit(found: FoundVariable): void {
    const { variable, description, group } = found;
    const named = description.dimension && unitOfDimension(splitUnit(group.stem), description.dimension);
    const unit = this.#unitGiven.get(variable) ?? named;
    if (unit) {
      found.unit = unit;
      return;
    }
    this.#found.delete(variable);
    const reason = "neither the name nor the manifest gives it";
    this.#open.push(
      openUnitChoice(this.#options.role, variable, group, description.candidateUnits ?? [], reason),
    );
  }

  #decideUnits(): void {
    const questions = new Map<string, UnitQuestion>();
    for (const [variable, found] of this.#found) {
      if (found.description.kind === "list") this.#decideListUnit(found);
      if (found.description.kind !== "quantity") continue;
      questions.set(variable, {
        variable,
        description: found.description,
        split: splitUnit(found.group.stem),
        summary: this.#columns.summaryOf(found.group),
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

/** "targetPopulation" as a reason says it: the name reads as target population. */
function readsAs(variable: string): string {
  return `the name reads as ${variable.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}`;
}
