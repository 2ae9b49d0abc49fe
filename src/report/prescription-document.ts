/** prescription.json: the prescription without its polygons, which stand in the GeoJSON and the shapefile. */
import type { Prescription, RateZone } from "../prescription/prescription.ts";

export const PRESCRIPTION_SCHEMA = "evenstand/prescription/1";

export interface PrescriptionDocument extends Omit<Prescription, "zones"> {
  schema: typeof PRESCRIPTION_SCHEMA;
  zones: Omit<RateZone, "polygon">[];
}

export function prescriptionDocument({ zones, ...rest }: Prescription): PrescriptionDocument {
  return { schema: PRESCRIPTION_SCHEMA, ...rest, zones: zones.map(({ polygon: _, ...zone }) => zone) };
}
