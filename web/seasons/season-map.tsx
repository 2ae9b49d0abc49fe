/** The map of the other season beside the first. */
import { useEffect, useRef } from "preact/hooks";
import { type MapPart, startMap } from "../map/start-map.ts";
import { NorthSign } from "../map/tools/map-tools.tsx";
import { otherSeason, seasonName } from "../model/other-season.ts";
import { followSeason } from "./follow-season.ts";
import { SeasonLegend } from "./season-legend.tsx";

const PART: MapPart = {
  title: "Field map of the other season",
  hook: "evenstandSeasonMap",
  listens: false,
  follow: followSeason,
};

export function SeasonMap() {
  const host = useRef<HTMLDivElement>(null);
  const picture = useRef<HTMLImageElement>(null);
  useEffect(() => {
    if (!host.current || !picture.current) return undefined;
    try {
      return startMap(host.current, picture.current, PART);
    } catch {
      // No WebGL 2 here; the first map says so, and the figures do without it.
      return undefined;
    }
  }, []);
  const season = otherSeason.value;
  return (
    <section
      class="map-pane"
      aria-label={`Map of ${season ? seasonName(season.document) : "another season"}`}
    >
      <SeasonLegend />
      <div class="map-frame">
        <div class="map-host" ref={host} />
        <img class="map-print" ref={picture} alt="The map of the other season as shown on the screen" />
        <NorthSign />
      </div>
    </section>
  );
}
