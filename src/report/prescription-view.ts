/**
 * The prescription as a map and cards need it: its ground in degrees, what it is expected to do, and the limits a
 * load may be moved between. The page gets it from its worker; the one-file report carries it as a block of JSON.
 */
import type { Position } from "geojson";
import type { Field, LocalFrame } from "../field/field.ts";
import { type PrescriptionEffect, prescriptionEffect } from "../prescription/effect.ts";
import type { Prescription, RateZone } from "../prescription/prescription.ts";

export interface RateZoneShown extends Omit<RateZone, "polygon"> {
  /** Rings of one polygon, longitude and latitude: outer ring first, then holes. */
  rings: Position[][];
}

export interface PrescriptionView extends Omit<Prescription, "zones"> {
  zones: RateZoneShown[];
  effect: PrescriptionEffect;
}

export function prescriptionView(prescription: Prescription, field: Field): PrescriptionView {
  return {
    ...prescription,
    zones: prescription.zones.map(({ polygon, ...zone }) => ({
      ...zone,
      rings: ringsInDegrees(polygon, field.frame),
    })),
    effect: prescriptionEffect(prescription.decisions, field),
  };
}

/** Seven decimals of a degree, about a centimetre. */
function ringsInDegrees(polygon: RateZone["polygon"], frame: LocalFrame): Position[][] {
  return polygon.map((ring) =>
    ring.map(([x, y]) => frame.toLonLat(x, y).map((degrees) => Number(degrees.toFixed(7)))),
  );
}
