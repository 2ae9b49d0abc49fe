/** The row units side by side: for each variable one dot a row unit with its interval, the ordinary spread behind, the suspicious one labelled. */
import { useState } from "preact/hooks";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { shownValue, unitLabel } from "../../src/quantities/format.ts";
import { Origin } from "../controls/origin.tsx";
import { roundTicks, scaleLinear } from "../furrow/scales.ts";
import * as state from "../model/state.ts";
import { formatPercent, groupThousands } from "../words/format.ts";
import { widened } from "../words/smallest-span.ts";
import { texts } from "../words/texts/texts.ts";
import { targetOf, VARIABLES } from "../words/variables.ts";
import {
  BAND_SHARE,
  chartSaid,
  endsOf,
  oddUnits,
  ordinaryBand,
  unitSaid,
  unitShort,
} from "./row-unit-figures.ts";

const WIDTH = 360;
const HEIGHT = 170;
const LEFT = 46;
const RIGHT = 8;
const TOP = 12;
const BOTTOM = 24;

/** Where each key leads from a place in the rows. */
const PLACES: Readonly<Record<string, (from: number, last: number) => number>> = {
  ArrowLeft: (from) => from - 1,
  ArrowDown: (from) => from - 1,
  ArrowRight: (from) => from + 1,
  ArrowUp: (from) => from + 1,
  Home: () => 0,
  End: (_, last) => last,
};

export function RowUnitCharts() {
  const rows = (state.findingsDocument.value?.comparison ?? []).filter(
    (row) => row.rowUnit !== null && row.pass === null && row.soilZone === null,
  );
  const variables = [...new Set(rows.map((row) => row.variable))];
  if (variables.length === 0) {
    return <p class="none">{texts.value.tables.noRows}</p>;
  }
  return (
    <div class="row-units">
      <p class="small">
        Mean of each row unit, with the <Origin of="difference">interval of its difference</Origin> to the
        others at the same moments; row unit 1 is the leftmost in the direction of travel. Shaded: the{" "}
        <Origin of="ordinarySpread">ordinary spread</Origin>, where the middle {formatPercent(BAND_SHARE)} of
        the row units without a purple mark lie, so that about one sound unit in ten lies outside it.
        {hasRowUnits() && " A click or Enter shows a row unit alone on the map."}
      </p>
      {variables.map((variable) => (
        <RowUnitChart
          key={variable}
          variable={variable}
          rows={rows.filter((row) => row.variable === variable).sort((a, b) => a.rowUnit! - b.rowUnit!)}
        />
      ))}
    </div>
  );
}

function RowUnitChart({ variable, rows }: { variable: ComparisonRow["variable"]; rows: ComparisonRow[] }) {
  const words = VARIABLES[variable];
  const system = state.unitSystem.value;
  const label = unitLabel(words.kind, system);
  const on = (value: number) => shownValue(value, words.kind, system);
  const ends = rows.map((row) => endsOf(row).map(on) as [number, number]);
  const means = rows.map((row) => on(row.mean));
  const inside = rows.flatMap((row) => [row.mean, ...endsOf(row)]);
  // An axis of a hair's breadth would show noise as news.
  const [low, high] = widened(Math.min(...inside), Math.max(...inside), words.kind).map(on) as [
    number,
    number,
  ];
  const pad = (high - low || Math.abs(high) || 1) * 0.08;
  const y = scaleLinear([low - pad, high + pad], [HEIGHT - BOTTOM, TOP]);
  const units = Math.max(...rows.map((row) => row.rowUnit!));
  const x = scaleLinear([0.5, units + 0.5], [LEFT, WIDTH - RIGHT]);
  const named = new Set(state.findings.value.flatMap(({ finding }) => finding.where.rowUnits));
  const odd = oddUnits(rows, named);
  const band = ordinaryBand(rows, odd)?.map(on);
  // The place in the rows that is read out; null while the chart is neither pointed at nor in focus.
  const [at, setAt] = useState<number | null>(null);
  const read = (place: number) => {
    const index = Math.min(Math.max(place, 0), rows.length - 1);
    setAt(index);
    state.readout.value = unitSaid(rows[index]!, system);
  };
  const leave = () => {
    setAt(null);
    state.readout.value = "";
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const from = at ?? 0;
    const to = PLACES[event.key]?.(from, rows.length - 1);
    if (to !== undefined) read(to);
    else if (event.key === "Enter" || event.key === " ") choose(rows[from]!);
    else return;
    event.preventDefault();
  };
  const placeUnder = (event: MouseEvent) => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    const wanted = ((event.clientX - box.left) / box.width) * WIDTH;
    const away = rows.map((row) => Math.abs(x(row.rowUnit!) - wanted));
    return away.indexOf(Math.min(...away));
  };
  const current = at === null ? null : rows[at]!;
  const target = state.layers.value ? targetOf(variable, state.layers.value.targets) : null;
  const lines = (target === null ? [] : [target].flat())
    .map(on)
    .filter((at) => at > low - pad && at < high + pad);
  return (
    <figure>
      <figcaption>
        <strong>{words.title}</strong>, {label}
        <span class="reading small">{current && unitShort(current, system)}</span>
      </figcaption>
      <div
        class={`unit-slider${hasRowUnits() ? " on-map" : ""}`}
        role="slider"
        tabIndex={0}
        aria-label={chartSaid(words.title, rows, odd, system)}
        aria-valuemin={rows[0]!.rowUnit!}
        aria-valuemax={units}
        aria-valuenow={rows[at ?? 0]!.rowUnit!}
        aria-valuetext={unitSaid(rows[at ?? 0]!, system)}
        onFocus={() => read(at ?? 0)}
        onBlur={leave}
        onKeyDown={onKeyDown}
        onMouseMove={(event) => read(placeUnder(event))}
        onMouseLeave={leave}
        onClick={(event) => choose(rows[placeUnder(event)]!)}
      >
        <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
          {band && (
            <rect
              x={LEFT}
              y={y(band[1]!)}
              width={WIDTH - RIGHT - LEFT}
              height={Math.max(y(band[0]!) - y(band[1]!), 1)}
              class="unit-band"
            />
          )}
          {[current?.rowUnit, state.filter.value.rowUnit].map(
            (unit, i) =>
              unit != null && (
                <path
                  key={i}
                  d={`M${x(unit)} ${TOP}V${HEIGHT - BOTTOM}`}
                  class={i === 0 ? "unit-read" : "unit-on-map"}
                />
              ),
          )}
          {roundTicks(low - pad, high + pad, 4).map((tick) => (
            <g key={tick}>
              <path d={`M${LEFT} ${y(tick)}H${WIDTH - RIGHT}`} class="furrow-grid" />
              <text x={LEFT - 6} y={y(tick) + 4} class="furrow-label end">
                {groupThousands(tick.toFixed(tickDecimals(high - low + 2 * pad)))}
              </text>
            </g>
          ))}
          {lines.map((at) => (
            <path key={at} d={`M${LEFT} ${y(at)}H${WIDTH - RIGHT}`} class="furrow-target" />
          ))}
          {rows.map((row, i) => {
            const isOdd = odd.has(row.rowUnit!);
            return (
              <g key={row.rowUnit} class={isOdd ? "unit named" : "unit"}>
                <path d={`M${x(row.rowUnit!)} ${y(ends[i]![0])}V${y(ends[i]![1])}`} />
                <circle cx={x(row.rowUnit!)} cy={y(means[i]!)} r={isOdd ? 4.5 : 3} />
                {(isOdd ||
                  (isRound(row.rowUnit!) && !odd.has(row.rowUnit! - 1) && !odd.has(row.rowUnit! + 1))) && (
                  <text
                    x={x(row.rowUnit!)}
                    y={HEIGHT - 7}
                    class={`furrow-label middle${isOdd ? " strong" : ""}`}
                  >
                    {row.rowUnit}
                  </text>
                )}
              </g>
            );
          })}
        </svg>
      </div>
    </figure>
  );
}

function isRound(rowUnit: number): boolean {
  return rowUnit === 1 || rowUnit % 6 === 0;
}

function tickDecimals(span: number): number {
  return span >= 10 ? 0 : span >= 1 ? 1 : 2;
}

/** Shows the row unit alone on the map, where the map knows row units. */
function choose({ rowUnit, variable }: ComparisonRow): void {
  if (hasRowUnits() && rowUnit !== null) state.showRowUnit(rowUnit, variable);
}

function hasRowUnits(): boolean {
  return (state.filterChoices.value?.rowUnits.length ?? 0) > 1;
}
