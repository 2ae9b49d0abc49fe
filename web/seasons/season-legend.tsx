/** What the map of the other season shows, and the way back. */
import { closeOtherSeason, otherSeason, seasonName } from "../model/other-season.ts";
import * as state from "../model/state.ts";
import { VARIABLES } from "../words/variables.ts";

export function SeasonLegend() {
  const season = otherSeason.value;
  if (!season) return null;
  const name = state.variable.value;
  const has = name !== null && season.ground.values[name]?.some((value) => !Number.isNaN(value));
  return (
    <div class="legend">
      <p class="season-name">
        <strong>{seasonName(season.document)}</strong> {season.document.field.name}
      </p>
      {name && (
        <p class="small">
          {has
            ? `${VARIABLES[name].title}, in the same colours as on the first map; means of 12 m.`
            : `This season has no figures of ${VARIABLES[name].named}.`}
        </p>
      )}
      <button
        type="button"
        onClick={() => {
          state.dock.value = "seasons";
          state.phoneView.value = "dock";
        }}
      >
        Both in figures
      </button>{" "}
      <button type="button" onClick={closeOtherSeason}>
        Close this map
      </button>
    </div>
  );
}
