/** What depth and load change with, and the rows that depart from the bar, with and without harm. */
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { type UnitSystem, unitLabel } from "../../src/quantities/format.ts";
import { runsOf } from "../../src/words/finding-words.ts";
import { formatNumber, formatPercent } from "../words/format.ts";
import { VARIABLES } from "../words/variables.ts";

export function Drivers({ document }: { document: FindingsDocument }) {
  const { drivers } = document.summary;
  if (drivers.length === 0) return null;
  return (
    <section aria-labelledby="drivers-title">
      <h3 id="drivers-title">What depth and load change with</h3>
      <ul class="plain-list">
        {drivers.map(({ words }) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <p class="small">Within a soil zone, the other drivers held; whole passes are what is compared.</p>
    </section>
  );
}

type Departure = FindingsDocument["summary"]["departingRows"][number];

export function Departures({ document, system }: { document: FindingsDocument; system: UnitSystem }) {
  const rows = document.summary.departingRows;
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="departures-title">
      <h3 id="departures-title">Row units that stand apart from the bar</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">Row units</th>
            <th scope="col">What</th>
            <th scope="col" class="number">
              Apart by
            </th>
            <th scope="col">Passes</th>
            <th scope="col">Harm</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={`${row.variable} ${row.rowUnits.join()} ${row.passes[0]}`}>
              <th scope="row">
                {runsOf(row.rowUnits)}
                {row.set === "wheel-track" && " (behind tires or tracks)"}
                {row.set === "wing" && " (a wing)"}
              </th>
              <td>{VARIABLES[row.variable].title}</td>
              <td class="number">{shiftSaid(row, system)}</td>
              <td>{runsOf(row.passes)}</td>
              <td>{row.inFinding ? "in the ledger" : "none to be expected"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function shiftSaid({ unit, variable, shift }: Departure, system: UnitSystem): string {
  const sign = shift > 0 ? "+" : "";
  if (unit === "share") return `${sign}${formatPercent(shift, 1)}`;
  const { kind } = VARIABLES[variable];
  return `${sign}${formatNumber(shift, kind, system)} ${unitLabel(kind, system)}`;
}
