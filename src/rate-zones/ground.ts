/** What the ground of a prescription is drawn from, and what comes of it. */
import type { Note } from "../errors.ts";
import type { Guard, PrescriptionSettings, RateZone } from "../prescription/prescription.ts";
import type { LocalPolygon, SoilZones } from "../vocabulary/field.ts";

export interface Ground {
  /** The field's outline in local metres; rings may cross themselves or each other, polygons may overlap. */
  outline: readonly LocalPolygon[];
  soilZones: SoilZones | null;
  /** Places with a load of their own, each within the soil zone of a number (-1: ground without one). */
  places?: readonly { name: string; of: number; polygons: readonly LocalPolygon[] }[];
  /** Working width of the planter, m. */
  swathWidthM: number;
  /** Usual heading of travel, degrees clockwise from north. */
  headingDeg: number;
}

/** What is prescribed for a soil zone and what it has today, gauge-wheel load, N. */
export interface GroundLoad {
  /** Whole number of the user's step; written into the files as it stands. */
  marginN: number;
  /** Today's setting for a proof strip, in whole steps too; null where the zone gets no strip. */
  todayN: number | null;
}

export interface GroundLoads {
  /** By name of the soil zone; a zone without an entry takes the load of `elsewhere`. */
  soilZones: Readonly<Record<string, GroundLoad>>;
  /** Ground without a soil zone, and the whole field where there is no soil map. */
  elsewhere: GroundLoad;
}

export interface GroundLimits
  extends Pick<
    PrescriptionSettings,
    "smallestAreaHa" | "smallestWidthBars" | "mostRates" | "mostPolygons" | "mostVertices" | "proofStrips"
  > {
  /** Shortest piece along the heading that the down-force system can follow, m. */
  shortestM: number;
}

export interface DrawnZone extends Omit<RateZone, "rates" | "soilZones"> {
  /** Soil zones of the ground, the most of it first; null for ground without one. */
  soilZones: (string | null)[];
  marginN: number;
  /** Its ground by soil zone, ha by squares of the raster; the name is null for ground without a soil zone. */
  soilHa: { soilZone: string | null; areaHa: number }[];
}

export interface DrawnGround {
  zones: DrawnZone[];
  guards: Guard[];
  notes: Note[];
}
