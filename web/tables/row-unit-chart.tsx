/** The row units side by side: for each variable one dot a row unit with its interval, the suspicious one labelled. */
import type { ComparisonRow } from "../../src/compare/comparison.ts";
import {
  formatQuantity,
  groupThousands,
  shownValue,
  type UnitSystem,
  unitLabel,
} from "../../src/report/format.ts";
import * as state from "../app/state.ts";
import { roundTicks, scaleLinear } from "../furrow/scales.ts";
import { targetOf, VARIABLES } from "../words/variables.ts";

const WIDTH = 360;
const HEIGHT = 170;
const LEFT = 46;
const RIGHT = 8;
const TOP = 12;
const BOTTOM = 24;

export function RowUnitCharts() {
  const rows = (state.findingsDocument.value?.comparison ?? []).filter(
    (row) => row.rowUnit !== null && row.pass === null && row.soilZone === null,
  );
  const variables = [...new Set(rows.map((row) => row.variable))];
  if (variables.length === 0) {
    return <p class="none">The log has no row units to compare: it was recorded for the whole bar.</p>;
  }
  return (
    <div class="row-units">
      <p class="small">
        Mean of each row unit, with the interval of its difference to the others at the same moments; row unit
        1 is the leftmost in the direction of travel.
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
  const low = Math.min(...means, ...ends.map((end) => end[0]));
  const high = Math.max(...means, ...ends.map((end) => end[1]));
  const pad = (high - low || Math.abs(high) || 1) * 0.08;
  const y = scaleLinear([low - pad, high + pad], [HEIGHT - BOTTOM, TOP]);
  const units = Math.max(...rows.map((row) => row.rowUnit!));
  const x = scaleLinear([0.5, units + 0.5], [LEFT, WIDTH - RIGHT]);
  const odd = oddUnits(rows);
  const target = state.layers.value ? targetOf(variable, state.layers.value.targets) : null;
  const lines = (target === null ? [] : [target].flat())
    .map(on)
    .filter((at) => at > low - pad && at < high + pad);
  return (
    <figure>
      <figcaption>
        <strong>{words.title}</strong>, {label}
      </figcaption>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={chartSaid(words.title, rows, odd, system)}
      >
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
          const named = odd.has(row.rowUnit!);
          return (
            <g key={row.rowUnit} class={named ? "unit named" : "unit"}>
              <path d={`M${x(row.rowUnit!)} ${y(ends[i]![0])}V${y(ends[i]![1])}`} />
              <circle cx={x(row.rowUnit!)} cy={y(means[i]!)} r={named ? 4.5 : 3} />
              {(named ||
                (isRound(row.rowUnit!) && !odd.has(row.rowUnit! - 1) && !odd.has(row.rowUnit! + 1))) && (
                <text
                  x={x(row.rowUnit!)}
                  y={HEIGHT - 7}
                  class={`furrow-label middle${named ? " strong" : ""}`}
                >
                  {row.rowUnit}
                </text>
              )}
            </g>
          );
        })}
      </svg>
    </figure>
  );
}

function isRound(rowUnit: number): boolean {
  return rowUnit === 1 || rowUnit % 6 === 0;
}

/** Ends of the interval of the row unit's own mean: the interval of its difference moved to the mean. */
function endsOf(row: ComparisonRow): [number, number] {
  if (row.difference === null || row.low === null || row.high === null) return [row.mean, row.mean];
  return [row.mean + row.low - row.difference, row.mean + row.high - row.difference];
}

/**
 * Row units to label: those a finding names, and any that stand at least five usual distances from the middle
 * (median absolute difference; our judgement, for labels only).
 */
function oddUnits(rows: ComparisonRow[]): Set<number> {
  const named = new Set(state.findings.value.flatMap(({ finding }) => finding.where.rowUnits));
  const differences = rows.map((row) => Math.abs(row.difference ?? 0)).sort((a, b) => a - b);
  const usual = differences[Math.floor(differences.length / 2)] ?? 0;
  const odd = rows.filter((row) => {
    const away = Math.abs(row.difference ?? 0);
    return (usual > 0 && away > 5 * usual) || (named.has(row.rowUnit!) && away > 2.5 * usual);
  });
  return new Set(odd.map((row) => row.rowUnit!));
}

function tickDecimals(span: number): number {
  return span >= 10 ? 0 : span >= 1 ? 1 : 2;
}

function chartSaid(title: string, rows: ComparisonRow[], odd: Set<number>, system: UnitSystem): string {
  const { kind } = VARIABLES[rows[0]!.variable];
  const apart = rows
    .filter((row) => odd.has(row.rowUnit!))
    .map((row) => `row unit ${row.rowUnit} ${formatQuantity(row.mean, kind, system)}`);
  const sorted = rows.map((row) => row.mean).sort((a, b) => a - b);
  const middle = formatQuantity(sorted[Math.floor(sorted.length / 2)]!, kind, system);
  return `${title} of ${rows.length} row units; the middle one has ${middle}; ${apart.length > 0 ? `apart from the others: ${apart.join(", ")}` : "none stands apart"}`;
}
