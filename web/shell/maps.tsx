/** The map, and beside it on demand a second one, of another variable or another season, that moves with it. */
import { MapView } from "../map/map-view.tsx";
import { otherSeason } from "../model/other-season.ts";
import * as state from "../model/state.ts";
import { SeasonMap } from "../seasons/season-map.tsx";

/** @param signsOpen the signs explained without a click, as on paper. */
export function Maps({ signsOpen = false }: { signsOpen?: boolean }) {
  const season = otherSeason.value !== null;
  const two = state.beside.value !== null;
  return (
    <div class={two || season ? "maps two" : "maps"}>
      <MapView signsOpen={signsOpen} />
      {two && <MapView second={true} />}
      {season && <SeasonMap />}
    </div>
  );
}
