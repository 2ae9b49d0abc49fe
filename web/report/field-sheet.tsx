/** A sheet to take along: where to dig or count, and what to write down there. */
import { labelPoint } from "../model/geometry.ts";
import * as state from "../model/state.ts";

const COLUMNS = ["Row unit", "Seed depth", "Sidewall smear", "Furrow", "Moisture", "Seed"] as const;
const HINTS = [
  "",
  "",
  "none / some / heavy",
  "closed / open / residue",
  "dry / fit / damp",
  "fine / swollen / rotted / leafed out / hollow / none",
];
/** Empty lines a place. */
const LINES = 3;

export function FieldSheet() {
  const places = state.findings.value;
  if (places.length === 0) return null;
  return (
    <section class="field-sheet" aria-labelledby="sheet-title">
      <h2 id="sheet-title">Field sheet</h2>
      <p class="small">
        Dig across the row down to the seed; measure from the seed to the surface as the planter left it.
        Treated seed: gloves on, and follow the product's label. Stay clear of a raised planter that is not
        blocked.
      </p>
      {places.map(({ number, finding }) => {
        const place = labelPoint(finding.where.geometry);
        return (
          <table key={finding.id}>
            <caption>
              {number} {finding.words.title}, {finding.words.place}
              {place && (
                <span class="small">
                  {" "}
                  near {place[1].toFixed(5)}, {place[0].toFixed(5)}
                </span>
              )}
              {finding.words.check && <span class="sheet-check">{finding.words.check}</span>}
            </caption>
            <thead>
              <tr>
                {COLUMNS.map((column, i) => (
                  <th key={column} scope="col">
                    {column}
                    <span class="small"> {HINTS[i]}</span>
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {Array.from({ length: LINES }, (_, line) => (
                <tr key={line} class="blank">
                  {COLUMNS.map((column) => (
                    <td key={column} />
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        );
      })}
    </section>
  );
}
