/** Which part of the planted ground the map shows, with a line that says so and the way back. */
import { runsOf } from "../../../src/words/finding-words.ts";
import * as state from "../../model/state.ts";
import { type Filter, isFiltered, NO_FILTER } from "../../protocol/ground-filter.ts";
import { formatNumber, formatQuantity, groupThousands } from "../../words/format.ts";
import { texts } from "../../words/texts/texts.ts";

export function FilterPanel() {
  const choices = state.filterChoices.value;
  const layers = state.layers.value;
  if (!choices || !layers) return null;
  const number = (value: number): [string, string] => [String(value), String(value)];
  const zone = (index: number): [string, string] => [String(index), layers.zoneNames[index] ?? ""];
  const day = (date: string): [string, string] => [date, date];
  const lists = [choices.passes, choices.rowUnits, choices.zones, choices.days, choices.speedBands];
  if (lists.every((list) => list.length < 2)) return null;
  return (
    <details class="legend-filter">
      <summary>{texts.value.map.onlyPart}</summary>
      <Choice name="pass" title={texts.value.map.pass} offered={choices.passes.map(number)} read={Number} />
      <Choice
        name="rowUnit"
        title={texts.value.map.rowUnit}
        offered={choices.rowUnits.map(number)}
        read={Number}
      />
      <Choice name="zone" title={texts.value.map.soil} offered={choices.zones.map(zone)} read={Number} />
      <Choice
        name="speedBand"
        title={texts.value.map.speed}
        offered={choices.speedBands.map((_, index) => [String(index), bandSaid(index)])}
        read={Number}
      />
      <Choice name="day" title={texts.value.map.day} offered={choices.days.map(day)} read={String} />
    </details>
  );
}

/** Says which part of the planted ground is shown, and gives the way back. */
export function ShownLine() {
  return (
    <div class="legend-shown">
      <p role="status">{shownSaid()}</p>
      {(isFiltered(state.filter.value) || state.isolated.value) && (
        <button
          type="button"
          onClick={() => {
            state.filter.value = NO_FILTER;
            state.isolates.value = false;
          }}
        >
          {texts.value.map.showAll}
        </button>
      )}
    </div>
  );
}

function Choice<Name extends keyof Filter>(props: {
  name: Name;
  title: string;
  /** Value and text of each choice. */
  offered: readonly [string, string][];
  read: (value: string) => Filter[Name];
}) {
  const { name, title, offered, read } = props;
  if (offered.length < 2) return null;
  return (
    <div class="filter-choice">
      <label for={`filter-${name}`}>{title}</label>
      <select
        id={`filter-${name}`}
        value={String(state.filter.value[name] ?? "")}
        onChange={(event) => {
          const chosen = event.currentTarget.value;
          state.filter.value = { ...state.filter.value, [name]: chosen === "" ? null : read(chosen) };
        }}
      >
        <option value="">{texts.value.map.all}</option>
        {offered.map(([value, text]) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </select>
    </div>
  );
}

/** "below 4.9 mph", "4.9 to 5.3 mph", "5.6 mph and more". */
function bandSaid(index: number): string {
  const band = state.filterChoices.value?.speedBands[index];
  if (!band) return "";
  const system = state.unitSystem.value;
  const [from, below] = band;
  if (from === -Infinity) return texts.value.map.below(formatQuantity(below, "speed", system));
  if (below === Infinity) return texts.value.map.andMore(formatQuantity(from, "speed", system));
  return texts.value.map.between(formatNumber(from, "speed", system), formatQuantity(below, "speed", system));
}

/** "Shown: row unit 7, clay loam: 1,204 of 98,431 records"; nothing where all is shown. */
export function shownSaid(): string {
  const filter = state.filter.value;
  const shown = state.shown.value;
  const ground = state.ground.value;
  if (!ground || !shown) return "";
  const parts: string[] = [];
  const isolated = state.isolated.value;
  if (isolated?.rowUnits) parts.push(texts.value.map.partRowUnit(runsOf([...isolated.rowUnits])));
  if (isolated?.passes) parts.push(texts.value.map.partPass(runsOf([...isolated.passes])));
  if (filter.pass !== null) parts.push(texts.value.map.partPass(String(filter.pass)));
  if (filter.rowUnit !== null) parts.push(texts.value.map.partRowUnit(String(filter.rowUnit)));
  if (filter.zone !== null) parts.push(state.layers.value?.zoneNames[filter.zone] ?? "");
  if (filter.speedBand !== null) parts.push(bandSaid(filter.speedBand));
  if (filter.day !== null) parts.push(texts.value.map.partDay(filter.day));
  const pieces = ground.pieces === "records" ? texts.value.map.records : texts.value.map.pieces;
  const [some, all] = [shown.count, ground.count].map((count) => groupThousands(String(count)));
  return shown.count === 0
    ? texts.value.map.nothingShown(parts.join(", "))
    : texts.value.map.shown(parts.join(", "), some!, all!, pieces);
}
