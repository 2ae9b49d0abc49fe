/** The long run over damaged files: the fixtures of the tests and, where they are at hand, the public conformance files. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import fc from "fast-check";
import { expect, it } from "vitest";
import { FileUnusableError } from "../../src/errors.ts";
import { readLayer } from "../../src/ingest/index.ts";
import { runFuzz } from "./support/fuzz.ts";
import { type Fixture, fixtures } from "./support/fuzz-fixtures.ts";

const reference = process.env.EVENSTAND_REFERENCE;

/** Every public file as a fixture of unknown content; shapefiles with the parts beside them. */
function publicFixtures(): Fixture[] {
  if (!reference) return [];
  const folder = `${reference}/data/conformance`;
  const found: Fixture[] = [];
  for (const part of ["mbostock_shapefile", "pyshp", "geojsonhint/good", "geojsonhint/bad"]) {
    const names = readdirSync(`${folder}/${part}`).filter((name) =>
      statSync(`${folder}/${part}/${name}`).isFile(),
    );
    for (const name of names.filter((candidate) => /\.(?:shp|geojson|zip)$/.test(candidate))) {
      const stem = name.replace(/\.\w+$/, "");
      const parts = name.endsWith(".shp")
        ? names.filter((other) => /\.(?:shp|shx|dbf|prj|cpg)$/.test(other) && other.startsWith(`${stem}.`))
        : [name];
      const files = parts.map((each) => ({
        name: each,
        bytes: new Uint8Array(readFileSync(`${folder}/${part}/${each}`)),
      }));
      // The archive of a whole city takes a second a time; the small files find the same.
      if (files.every(({ bytes }) => bytes.length > 0 && bytes.length < 1 << 17))
        found.push({ name: `${part}/${name}`, files, records: null, values: [] });
    }
  }
  return found;
}

it("40 000 damaged files and more give a layer that adds up or a reason, none takes 5 s", async () => {
  const own = await runFuzz(fixtures(), 40_000, 1);
  expect(own.cases).toBe(40_000);
  expect(own.accepted).toBeGreaterThan(16_000);
  expect(own.valueFlips).toBeGreaterThan(3000);
  expect(own.valueFlipsIntact / own.valueFlips).toBeGreaterThan(0.6);
  process.stdout.write(`own fixtures: ${JSON.stringify(own)}\n`);
  const others = publicFixtures();
  if (others.length === 0) return;
  const tally = await runFuzz(others, 10_000, 2);
  process.stdout.write(`public fixtures: ${JSON.stringify(tally)}\n`);
}, 480_000);

it("any bytes under any name are refused or add up", async () => {
  const name = fc.constantFrom(
    "a.shp",
    "a.zip",
    "a.geojson",
    "a.ndjson",
    "a.csv",
    "a.csv.gz",
    "a.geojson.gz",
    "a.dbf",
  );
  const head = fc.constantFrom(
    [],
    [0x00, 0x00, 0x27, 0x0a],
    [0x50, 0x4b, 0x03, 0x04],
    [0x1f, 0x8b, 8, 0],
    [0x7b],
    [0x7b, 0x22],
    [0xef, 0xbb, 0xbf],
  );
  await fc.assert(
    fc.asyncProperty(name, head, fc.uint8Array({ maxLength: 400 }), async (fileName, begin, rest) => {
      const bytes = new Uint8Array([...begin, ...rest]);
      try {
        const layer = await readLayer([{ name: fileName, bytes }], { role: "x", expect: "anything" });
        expect(layer.x.length).toBe(layer.recordCount);
      } catch (error) {
        expect(error).toBeInstanceOf(FileUnusableError);
      }
    }),
    { numRuns: 3000, seed: 7 },
  );
}, 120_000);
