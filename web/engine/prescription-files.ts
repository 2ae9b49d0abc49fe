/** The files of a prescription as bytes to hand over. Runs in the worker. */
import type { LocalFrame } from "../../src/field/field.ts";
import type { Prescription } from "../../src/prescription/prescription.ts";
import { rateZonesGeoJson, rateZonesNameMap, rateZonesShapefile } from "../../src/write/rate-zones-files.ts";
import type { PrescriptionFiles } from "./protocol.ts";

export function filesOf(prescription: Prescription, frame: LocalFrame): PrescriptionFiles {
  const text = (content: string) => new TextEncoder().encode(content);
  const shapefile = rateZonesShapefile(prescription, frame);
  const nameMap = rateZonesNameMap(prescription);
  return {
    files: [
      { ...shapefile, purpose: "zones as shapefile, zipped" },
      { name: nameMap.name, bytes: text(nameMap.text), purpose: "what the shapefile's columns mean" },
      {
        name: "rates.geojson",
        bytes: text(JSON.stringify(rateZonesGeoJson(prescription, frame))),
        purpose: "zones as GeoJSON",
      },
    ],
    notes: [],
  };
}
