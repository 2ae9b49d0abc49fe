/**
 * Passes down, soils across: the mean of one variable as colour and number. The arrow keys move from cell to
 * cell, Enter chooses the pass for the map and the furrow.
 */
import { useRef, useState } from "preact/hooks";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { type ColourScale, colourOf, scaleOf } from "../colours/colour-scale.ts";
import { cssColour, inkOn } from "../colours/palettes.ts";
import { Ramp } from "../map/tools/ramp.tsx";
import * as state from "../model/state.ts";
import { formatNumber, formatPercent, formatQuantity } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { VARIABLES } from "../words/variables.ts";
import { signed } from "./signed.ts";

interface Place {
  row: number;
  column: number;
}

const STEPS: Readonly<Record<string, Place>> = {
  ArrowUp: { row: -1, column: 0 },
  ArrowDown: { row: 1, column: 0 },
  ArrowLeft: { row: 0, column: -1 },
  ArrowRight: { row: 0, column: 1 },
};

export function HeatTable(props: { rows: readonly ComparisonRow[]; variable: ComparisonRow["variable"] }) {
  const { rows, variable } = props;
  const table = useRef<HTMLTableElement>(null);
  // The one cell the tab key reaches.
  const [reached, setReached] = useState<Place>({ row: 0, column: 0 });
  const layers = state.layers.value;
  if (!layers) return null;
  const passes = [...new Set(rows.map((row) => row.pass!))].sort((a, b) => a - b);
  const soils = layers.zoneNames.filter((name) => rows.some((row) => row.soilZone === name));
  const cells = new Map(rows.map((row) => [`${row.pass} ${row.soilZone}`, row]));
  const scale = scaleOf(
    variable,
    Float32Array.from(rows, (row) => row.mean),
    layers.targets,
  );
  const words = VARIABLES[variable];
  const at = {
    row: Math.min(reached.row, passes.length - 1),
    column: Math.min(reached.column, soils.length - 1),
  };
  const move = (place: Place) => {
    const row = Math.min(Math.max(place.row, 0), passes.length - 1);
    const column = Math.min(Math.max(place.column, 0), soils.length - 1);
    setReached({ row, column });
    table.current?.querySelector<HTMLElement>(`[data-place="${row} ${column}"]`)?.focus();
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const step = STEPS[event.key];
    if (step) move({ row: at.row + step.row, column: at.column + step.column });
    else if (event.key === "Home") move({ row: event.ctrlKey ? 0 : at.row, column: 0 });
    else if (event.key === "End") move({ row: event.ctrlKey ? passes.length : at.row, column: soils.length });
    else return;
    event.preventDefault();
  };
  return (
    <div class="heat">
      <Ramp variable={variable} scale={scale} />
      <table class="heat-table" ref={table}>
        <caption>{texts.value.tables.caption(words.title)}</caption>
        <thead>
          <tr>
            <th scope="col">{texts.value.map.pass}</th>
            {soils.map((soil) => (
              <th key={soil} scope="col">
                {soil}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {passes.map((pass, row) => (
            <tr key={pass} class={pass === state.selectedPass.value ? "chosen" : ""}>
              <th scope="row">{pass}</th>
              {soils.map((soil, column) => {
                const cell = cells.get(`${pass} ${soil}`);
                const said = cell ? cellSaid(cell) : texts.value.tables.noFigures(pass, soil);
                const read = () => {
                  state.readout.value = said;
                };
                return (
                  <td key={soil}>
                    <button
                      type="button"
                      class="heat-cell"
                      data-place={`${row} ${column}`}
                      aria-label={said}
                      tabIndex={row === at.row && column === at.column ? 0 : -1}
                      style={cell && cellStyle(cell, scale)}
                      onKeyDown={onKeyDown}
                      onFocus={() => {
                        setReached({ row, column });
                        read();
                      }}
                      onBlur={clearReadout}
                      onMouseEnter={read}
                      onMouseLeave={clearReadout}
                      onClick={() => choose(pass)}
                    >
                      {cell && formatNumber(cell.mean, words.kind, state.unitSystem.value)}
                    </button>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function choose(pass: number): void {
  state.selectedPass.value = pass;
}

function clearReadout(): void {
  state.readout.value = "";
}

function cellStyle(cell: ComparisonRow, scale: ColourScale): { background: string; color: string } {
  const rgb = colourOf(scale, cell.mean);
  return { background: cssColour(rgb), color: inkOn(rgb) };
}

/** "pass 12 in clay loam: seed depth 1.43 in, -0.50 against the other passes there (95 % interval ...)". */
function cellSaid(row: ComparisonRow): string {
  const { named, kind } = VARIABLES[row.variable];
  const system = state.unitSystem.value;
  const parts = [
    texts.value.tables.cell(
      String(row.pass),
      row.headland === true,
      String(row.soilZone),
      named,
      formatQuantity(row.mean, kind, system),
    ),
  ];
  if (row.difference !== null) {
    const interval =
      row.low === null || row.high === null
        ? ""
        : texts.value.tables.interval(
            formatPercent(row.level),
            signed(row.low, row.variable, system),
            signed(row.high, row.variable, system),
          );
    parts.push(texts.value.tables.againstPasses(signed(row.difference, row.variable, system), interval));
  }
  return parts.join(" · ");
}
