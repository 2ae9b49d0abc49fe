/** The stand counts and digs as lists; a button shows each one on the map, so that no number needs a pointer. */
import { Origin } from "../controls/origin.tsx";
import { countsShown } from "../map/counts-shown.ts";
import { usualStand } from "../map/map-data.ts";
import * as state from "../model/state.ts";
import { formatBare, formatKnown, formatPercent, formatShareEstimate } from "../words/format.ts";
import { countReadout, digReadout } from "../words/readout.ts";
import { texts } from "../words/texts/texts.ts";

export function CountsTable() {
  const layers = state.layers.value;
  if (!layers) return null;
  const system = state.unitSystem.value;
  const usual = usualStand(layers);
  const show = (coordinates: number[], said: string) => {
    state.shownPlace.value = [coordinates[0]!, coordinates[1]!];
    state.readout.value = said;
  };
  if (layers.counts.features.length + layers.digs.features.length === 0) {
    return <p class="none">{texts.value.tables.noCounts}</p>;
  }
  return (
    <div class="spots">
      {layers.countsInAll !== undefined && <p class="small">{countsShown(layers)}</p>}
      <table>
        <caption>{texts.value.map.counts}</caption>
        <thead>
          <tr>
            <th scope="col">{texts.value.tables.spot}</th>
            <th scope="col" class="number">
              <Origin of="standCount">{texts.value.tables.standing}</Origin>
            </th>
            <th scope="col" class="number">
              {texts.value.tables.ninety}
            </th>
            <th scope="col" class="number">
              {texts.value.tables.cameUp}
            </th>
            <th scope="col" class="number">
              <Origin of="late">{texts.value.tables.late}</Origin>
            </th>
            <th scope="col">{texts.value.tables.counted}</th>
          </tr>
        </thead>
        <tbody>
          {layers.counts.features.map(({ properties, geometry }) => (
            <tr key={properties.spot}>
              <td>
                <button
                  type="button"
                  class="link"
                  aria-label={texts.value.tables.showCount(String(properties.spot))}
                  onClick={() => show(geometry.coordinates, countReadout(properties, usual, system))}
                >
                  {properties.spot}
                </button>
              </td>
              <td class="number">{formatKnown(properties.standPerHa, "plants", system)}</td>
              <td class="number">{formatBare(properties.standRange, "plants", system)}</td>
              <td class="number">
                {properties.emerged ? formatShareEstimate({ ...properties.emerged, level: 0.9 }) : ""}
              </td>
              <td class="number">
                {properties.lateShare === null ? "" : formatPercent(properties.lateShare)}
              </td>
              <td>
                {properties.rowUnit > 0 ? `${texts.value.map.partRowUnit(String(properties.rowUnit))} ` : ""}
                {properties.method ?? ""}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {layers.digs.features.length > 0 && (
        <table>
          <caption>{texts.value.map.digs}</caption>
          <thead>
            <tr>
              <th scope="col">{texts.value.tables.dig}</th>
              <th scope="col">{texts.value.tables.found}</th>
            </tr>
          </thead>
          <tbody>
            {layers.digs.features.map(({ properties, geometry }) => (
              <tr key={properties.dig}>
                <td>
                  <button
                    type="button"
                    class="link"
                    aria-label={texts.value.tables.showDig(String(properties.dig))}
                    onClick={() => show(geometry.coordinates, digReadout(properties, system))}
                  >
                    {properties.dig}
                  </button>
                </td>
                <td>{digReadout(properties, system)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </div>
  );
}
