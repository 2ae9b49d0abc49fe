/** What can be done with the map beside looking at it: the whole field, a distance, where one stands, a second map. */
import { middleShown } from "../../model/linked.ts";
import { locateSaid, locating, startLocating, stopLocating } from "../../model/locate.ts";
import { closeOtherSeason } from "../../model/other-season.ts";
import * as state from "../../model/state.ts";
import { formatQuantity } from "../../words/format.ts";
import { texts } from "../../words/texts/texts.ts";
import { addPlace, endMeasuring, measuredM, measuredPlaces, measuring, takePlaceBack } from "./measure.ts";

export function MapTools() {
  const others = state.variablesAtHand.value.filter((name) => name !== state.variable.value);
  return (
    <div class="map-tools">
      {measuring.value && <MeasurePanel />}
      <p class="map-said" role="status">
        {locateSaid.value}
      </p>
      <div class="map-buttons">
        <button
          type="button"
          onClick={() => {
            state.selectFinding(null);
            state.wholeFieldAsked.value++;
          }}
        >
          {texts.value.map.whole}
        </button>
        <button
          type="button"
          aria-pressed={measuring.value}
          onClick={() => {
            if (measuring.value) endMeasuring();
            else measuring.value = true;
          }}
        >
          {texts.value.map.measure}
        </button>
        <button
          type="button"
          aria-pressed={locating.value}
          onClick={() => (locating.value ? stopLocating() : startLocating())}
        >
          {texts.value.map.where}
        </button>
        {others.length > 0 && (
          <button
            type="button"
            aria-pressed={state.beside.value !== null}
            onClick={() => {
              closeOtherSeason();
              state.beside.value = state.beside.value === null ? others[0]! : null;
            }}
          >
            {texts.value.map.compare}
          </button>
        )}
      </div>
    </div>
  );
}

function MeasurePanel() {
  const places = measuredPlaces.value;
  return (
    <div class="measure-panel">
      <p role="status">
        {places.length < 2
          ? texts.value.map.measureHint
          : texts.value.map.measuredSaid(
              formatQuantity(measuredM.value, "length", state.unitSystem.value),
              places.length,
            )}
      </p>
      <button
        type="button"
        onClick={() => {
          const middle = middleShown();
          if (middle) addPlace(middle);
        }}
      >
        {texts.value.map.addMiddle}
      </button>
      <button type="button" disabled={places.length === 0} onClick={takePlaceBack}>
        {texts.value.map.takeBack}
      </button>
      <button type="button" onClick={endMeasuring}>
        {texts.value.map.done}
      </button>
    </div>
  );
}

/** The map is never turned: north is up. */
export function NorthSign() {
  return (
    <svg
      class="north"
      width="24"
      height="38"
      viewBox="0 0 24 38"
      role="img"
      aria-label={texts.value.map.north}
    >
      <path d="M12 2L18 20L12 16L6 20Z" />
      <text x="12" y="35">
        N
      </text>
    </svg>
  );
}
