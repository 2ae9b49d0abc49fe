/** What a season takes of one analysed field: seed lots and prescribed loads, from the whole way through the tool. */
import { expect, it } from "vitest";
import { analyseField } from "../../src/jobs/analyse.ts";
import { extractField } from "../../src/season/field/extract-field.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { simulateLog } from "../truth/simulator.ts";

const { field } = simulateLog({ rowUnits: 8, lengthM: 120, bendM: 0, passes: 4 }, 5, []);

/** West half of the field lot A planted 56 mm deep, the other half B 50 mm; the last records without a lot. */
function withLots(): Field {
  const { x, values, recordCount } = field.log;
  const middle = (Math.min(...x) + Math.max(...x)) / 2;
  const codes = Int32Array.from(x, (east, record) => (record > recordCount - 5 ? -1 : east < middle ? 0 : 1));
  const seedingDepth = values.seedingDepth!.map((_, record) => (codes[record] === 0 ? 56 : 50));
  const log = {
    ...field.log,
    values: { ...values, seedingDepth },
    labels: { ...field.log.labels, seedLot: { codes, labels: ["A", "B"] } },
  };
  return { ...field, log };
}

it("keeps the means of each lot where there are two", async () => {
  const { lots } = extractField(await analyseField(withLots()));
  expect(lots.map(({ lot }) => lot)).toEqual(["A", "B"]);
  const [a, b] = lots;
  expect(a!.share).toBeCloseTo(0.5, 1);
  expect(a!.share + b!.share).toBeLessThan(1);
  expect([a!.means.seedingDepth, b!.means.seedingDepth]).toEqual([56, 50]);
  expect(a!.means.speed).toBeUndefined();
});

it("keeps no lots of a field that has none", async () => {
  expect(extractField(await analyseField(field)).lots).toEqual([]);
});
