/**
 * The address carries what is shown (finding, part under the map, pane, colour, place of the map), so that it can be
 * kept and sent, and Back goes to what was shown before. Nothing of the data stands in it.
 */
import { batch, effect } from "@preact/signals";
import { pane } from "./prescription-pane.ts";
import * as state from "./state.ts";

/** Keys that make a step to go back to; the others only keep up. */
const STEPS = ["finding", "part", "pane", "view"] as const;

/** What is shown now, as the part of an address behind #; what is as at first is left out. */
export function addressNow(): string {
  const place = state.mapPlace.value;
  const parts: readonly (readonly [string, string | null])[] = [
    ["finding", state.selectedId.value],
    ["part", state.dock.value === "furrow" ? null : state.dock.value],
    ["pane", pane.value === "ledger" ? null : pane.value],
    ["view", state.phoneView.value === "ledger" ? null : state.phoneView.value],
    ["colour", state.variable.value],
    ["at", place && [place.longitude.toFixed(5), place.latitude.toFixed(5), place.zoom.toFixed(2)].join(",")],
  ];
  const shown = parts.filter((part): part is [string, string] => part[1] !== null);
  return new URLSearchParams(shown).toString();
}

/** Shows what an address says, as far as the open field has it. */
export function showAddress(address: string): void {
  const said = new URLSearchParams(address);
  const finding = said.get("finding");
  const known = state.findings.value.some((entry) => entry.finding.id === finding);
  if (state.selectedId.peek() !== (known ? finding : null)) state.selectFinding(known ? finding : null);
  state.dock.value = state.DOCKS.find((dock) => dock === said.get("part")) ?? "furrow";
  pane.value = said.get("pane") === "prescription" ? "prescription" : "ledger";
  const view = said.get("view");
  state.phoneView.value = view === "map" || view === "dock" ? view : "ledger";
  const colour = state.variablesAtHand.value.find((name) => name === said.get("colour"));
  if (colour) state.variable.value = colour;
  state.placeAsked.value = placeOf(said.get("at"));
}

function placeOf(text: string | null): state.MapPlace | null {
  const [longitude, latitude, zoom] = (text ?? "").split(",").map(Number);
  const whole = [longitude, latitude, zoom].every((value) => value !== undefined && Number.isFinite(value));
  return text && whole && Math.abs(latitude!) <= 90
    ? { longitude: longitude!, latitude: latitude!, zoom: zoom! }
    : null;
}

/** True where two addresses differ in more than what keeps up by itself. */
export function isStep(before: string, after: string): boolean {
  const [one, other] = [before, after].map((address) => new URLSearchParams(address));
  return STEPS.some((key) => one!.get(key) !== other!.get(key));
}

/** Keeps the address in step with the page and the page with the address, from the first answer on. */
export function followAddress(): void {
  const opened = location.hash.slice(1);
  let taken = false;
  effect(() => {
    if (state.phase.value.kind !== "ready") return;
    if (!taken) {
      taken = true;
      if (opened) showAddress(opened);
    }
    const next = addressNow();
    const before = location.hash.slice(1);
    if (next === before) return;
    const address = next === "" ? location.pathname : `#${next}`;
    if (before !== "" && isStep(before, next)) history.pushState(null, "", address);
    else history.replaceState(null, "", address);
  });
  addEventListener("popstate", () => {
    // A place inside the report ("#ledger-title") says nothing of what is shown.
    if (/^#[^=]+$/.test(location.hash)) return;
    // At once: what is half shown would be taken for a step of its own.
    if (state.phase.value.kind === "ready") batch(() => showAddress(location.hash.slice(1)));
  });
}
