/** Coordinate systems: state plane in feet, unknown ones with their candidates, swapped axes, datums. */
import { describe, expect, it } from "vitest";
import { type CoordinateSystem, readLayer, toLonLat } from "../../src/ingest/index.ts";
import { refusalOf, textFile, valuesOf } from "./support/layers.ts";
import { type Shape, shapefileSet } from "./support/shapefile-bytes.ts";

const options = { role: "plantingLog", expect: "any" } as const;
const system = (definition: string): CoordinateSystem => ({
  basis: "manifest",
  name: definition,
  definition,
});
const point = (x: number, y: number): Shape => ({ type: 1, x, y });

describe("state-plane codes", () => {
  it.each([
    // PROJ 9.1.1 (`gdaltransform`), EPSG codes to WGS 84.
    { code: 3417, x: 5_000_000, y: 3_500_000, longitude: -93.2098239231853, latitude: 42.1010358864159 },
    { code: 2965, x: 300_000, y: 1_600_000, longitude: -85.7663892214142, latitude: 39.641157202161 },
    // International feet by the law of the state.
    { code: 2251, x: 26_000_000, y: 600_000, longitude: -87.978409115212, latitude: 46.4245859494159 },
  ])("EPSG:$code is where PROJ has it", ({ code, x, y, longitude, latitude }) => {
    const placed = toLonLat(system(`EPSG:${code}`))(x, y);
    // 1e-9 degrees are a tenth of a millimetre.
    expect(Math.abs(placed[0] - longitude)).toBeLessThan(1e-9);
    expect(Math.abs(placed[1] - latitude)).toBeLessThan(1e-9);
  });

  it("tell the US survey foot from the international one: two parts in a million, 3 m at 1500 km", () => {
    const feet =
      "+proj=lcc +lat_0=41.5 +lon_0=-93.5 +lat_1=43.2666666666667 +lat_2=42.0666666666667 +x_0=1500000 +y_0=999999.99998984 +datum=NAD83";
    const at = (units: string) => toLonLat(system(`${feet} +units=${units}`))(5_000_000, 3_500_000);
    const metres = (at("us-ft")[0] - at("ft")[0]) * 111_320 * Math.cos((42.1 * Math.PI) / 180);
    expect(Math.abs(metres)).toBeCloseTo(5_000_000 * (1200 / 3937 - 0.3048), 1);
  });
});

describe("numbers without a system", () => {
  const metres = shapefileSet([point(450_000, 4_650_000), point(450_100, 4_650_100)], null, null);

  it("stop with the UTM zones that fit and where each would put them", async () => {
    const { message } = await refusalOf(metres);
    // Zone 15 has its central meridian at 93 W.
    expect(message).toMatch(/"EPSG:32615" \(UTM zone 15N: longitude -93\.60, latitude 42\.00\)/);
    expect(message).toContain("EPSG:32610");
    expect(message).toContain("EPSG:32620");
  });

  it("near the other layers leave one zone; feet leave the state-plane zone", async () => {
    const near = { longitude: -93.5, latitude: 42.1 };
    const utm = (await refusalOf(metres, { near })).message;
    expect(utm).toMatch(/near the other layers they would lie in "EPSG:32615" \(UTM zone 15N/);
    expect(utm).not.toContain("EPSG:32614");
    const feet = shapefileSet([point(4_894_000, 3_681_000)], null, null);
    const plane = (await refusalOf(feet, { near: { longitude: -93.6, latitude: 42.6 } })).message;
    expect(plane).toMatch(/"EPSG:3417" \(Iowa North \(US survey feet\)/);
    expect((await refusalOf(metres, { near: { longitude: 10, latitude: -50 } })).message).not.toContain(
      "near the",
    );
  });

  it("are told by nearly all of them: a wild position costs itself", async () => {
    const shapes = Array.from({ length: 100 }, (_, index) => point(-93 + index / 1e4, 42));
    shapes[50] = point(-93e200, 42);
    const layer = await readLayer(shapefileSet(shapes, null, null), options);
    expect(layer.crs.basis).toBe("range");
    expect([layer.x[49], layer.x[50], layer.x[51]]).toEqual([expect.any(Number), NaN, expect.any(Number)]);
    expect(layer.notes).toContainEqual(
      expect.objectContaining({ effect: "left out", count: 1, firstRecord: 51 }),
    );
  });

  it("in easting and northing of a CSV need the manifest, and then are read", async () => {
    const csv = [textFile("log.csv", "Easting (m);Northing (m);depth\n450000,5;4650000,25;2,1\n")];
    expect((await refusalOf(csv)).message).toContain("EPSG:32615");
    const layer = await readLayer(csv, { ...options, crs: "EPSG:32615" });
    expect([layer.x[0], layer.y[0], valuesOf(layer, "depth")[0]]).toEqual([450_000.5, 4_650_000.25, 2.1]);
  });
});

describe("swapped axes", () => {
  it("are put right where no field could lie otherwise, in degrees with and without a system", async () => {
    for (const [x, y] of [
      [42, -93],
      // As a latitude -88 would be possible, but nobody plants there.
      [41.5, -88],
    ] as const) {
      for (const prj of [undefined, null]) {
        const layer = await readLayer(shapefileSet([point(x, y), point(x + 0.01, y)], null, prj), options);
        expect([layer.x[0], layer.y[0]]).toEqual([y, x]);
        expect(layer.notes).toContainEqual(
          expect.objectContaining({
            effect: "converted",
            count: 2,
            reason: expect.stringContaining("swapped"),
          }),
        );
      }
    }
  });

  it("keep rings wound the right way", async () => {
    const ring: [number, number][] = [
      [42, -93],
      [43, -93],
      [43, -92],
      [42, -92],
      [42, -93],
    ];
    const layer = await readLayer(shapefileSet([{ type: 5, parts: [ring] }], null), {
      ...options,
      expect: "polygon",
    });
    const [outer] = layer.polygons![0]![0]!;
    const area = outer!
      .slice(1)
      .reduce((sum, [x, y], index) => sum + outer![index]![0] * y - x * outer![index]![1], 0);
    expect(area / 2).toBeCloseTo(1, 9);
    expect([layer.x[0], layer.y[0]]).toEqual([expect.closeTo(-92.5, 9), expect.closeTo(42.5, 9)]);
  });

  it("are put right in a UTM zone, and nowhere by guess", async () => {
    const layer = await readLayer(shapefileSet([point(4_650_000, 450_000)], null, null), {
      ...options,
      crs: "EPSG:26915",
    });
    expect([layer.x[0], layer.y[0]]).toEqual([450_000, 4_650_000]);
    // Europe: both numbers can be either.
    const europe = await readLayer(shapefileSet([point(8, 50)], null), options);
    expect([europe.x[0], europe.y[0]]).toEqual([8, 50]);
  });
});

describe("WKT2 of 2015", () => {
  it("gives what WKT1 gives: its ellipsoid is read", () => {
    const parameters =
      'METHOD["Transverse Mercator",ID["EPSG",9807]],PARAMETER["Latitude of natural origin",0,ANGLEUNIT["degree",0.0174532925199433]],PARAMETER["Longitude of natural origin",-93,ANGLEUNIT["degree",0.0174532925199433]],PARAMETER["Scale factor at natural origin",0.9996,SCALEUNIT["unity",1]],PARAMETER["False easting",500000,LENGTHUNIT["metre",1]],PARAMETER["False northing",0,LENGTHUNIT["metre",1]]';
    const newer = `PROJCRS["UTM 15N",BASEGEODCRS["NAD27",DATUM["North American Datum 1927",ELLIPSOID["Clarke 1866",6378206.4,294.978698213898,LENGTHUNIT["metre",1]]],PRIMEM["Greenwich",0]],CONVERSION["UTM zone 15N",${parameters}],CS[Cartesian,2],AXIS["(E)",east,ORDER[1]],AXIS["(N)",north,ORDER[2]],LENGTHUNIT["metre",1]]`;
    const older =
      'PROJCS["UTM 15N",GEOGCS["NAD27",DATUM["North_American_Datum_1927",SPHEROID["Clarke 1866",6378206.4,294.978698213898]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",-93],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1]]';
    const place = (wkt: string) => toLonLat(system(wkt))(450_000, 4_650_000);
    const [a, b] = [place(newer), place(older)];
    // On the ellipsoid of WGS 84 the latitude would be 0.0019 degrees less.
    expect(Math.abs(a[0] - b[0])).toBeLessThan(1e-9);
    expect(Math.abs(a[1] - b[1])).toBeLessThan(1e-9);
  });
});

describe("datums", () => {
  const geographic = (datum: string, spheroid = '"Clarke_1866",6378206.4,294.978698213898') =>
    `GEOGCS["GCS",DATUM["${datum}",SPHEROID[${spheroid}]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`;
  const notesOf = async (prj: string) =>
    (await readLayer(shapefileSet([point(-93, 42)], null, prj), options)).notes
      .map(({ reason }) => reason)
      .filter((reason) => !reason.includes(".dbf"));

  it("that need a grid are named with the usual size of the shift", async () => {
    expect((await notesOf(geographic("D_North_American_1927"))).join()).toMatch(/1927.*10 to 100 m/);
    expect((await notesOf(geographic("North_American_Datum_1927"))).join()).toMatch(/tens of metres/);
    expect((await notesOf(geographic("D_Tokyo"))).join()).toMatch(/Tokyo.*about 400 m/);
    expect((await notesOf(geographic("D_Larkspur_1901"))).join()).toMatch(/D_Larkspur_1901.*not known/);
  });

  it("that lie within 2 m of WGS 84 are not", async () => {
    for (const datum of ["D_WGS_1984", "D_North_American_1983", "D_ETRS_1989", "D_GDA_1994", "NAD83 (CSRS)"])
      expect(await notesOf(geographic(datum, '"GRS_1980",6378137.0,298.257222101')), datum).toEqual([]);
  });
});
