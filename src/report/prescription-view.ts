/**
 * The prescription as a map and cards need it: its ground in degrees, what it is expected to do, and the limits a
 * load may be moved between. The page gets it from its worker; the one-file report carries it as a block of JSON.
 */
import { type PrescriptionEffect, prescriptionEffect } from "../prescription/effect.ts";
import type { Prescription, RateZone } from "../prescription/prescription.ts";
import { zonesInDegrees } from "../rate-zones/rate-zones-degrees.ts";
import type { Field } from "../vocabulary/field.ts";

export interface RateZoneShown extends Omit<RateZone, "polygon"> {
  /** Rings of one polygon, longitude and latitude: outer ring first, then holes. */
  rings: [number, number][][];
}

export interface PrescriptionView extends Omit<Prescription, "zones"> {
  /** One entry a zone, in rare cases two with the same number. */
  zones: RateZoneShown[];
  effect: PrescriptionEffect;
}

export function prescriptionView(prescription: Prescription, field: Field): PrescriptionView {
  return {
    ...prescription,
    zones: zonesInDegrees(prescription.zones, field.frame).map(
      ({ zone: { polygon: _, ...zone }, rings }) => ({
        ...zone,
        rings,
      }),
    ),
    effect: prescriptionEffect(prescription.decisions, field),
  };
}
