/** The rate zones as files for other programs: GeoJSON, a zipped shapefile, and the map of its column names. */
import type { Feature, FeatureCollection, Polygon } from "geojson";
import type { LocalFrame } from "../field/field.ts";
import type { Channel, Moisture, Prescription, RateZone } from "../prescription/prescription.ts";
import { csvCell } from "../report/tables.ts";
import { convert } from "../units.ts";
import type { DbfField } from "./dbf-table.ts";
import { writePolygonShapefile } from "./polygon-shapefile.ts";
import { zonesInDegrees } from "./rate-zones-degrees.ts";

/** Values of a zone in rates.geojson; loads in N, null where the channel cannot be worked out. */
export interface RateZoneProperties {
  zone: number;
  soilZones: string[];
  proofStrip: boolean;
  areaHa: number;
  moisture: Moisture;
  marginN: number;
  forceN: number | null;
  pressurePa: number | null;
}

/** The zones as GeoJSON (RFC 7946: WGS 84 degrees of 7 decimals, outer rings counter-clockwise). */
export function rateZonesGeoJson(
  prescription: Prescription,
  frame: Pick<LocalFrame, "toLonLat">,
): FeatureCollection<Polygon, RateZoneProperties> {
  const features = zonesInDegrees(prescription.zones, frame).map(
    ({ zone, rings }): Feature<Polygon, RateZoneProperties> => ({
      type: "Feature",
      geometry: { type: "Polygon", coordinates: rings },
      properties: {
        zone: zone.number,
        soilZones: zone.soilZones,
        proofStrip: zone.proofStrip,
        areaHa: Number(zone.areaHa.toFixed(4)),
        moisture: prescription.settings.moisture,
        marginN: hundredths(zone.rates.marginN),
        forceN: zone.rates.forceN === null ? null : hundredths(zone.rates.forceN),
        pressurePa: zone.rates.pressurePa === null ? null : hundredths(zone.rates.pressurePa),
      },
    }),
  );
  return { type: "FeatureCollection", features };
}

function hundredths(value: number): number {
  return Number(value.toFixed(2));
}

interface RateColumn {
  name: string;
  meaning: string;
  unit: string;
  decimals: number;
  value: (zone: RateZone) => number;
}

const SOIL_WIDTH = 60;
const NAME_MAP = "name_map.csv";

/** Columns of the channel the files carry: one quantity only, so that no column is taken for another. */
function rateColumns(channel: Channel): RateColumn[] {
  if (channel === "pressure") {
    const value = (zone: RateZone): number => given(zone.rates.pressurePa, zone, "pressure");
    return [
      { name: "PRESS_PA", meaning: "pressure of the down-force system", unit: "Pa", decimals: 0, value },
    ];
  }
  const [stem, meaning] =
    channel === "added-force"
      ? ["FORCE", "force added to a row unit's own weight"]
      : ["MARGIN", "load on the gauge wheels (margin)"];
  const newtons = (zone: RateZone): number =>
    channel === "added-force" ? given(zone.rates.forceN, zone, "added force") : zone.rates.marginN;
  return [
    { name: `${stem}_N`, meaning, unit: "N", decimals: 1, value: newtons },
    {
      name: `${stem}_LBF`,
      meaning,
      unit: "lbf",
      decimals: 1,
      value: (zone) => convert(newtons(zone), "N", "lbf"),
    },
  ];
}

function given(value: number | null, zone: RateZone, quantity: string): number {
  if (value === null)
    throw new RangeError(`zone ${zone.number} has no ${quantity}, so no column can be written`);
  return value;
}

/** The channel the files carry; a margin where none is declared. */
function channelOf(prescription: Prescription): Channel {
  return prescription.channel.quantity ?? "margin";
}

/**
 * The zones as a zipped shapefile whose name says the state of the ground and the quantity, e.g.
 * `rates-fit-margin.zip`. Every record has every number.
 * @throws {RangeError} when a zone has no value for the channel
 */
export function rateZonesShapefile(
  prescription: Prescription,
  frame: Pick<LocalFrame, "toLonLat">,
): { name: string; bytes: Uint8Array } {
  const channel = channelOf(prescription);
  const zones = zonesInDegrees(prescription.zones, frame);
  const numbers = (name: string, decimals: number, value: (zone: RateZone) => number): DbfField => {
    const values = zones.map(({ zone }) => value(zone));
    const widest = Math.max(1, ...values.map((number) => number.toFixed(decimals).length));
    return { kind: "number", name, width: widest, decimals, values };
  };
  const name = `rates-${prescription.settings.moisture}-${channel}`;
  const bytes = writePolygonShapefile({
    name,
    polygons: zones.map(({ rings }) => rings),
    fields: [
      numbers("ZONE", 0, (zone) => zone.number),
      {
        kind: "text",
        name: "SOIL_ZONE",
        width: SOIL_WIDTH,
        values: zones.map(({ zone }) => asciiText(zone.soilZones.join(", ") || "none").slice(0, SOIL_WIDTH)),
      },
      ...rateColumns(channel).map((column) => numbers(column.name, column.decimals, column.value)),
      numbers("PROOF", 0, (zone) => (zone.proofStrip ? 1 : 0)),
    ],
    crs: { kind: "degrees" },
  });
  return { name: `${name}.zip`, bytes };
}

/** name_map.csv: what each column of the shapefile means and its unit. */
export function rateZonesNameMap(prescription: Prescription): { name: string; text: string } {
  const moisture = prescription.settings.moisture;
  const rows = [
    ["column", "meaning", "unit"],
    ["ZONE", "number of the rate zone", ""],
    ["SOIL_ZONE", "soil zones that lie in it", ""],
    ...rateColumns(channelOf(prescription)).map(({ name, meaning, unit }) => [
      name,
      `${meaning}, for ${moisture} ground`,
      unit,
    ]),
    ["PROOF", "1 where today's setting is left on purpose for next year's proof, else 0", ""],
  ];
  return { name: NAME_MAP, text: `${rows.map((row) => row.map(csvCell).join(",")).join("\r\n")}\r\n` };
}

/** Letters without their accents; what is then still not ASCII becomes a question mark. */
function asciiText(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replaceAll("ß", "ss")
    .replace(/[^\x20-\x7e]/g, "?");
}
