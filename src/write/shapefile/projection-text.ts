/** Text of a shapefile's .prj file: coordinate systems as WKT 1 in the dialect that shapefile readers know. */

/** WGS 84 in degrees (x longitude, y latitude), or one of its UTM zones in metres (x easting, y northing). */
export type ShapefileCrs = { kind: "degrees" } | { kind: "utm"; zone: number; hemisphere: "north" | "south" };

/** Ellipsoid of WGS 84: semi-major axis in metres and inverse flattening (NGA.STND.0036, 2014). */
const WGS84_DEGREES =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],' +
  'PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

/**
 * WKT of the coordinate system. UTM: transverse Mercator, scale 0.9996 on the central meridian of a zone 6
 * degrees wide, false easting 500 km, false northing 0 or (south) 10,000 km (NGA.SIG.0012, 2014).
 * @throws {RangeError} when the zone is not a whole number from 1 to 60.
 */
export function projectionText(crs: ShapefileCrs): string {
  if (crs.kind === "degrees") return WGS84_DEGREES;
  const { zone, hemisphere } = crs;
  if (!Number.isInteger(zone) || zone < 1 || zone > 60) {
    throw new RangeError(`UTM zone ${zone} is none of 1 to 60`);
  }
  const letter = hemisphere === "north" ? "N" : "S";
  const parameters = {
    False_Easting: "500000.0",
    False_Northing: hemisphere === "north" ? "0.0" : "10000000.0",
    Central_Meridian: (zone * 6 - 183).toFixed(1),
    Scale_Factor: "0.9996",
    Latitude_Of_Origin: "0.0",
  };
  const list = Object.entries(parameters).map(([name, value]) => `PARAMETER["${name}",${value}]`);
  return (
    `PROJCS["WGS_1984_UTM_Zone_${zone}${letter}",${WGS84_DEGREES},` +
    `PROJECTION["Transverse_Mercator"],${list.join(",")},UNIT["Meter",1.0]]`
  );
}
