/** What a map of the loads draws, for the page's map and the report's picture alike: ground with its load and colour. */
import type { Position } from "geojson";
import type { UnitSystem } from "../../../src/quantities/format.ts";
import { zonesOf } from "../../../src/rate-zones/zones-of-soil.ts";
import type { MapLayers } from "../../../src/report/map-layers.ts";
import type { PrescriptionView } from "../../../src/report/prescription-view.ts";
import { colourAt, cssColour, type Rgb } from "../../colours/palettes.ts";
import type { MapMode } from "../../model/prescription-state.ts";
import { changeText, loadText } from "../../words/rate-words.ts";

export interface ShownGround {
  soilZones: readonly string[];
  /** Number in the files. */
  number: number;
  proofStrip: boolean;
  /** Load or change of load, N; null where it is not known. */
  valueN: number | null;
  said: string;
  colour: string;
  polygons: Position[][][];
}

/** Where no load is known. */
const UNKNOWN = "#efe9da";

type View = Pick<PrescriptionView, "decisions" | "zones" | "settings">;
type Layers = Pick<MapLayers, "zones" | "boundary">;

/**
 * The zones of the files with their load. Where soils that share a zone differ in what is shown (today's load, or the
 * load behind one and the same force), each is shown on the soil map's own ground.
 */
export function shownGround(view: View, layers: Layers, mode: MapMode, system: UnitSystem): ShownGround[] {
  const colour = colouring(view, mode);
  const picked = view.settings.moisture;
  const ground = (
    valueN: number | null,
    rest: Omit<ShownGround, "valueN" | "said" | "colour">,
  ): ShownGround => ({ ...rest, valueN, said: saidOf(valueN, mode, system), colour: colour(valueN) });
  return view.zones.flatMap(({ number, soilZones, proofStrip, rates, rings }) => {
    const whole = { soilZones, number, proofStrip, polygons: [rings] };
    const decisions = view.decisions.filter(({ soilZone }) => carries(view, soilZone, number));
    const sameLoad = decisions.length < 2 || allSame(decisions.map((each) => each.prescribedN[picked]));
    if (mode === "prescribed" && (proofStrip || sameLoad)) return [ground(rates.marginN, whole)];
    if (decisions.length === 0) return [ground(null, whole)];
    if (decisions.length === 1) return [ground(loadShown(view, decisions[0]!, mode, proofStrip), whole)];
    return decisions.map((decision) =>
      ground(loadShown(view, decision, mode, proofStrip), {
        soilZones: [decision.soilZone],
        number,
        proofStrip,
        polygons: polygonsOf(layers, decision.soilZone),
      }),
    );
  });
}

/** True where the zone of that number is the soil zone's own, or took its ground. */
function carries({ zones }: View, soilZone: string, number: number): boolean {
  const { zones: own, strips } = zonesOf(zones, soilZone);
  return [...own, ...strips].some((zone) => zone.number === number);
}

/** The zones of the files with their own load, whatever lies under them: what is outlined. */
export function fileZones(view: View, system: UnitSystem): ShownGround[] {
  const colour = colouring(view, "prescribed");
  return view.zones.map(({ number, soilZones, proofStrip, rates, rings }) => ({
    soilZones,
    number,
    proofStrip,
    valueN: rates.marginN,
    said: saidOf(rates.marginN, "prescribed", system),
    colour: colour(rates.marginN),
    polygons: [rings],
  }));
}

function loadShown(
  view: View,
  { currentMarginN, prescribedN, outcome }: View["decisions"][number],
  mode: MapMode,
  proofStrip: boolean,
): number | null {
  if (mode === "prescribed") return prescribedN[view.settings.moisture];
  if (currentMarginN === null || mode === "today") return currentMarginN;
  return outcome === "change" && !proofStrip ? prescribedN[view.settings.moisture] - currentMarginN : 0;
}

function allSame(loads: readonly number[]): boolean {
  return loads.every((load) => load === loads[0]);
}

function saidOf(valueN: number | null, mode: MapMode, system: UnitSystem): string {
  if (valueN === null) return "no load logged";
  return mode === "change" ? changeText(valueN, system) : loadText(valueN, system);
}

/** The polygons of a soil zone; the boundary where the field has no such zone. */
function polygonsOf(layers: Layers, soilZone: string): Position[][][] {
  const own = layers.zones.features.filter(({ properties }) => properties.name === soilZone);
  const features = own.length > 0 ? own : (layers.boundary?.features ?? []);
  return features.flatMap(({ geometry }) => geometry.coordinates);
}

/** Loads in one direction, the same scale today and prescribed; changes around none. */
function colouring(view: View, mode: MapMode): (valueN: number | null) => string {
  const picked = view.settings.moisture;
  const loads = view.decisions.flatMap(({ currentMarginN, prescribedN }) =>
    currentMarginN === null ? [prescribedN[picked]] : [currentMarginN, prescribedN[picked]],
  );
  const of = (share: number): Rgb => colourAt(mode === "change" ? "puor" : "cividis", share);
  if (mode === "change") {
    const reach = Math.max(
      view.settings.rateStepN,
      ...view.decisions.map(({ currentMarginN, prescribedN }) =>
        currentMarginN === null ? 0 : Math.abs(prescribedN[picked] - currentMarginN),
      ),
    );
    // The ends of the ramp are nearly black; soil marks have to stay readable on it.
    return (valueN) => (valueN === null ? UNKNOWN : cssColour(of(0.5 + (0.3 * valueN) / reach)));
  }
  const [low, high] = [Math.min(...loads), Math.max(...loads)];
  const span = Math.max(high - low, 1);
  return (valueN) => (valueN === null ? UNKNOWN : cssColour(of(0.25 + (0.75 * (valueN - low)) / span)));
}

export interface LegendEntry {
  said: string;
  colour: string;
  /** Which ground it is: numbers of zones, and names of soils. */
  ground: string;
  soils: string;
}

/** One entry a load, lightest first. */
export function legendEntries(shown: readonly ShownGround[]): LegendEntry[] {
  const entries = new Map<
    string,
    { valueN: number; colour: string; ground: Set<string>; soils: Set<string> }
  >();
  for (const { valueN, said, colour, number, proofStrip, soilZones } of shown) {
    if (proofStrip) continue;
    const entry = entries.get(said) ?? {
      valueN: valueN ?? -Infinity,
      colour,
      ground: new Set<string>(),
      soils: new Set<string>(),
    };
    entry.ground.add(String(number));
    if (soilZones[0] !== undefined) entry.soils.add(soilZones[0]);
    entries.set(said, entry);
  }
  return [...entries]
    .sort(([, a], [, b]) => a.valueN - b.valueN)
    .map(([said, { colour, ground, soils }]) => ({
      said,
      colour,
      ground: [...ground].join(", "),
      soils: [...soils].join(", "),
    }));
}
