/**
 * Which column is which variable, and in what unit: by the manifest, else by name, unit suffix, size of the values
 * and relation to other columns. Nothing is guessed silently: every guess has a reason, and where two columns or
 * two units fit about equally the choice is left to the user.
 */
import { ManifestError, type OpenChoice } from "../errors.ts";
import type { RawColumn, RawLayer } from "../ingest/layer.ts";
import { NoteBook } from "../ingest/note-book.ts";
import { recordNumber } from "../ingest/record-number.ts";
import type { DayOrder } from "../ingest/values/times.ts";
import { TYPICAL_POPULATION } from "../vocabulary/catalogue-log.ts";
import type { Recognition } from "../vocabulary/field.ts";
import { readsAs } from "../vocabulary/reads-as.ts";
import type { VariableDescription } from "../vocabulary/variable-description.ts";
import { CleanedColumns } from "./cleaned-columns.ts";
import { bestClaim, claimVariables } from "./column-claims.ts";
import { type ChosenColumns, type ColumnGroup, chosenColumns } from "./column-groups.ts";
import { openColumnChoice, openUnitChoice } from "./open-choice.ts";
import { partNames } from "./part-of-bar.ts";
import { type Candidate, pickColumn } from "./pick-column.ts";
import { pickTime, type TimeCandidate } from "./pick-time.ts";
import type { FoundVariable, RecogniseOptions, RecognitionResult } from "./recognition.ts";
import { tieToTarget } from "./units/percent-of-target.ts";
import { ReadableGroups } from "./units/readable-groups.ts";
import { chooseUnits } from "./units/unit-choice.ts";
import { NO_HINTS, type UnitHints, type UnitQuestion } from "./units/unit-question.ts";
import { splitUnit, unitOfDimension } from "./units/unit-suffix.ts";
import { takeOutUnsure } from "./unsure.ts";
import { unusedReason } from "./unused-reason.ts";
import { isZero, textAmongNumbers, whyUnusable } from "./usable-column.ts";

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
  readonly #readable = new ReadableGroups();

  constructor(
    layer: RawLayer,
    catalogue: Readonly<Record<string, VariableDescription>>,
    options: RecogniseOptions,
  ) {
    this.#layer = layer;
    this.#options = options;
    this.#hints = { ...NO_HINTS, ...options.hints };
    const { crop, seedsPerKg } = this.#hints;
    const ofSeeds = {
      typical: TYPICAL_POPULATION[crop],
      ...(seedsPerKg === null ? {} : { seedsPerKg }),
    };
    this.#catalogue = Object.fromEntries(
      Object.entries(catalogue).map(([name, description]) => [
        name,
        description.insideUnit === "seeds/ha" ? { ...description, ...ofSeeds } : description,
      ]),
    );
  }

  run(): RecognitionResult {
    const chosen = this.#readChoices();
    const claims = claimVariables(this.#layer, this.#catalogue, this.#options, chosen);
    const targetColumn = bestClaim(chosen, claims, "targetPopulation")?.columns[0];
    const target = targetColumn?.kind === "number" ? this.#columns.clean(targetColumn).values : null;
    for (const [variable, description] of Object.entries(this.#catalogue)) {
      const choice = chosen.get(variable);
      if (choice === null) continue;
      if (choice) this.#takeChosen(variable, description, choice);
      else this.#takeBest(variable, description, claims.get(variable) ?? [], target);
    }
    this.#decideUnits();
    this.#open.push(
      ...takeOutUnsure(this.#found, this.#options.role, (group) => this.#readable.isWritten(group)),
    );
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

  /**
   * Takes the columns the manifest names.
   * @throws {ManifestError} for text where numbers are needed.
   */
  #takeChosen(
    variable: string,
    description: VariableDescription,
    { group: named, unit, source }: ChosenColumns,
  ): void {
    const group = this.#readable.read(named, description, unit);
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

  #takeBest(
    variable: string,
    description: VariableDescription,
    candidates: readonly Candidate[],
    targetValues: Float64Array | null,
  ): void {
    if (description.kind === "time") {
      this.#takeTime(variable, description, candidates, readsAs(variable), null);
      return;
    }
    const usable = candidates
      .map((one) => ({ ...one, group: this.#readable.read(one.group, description, null) }))
      .filter(({ group }) => this.#isUsable(variable, description, group, false));
    const pick = pickColumn(variable, description, usable, targetValues, (group) =>
      this.#hasUnit(group, description),
    );
    if (pick === null) return;
    if ("groups" in pick) {
      this.#open.push(openColumnChoice(this.#options.role, variable, pick.groups));
      return;
    }
    for (const { group, why } of pick.passedOver) {
      this.#notes.add({ reason: why, effect: "left out", field: group.label });
    }
    const { group, score, sensed } = pick.picked;
    const each = description.family === "sum" ? "to add up" : "one per row unit";
    const wide = group.columns.length > 1 ? `, ${group.columns.length} columns: ${each}` : "";
    const reason = `${readsAs(variable)}${wide}`;
    this.#keep(variable, description, group, score, reason, sensed ? "sensed" : null);
  }

  #hasUnit(group: ColumnGroup, { dimension }: VariableDescription): boolean {
    const named = dimension === undefined ? null : unitOfDimension(splitUnit(group.stem), dimension);
    return named !== null || this.#readable.unitInCells(group) !== null;
  }

  #isUsable(
    variable: string,
    description: VariableDescription,
    group: ColumnGroup,
    chosen: boolean,
  ): boolean {
    const summary = () => this.#columns.summaryOf(group);
    const isDeadCompass =
      variable === "heading" && !chosen && this.#hints.runsNorth === false && isZero(summary());
    const why = isDeadCompass
      ? "is zero throughout, while the positions do not run north"
      : whyUnusable(description, group, summary, chosen);
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
      { role: this.#options.role, variable, order, layer: this.#layer, year: this.#options.year ?? null },
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
    this.#readable.noteUnread(group, description, this.#notes, (record) => recordNumber(this.#layer, record));
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
        values: found.numbers[0] ?? new Float64Array(),
        given: this.#unitGiven.get(variable) ?? null,
        inCells: this.#readable.unitInCells(found.group),
      });
    }
    const way = this.#options.wayOver?.(this.#found.get("time")?.time ?? null, partNames(this.#found));
    for (const [variable, answer] of chooseUnits(questions, { ...this.#hints, ...way })) {
      const found = this.#found.get(variable)!;
      if ("unit" in answer) {
        found.unit = answer.unit;
        found.confidence *= answer.confidence;
        found.reason = `${found.reason}; ${answer.reason}`;
        if (answer.unit === "%" && found.description.percentOfTarget) {
          const { expected } = this.#hints;
          this.#notes.add(
            tieToTarget(this.#found, found, expected.population !== undefined, this.#layer.recordCount),
          );
        }
        if (answer.note) this.#notes.add({ reason: answer.note, effect: "kept", field: found.group.label });
        continue;
      }
      this.#found.delete(variable);
      if (answer.choices.length > 0 && !found.description.dispensable) {
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
      for (const column of this.#readable.columnsInFile(found.group)) used.add(column);
      recognised.push({
        variable,
        column: found.group.label,
        unit: found.unit,
        confidence: Math.round(found.confidence * 100) / 100,
        reason: found.reason,
      });
    }
    const notes = this.#notes.notes();
    const unused = this.#layer.columns.filter((column) => !used.has(column));
    return {
      found: this.#found,
      recognised,
      unrecognised: unused.map((column) => column.name),
      unusedReasons: unused.map((column) =>
        unusedReason(column, notes, this.#open, this.#layer.geometry === "point"),
      ),
      notes,
      open: this.#open,
    };
  }
}
