/** Datums whose shift to WGS 84 proj4 cannot make without grid files, and how large the shift usually is. */

interface DatumShift {
  /** Name in WKT, whatever the spelling. */
  name: RegExp;
  /** For people. */
  title: string;
  /** How far positions may be off where nothing is shifted. */
  size: string;
}

/** Sizes from memory. */
const SHIFTS: readonly DatumShift[] = [
  {
    name: /north_?american(?:_datum)?_?1927|nad_?27/,
    title: "the 1927 North American datum",
    size: "tens of metres (10 to 100 m in the contiguous states, up to 200 m in Alaska)",
  },
  { name: /tokyo/, title: "the Tokyo datum", size: "about 400 m" },
  {
    name: /australian_geodetic_(?:datum_)?19(?:66|84)|agd_?(?:66|84)/,
    title: "an Australian Geodetic Datum",
    size: "about 200 m",
  },
  {
    name: /new_zealand_(?:geodetic_datum_)?1949|nzgd_?49/,
    title: "the New Zealand datum of 1949",
    size: "about 200 m",
  },
  {
    name: /osgb|ordnance_survey_of_great_britain/,
    title: "the British datum of 1936",
    size: "about 5 m after the mean shift",
  },
];

/** Datums that lie within 2 m of WGS 84, so that no shift is made. */
const LIKE_WGS84 =
  /wgs_?(?:19)?84|world_geodetic_system_1984|north_american(?:_datum)?_?(?:of_)?1983|nad_?83|etrs|european_terrestrial|gda_?(?:(?:19)?94|2020)|geocentric_datum_of_australia|sirgas|nzgd_?2000|new_zealand_geodetic_datum_2000|csrs/;

/**
 * What to say of the datum of a WKT text, null where its shift is known to be small or is made.
 * @param shifted true where proj4 has the numbers of the shift
 */
export function datumTrouble(wkt: string, shifted: boolean): { title: string; size: string } | null {
  const named = /\b(?:DATUM|ENSEMBLE|TRF|GEODETICDATUM)\s*\[\s*"([^"]+)"/i.exec(wkt)?.[1];
  if (named === undefined) return null;
  const plain = named.toLowerCase().replaceAll(/[^a-z0-9]+/g, "_");
  const known = SHIFTS.find(({ name }) => name.test(plain));
  if (known) return known;
  if (shifted || LIKE_WGS84.test(plain)) return null;
  // A datum of that ellipsoid is tied to the same frame as WGS 84 to about a metre (from memory).
  if (
    /SPHEROID\s*\[\s*"(?:GRS[ _]?(?:19)?80|WGS[ _]?(?:19)?84)"|ELLIPSOID\s*\[\s*"(?:GRS[ _]?(?:19)?80|WGS[ _]?(?:19)?84)"/i.test(
      wkt,
    )
  )
    return null;
  return { title: `the datum "${named}", which is not known here`, size: "up to some hundred metres" };
}
