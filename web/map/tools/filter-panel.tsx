/** Which part of the planted ground the map shows, with a line that says so and the way back. */
import { runsOf } from "../../../src/words/finding-words.ts";
import * as state from "../../model/state.ts";
import { type Filter, isFiltered, NO_FILTER } from "../../protocol/ground-filter.ts";
import { formatNumber, formatQuantity, groupThousands } from "../../words/format.ts";

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
      <summary>Show only part</summary>
      <Choice name="pass" title="Pass" offered={choices.passes.map(number)} read={Number} />
      <Choice name="rowUnit" title="Row unit" offered={choices.rowUnits.map(number)} read={Number} />
      <Choice name="zone" title="Soil" offered={choices.zones.map(zone)} read={Number} />
      <Choice
        name="speedBand"
        title="Speed"
        offered={choices.speedBands.map((_, index) => [String(index), bandSaid(index)])}
        read={Number}
      />
      <Choice name="day" title="Day" offered={choices.days.map(day)} read={String} />
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
          Show all
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
        <option value="">all</option>
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
  if (from === -Infinity) return `below ${formatQuantity(below, "speed", system)}`;
  if (below === Infinity) return `${formatQuantity(from, "speed", system)} and more`;
  return `${formatNumber(from, "speed", system)} to ${formatQuantity(below, "speed", system)}`;
}

/** "Shown: row unit 7, clay loam: 1,204 of 98,431 records"; nothing where all is shown. */
export function shownSaid(): string {
  const filter = state.filter.value;
  const shown = state.shown.value;
  const ground = state.ground.value;
  if (!ground || !shown) return "";
  const parts: string[] = [];
  const isolated = state.isolated.value;
  if (isolated?.rowUnits) parts.push(`row unit ${runsOf([...isolated.rowUnits])}`);
  if (isolated?.passes) parts.push(`pass ${runsOf([...isolated.passes])}`);
  if (filter.pass !== null) parts.push(`pass ${filter.pass}`);
  if (filter.rowUnit !== null) parts.push(`row unit ${filter.rowUnit}`);
  if (filter.zone !== null) parts.push(state.layers.value?.zoneNames[filter.zone] ?? "");
  if (filter.speedBand !== null) parts.push(bandSaid(filter.speedBand));
  if (filter.day !== null) parts.push(`planted ${filter.day}`);
  const pieces = ground.pieces === "records" ? "records" : "pieces of about 12 m";
  const [some, all] = [shown.count, ground.count].map((count) => groupThousands(String(count)));
  return shown.count === 0
    ? `Nothing shown: no record is all of ${parts.join(", ")}.`
    : `Shown: ${parts.join(", ")}: ${some} of ${all} ${pieces}.`;
}
