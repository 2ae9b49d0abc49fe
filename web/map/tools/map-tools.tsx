/** What can be done with the map beside looking at it: the whole field, a distance, where one stands, a second map. */
import { middleShown } from "../../model/linked.ts";
import { locateSaid, locating, startLocating, stopLocating } from "../../model/locate.ts";
import { closeOtherSeason } from "../../model/other-season.ts";
import * as state from "../../model/state.ts";
import { formatQuantity } from "../../words/format.ts";
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
          Whole field
        </button>
        <button
          type="button"
          aria-pressed={measuring.value}
          onClick={() => {
            if (measuring.value) endMeasuring();
            else measuring.value = true;
          }}
        >
          Measure
        </button>
        <button
          type="button"
          aria-pressed={locating.value}
          onClick={() => (locating.value ? stopLocating() : startLocating())}
        >
          Where am I
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
            Compare
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
          ? "Click two or more places on the map, or move the map and add its middle."
          : `${formatQuantity(measuredM.value, "length", state.unitSystem.value)} along ${places.length} places`}
      </p>
      <button
        type="button"
        onClick={() => {
          const middle = middleShown();
          if (middle) addPlace(middle);
        }}
      >
        Add the middle
      </button>
      <button type="button" disabled={places.length === 0} onClick={takePlaceBack}>
        Take back
      </button>
      <button type="button" onClick={endMeasuring}>
        Done
      </button>
    </div>
  );
}

/** The map is never turned: north is up. */
export function NorthSign() {
  return (
    <svg class="north" width="24" height="38" viewBox="0 0 24 38" role="img" aria-label="North is up">
      <path d="M12 2L18 20L12 16L6 20Z" />
      <text x="12" y="35">
        N
      </text>
    </svg>
  );
}
