/** The rate zones as files for other programs: GeoJSON, a zipped shapefile, and the map of its column names. */
import type { Feature, FeatureCollection, Polygon } from "geojson";
import type { Channel, Prescription, RateZone } from "../prescription/prescription.ts";
import { PASCAL_PER_PSI } from "../prescription/pressure.ts";
import { formatQuantity, type UnitSystem } from "../quantities/format.ts";
import { convert } from "../quantities/units.ts";
import { zonesInDegrees } from "../rate-zones/rate-zones-degrees.ts";
import { csvCell } from "../report/tables.ts";
import type { LocalFrame } from "../vocabulary/field.ts";
import type { DbfField } from "./shapefile/dbf-table.ts";
import { writePolygonShapefile } from "./shapefile/polygon-shapefile.ts";

/**
 * Attributes of a zone, the same in GeoJSON and shapefile: all text but one number, the rate, whose name says its
 * quantity and unit. A reader that picks "the number" cannot pick another.
 */
export type RateZoneProperties = Record<string, string | number>;

interface RateColumn {
  name: string;
  meaning: string;
  unit: string;
  value: (zone: RateZone) => number;
}

const TEXT_WIDTH = 60;
const NAME_MAP = "name_map.csv";

/** The column of the rate in the reader's units. */
function rateColumn(channel: Channel, units: UnitSystem): RateColumn {
  const isFarm = units === "farm";
  switch (channel) {
    case "pressure":
      return {
        name: isFarm ? "PRESS_PSI" : "PRESS_KPA",
        meaning: "pressure of the down-force system",
        unit: isFarm ? "psi" : "kPa",
        value: (zone) => given(zone.rates.pressurePa, zone, "pressure") / (isFarm ? PASCAL_PER_PSI : 1000),
      };
    case "added-force":
      return {
        name: isFarm ? "FORCE_LBF" : "FORCE_N",
        meaning: "force added to a row unit's own weight, one row unit",
        unit: isFarm ? "lbf" : "N",
        value: (zone) => convert(given(zone.rates.forceN, zone, "added force"), "N", isFarm ? "lbf" : "N"),
      };
    case "margin":
      return {
        name: isFarm ? "MARGIN_LBF" : "MARGIN_N",
        meaning: "load on the gauge wheels of one row unit (margin)",
        unit: isFarm ? "lbf" : "N",
        value: (zone) => convert(zone.rates.marginN, "N", isFarm ? "lbf" : "N"),
      };
  }
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

/** Text columns: which zone, of which field, for which ground. */
function textColumns(prescription: Prescription, units: UnitSystem) {
  const { field, settings } = prescription;
  const fieldWords = `${field.name}, ${formatQuantity(field.areaHa, "area", units)}`;
  return [
    { name: "ZONE", meaning: "number of the rate zone", value: (zone: RateZone) => String(zone.number) },
    {
      name: "SOIL_ZONE",
      meaning: "soil zones that lie in it",
      value: (zone: RateZone) => zone.soilZones.join(", ") || "none",
    },
    {
      name: "PROOF",
      meaning: "yes where today's setting is left on purpose for next year's proof",
      value: (zone: RateZone) => (zone.proofStrip ? "yes" : "no"),
    },
    { name: "GROUND", meaning: "state of the ground the rate is for", value: () => settings.moisture },
    { name: "FIELD", meaning: "field and its area", value: () => fieldWords },
  ];
}

/** The zones as GeoJSON (RFC 7946: WGS 84 degrees of 7 decimals, outer rings counter-clockwise). */
export function rateZonesGeoJson(
  prescription: Prescription,
  frame: Pick<LocalFrame, "toLonLat">,
  units: UnitSystem = "farm",
): FeatureCollection<Polygon, RateZoneProperties> {
  const rate = rateColumn(channelOf(prescription), units);
  const texts = textColumns(prescription, units);
  const features = zonesInDegrees(prescription.zones, frame).map(
    ({ zone, rings }): Feature<Polygon, RateZoneProperties> => ({
      type: "Feature",
      geometry: { type: "Polygon", coordinates: rings },
      properties: {
        ...Object.fromEntries(texts.map(({ name, value }) => [name, value(zone)])),
        [rate.name]: Number(rate.value(zone).toFixed(1)),
      },
    }),
  );
  return { type: "FeatureCollection", features };
}

/**
 * The zones as a zipped shapefile whose name says the state of the ground and the quantity, e.g.
 * `rates-fit-margin.zip`. Every record has every number.
 * @throws {RangeError} when a zone has no value for the channel
 */
export function rateZonesShapefile(
  prescription: Prescription,
  frame: Pick<LocalFrame, "toLonLat">,
  units: UnitSystem = "farm",
): { name: string; bytes: Uint8Array } {
  const channel = channelOf(prescription);
  const zones = zonesInDegrees(prescription.zones, frame);
  const rate = rateColumn(channel, units);
  const rates = zones.map(({ zone }) => rate.value(zone));
  const fields: DbfField[] = textColumns(prescription, units).map(({ name, value }) => ({
    kind: "text",
    name,
    width: TEXT_WIDTH,
    values: zones.map(({ zone }) => asciiText(value(zone)).slice(0, TEXT_WIDTH)),
  }));
  const name = `rates-${prescription.settings.moisture}-${channel}`;
  const bytes = writePolygonShapefile({
    name,
    polygons: zones.map(({ rings }) => rings),
    fields: [
      ...fields,
      {
        kind: "number",
        name: rate.name,
        width: Math.max(1, ...rates.map((value) => value.toFixed(1).length)),
        decimals: 1,
        values: rates,
      },
    ],
    crs: { kind: "degrees" },
  });
  return { name: `${name}.zip`, bytes };
}

/** name_map.csv: what each column of the shapefile means and its unit. */
export function rateZonesNameMap(
  prescription: Prescription,
  units: UnitSystem = "farm",
): { name: string; text: string } {
  const { name, meaning, unit } = rateColumn(channelOf(prescription), units);
  const rows = [
    ["column", "meaning", "unit"],
    ...textColumns(prescription, units).map((column) => [column.name, column.meaning, ""]),
    [name, `${meaning}, for ${prescription.settings.moisture} ground`, unit],
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
