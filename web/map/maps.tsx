/** The map, and beside it on demand a second one of another variable that moves with it. */
import * as state from "../app/state.ts";
import { MapView } from "./map-view.tsx";

/** @param signsOpen the signs explained without a click, as on paper. */
export function Maps({ signsOpen = false }: { signsOpen?: boolean }) {
  const two = state.beside.value !== null;
  return (
    <div class={two ? "maps two" : "maps"}>
      <MapView signsOpen={signsOpen} />
      {two && <MapView second={true} />}
    </div>
  );
}
