/** What depth and load change with, and the rows that depart from the bar, with and without harm. */
import type { FindingsDocument } from "../../src/findings/findings-document.ts";
import { type UnitSystem, unitLabel } from "../../src/quantities/format.ts";
import { runsOf } from "../../src/words/finding-words.ts";
import { formatNumber, formatPercent } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";
import { VARIABLES } from "../words/variables.ts";

export function Drivers({ document }: { document: FindingsDocument }) {
  const { drivers } = document.summary;
  if (drivers.length === 0) return null;
  return (
    <section aria-labelledby="drivers-title">
      <h3 id="drivers-title">{texts.value.money.drivers}</h3>
      <ul class="plain-list">
        {drivers.map(({ words }) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <p class="small">{texts.value.money.driversSaid}</p>
    </section>
  );
}

type Departure = FindingsDocument["summary"]["departingRows"][number];

export function Departures({ document, system }: { document: FindingsDocument; system: UnitSystem }) {
  const rows = document.summary.departingRows;
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="departures-title">
      <h3 id="departures-title">{texts.value.money.apart}</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">{texts.value.finding.rowUnits}</th>
            <th scope="col">{texts.value.money.what}</th>
            <th scope="col" class="number">
              {texts.value.money.apartBy}
            </th>
            <th scope="col">{texts.value.finding.passes}</th>
            <th scope="col">{texts.value.money.harm}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={`${row.variable} ${row.rowUnits.join()} ${row.passes[0]}`}>
              <th scope="row">
                {runsOf(row.rowUnits)}
                {row.set === "wheel-track" && texts.value.money.behindTracks}
                {row.set === "wing" && texts.value.money.aWing}
              </th>
              <td>{VARIABLES[row.variable].title}</td>
              <td class="number">{shiftSaid(row, system)}</td>
              <td>{runsOf(row.passes)}</td>
              <td>{row.inFinding ? texts.value.money.inLedger : texts.value.money.noHarm}</td>
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
