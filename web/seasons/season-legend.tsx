/** What the map of the other season shows, and the way back. */
import { closeOtherSeason, otherSeason, seasonName } from "../model/other-season.ts";
import * as state from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";
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
            ? texts.value.seasons.sameColours(VARIABLES[name].title)
            : texts.value.seasons.noFigures(VARIABLES[name].named)}
        </p>
      )}
      <button
        type="button"
        onClick={() => {
          state.dock.value = "seasons";
          state.phoneView.value = "dock";
        }}
      >
        {texts.value.seasons.both}
      </button>{" "}
      <button type="button" onClick={closeOtherSeason}>
        {texts.value.map.closeMap}
      </button>
    </div>
  );
}
