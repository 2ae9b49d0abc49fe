/**
 * Where the invented field lies. Inside the generator a position is (u, v) in metres on the field: v along
 * the interior passes, u across them to the right, (0, 0) the south-west corner. The frame turns that into
 * UTM zone 15 north and into degrees. The spot on the globe is arbitrary.
 */
import proj4 from "proj4";

export type Position = [number, number];

export const UTM_EPSG = 32615;
const UTM = "+proj=utm +zone=15 +datum=WGS84 +units=m +no_defs";
const CORNER_LONGITUDE = -93.07;
const CORNER_LATITUDE = 42.61;
/** Heading of the interior passes, degrees clockwise from north. */
export const FIELD_HEADING_DEG = 3;

const projection = proj4("EPSG:4326", UTM);
const [cornerEasting, cornerNorthing] = projection.forward([CORNER_LONGITUDE, CORNER_LATITUDE]) as Position;
const cosine = Math.cos((FIELD_HEADING_DEG * Math.PI) / 180);
const sine = Math.sin((FIELD_HEADING_DEG * Math.PI) / 180);

/** Easting and northing, metres. */
export function toUtm([u, v]: Position): Position {
  return [cornerEasting + u * cosine + v * sine, cornerNorthing - u * sine + v * cosine];
}

/** Longitude and latitude, WGS 84 degrees. */
export function toLonLat(position: Position): Position {
  return projection.inverse(toUtm(position)) as Position;
}

/** The field position of a longitude and latitude, WGS 84 degrees. */
export function fromLonLat(longitude: number, latitude: number): Position {
  const [easting, northing] = projection.forward([longitude, latitude]) as Position;
  const east = easting - cornerEasting;
  const north = northing - cornerNorthing;
  return [east * cosine - north * sine, east * sine + north * cosine];
}

/** As {@link toLonLat}, rounded to 7 decimals (about a centimetre) for GeoJSON and CSV. */
export function toRoundedLonLat(position: Position): Position {
  const [longitude, latitude] = toLonLat(position);
  return [Number(longitude.toFixed(7)), Number(latitude.toFixed(7))];
}
