import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isEvenstandError } from "../../src/errors.ts";
import { assembleField } from "../../src/field/load.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { recogniseColumns } from "../../src/recognise/recognise.ts";
import { LOG_CATALOGUE } from "../../src/vocabulary/catalogue-log.ts";
import { type ColumnValues, layer } from "./layers.ts";

const word = fc.constantFrom(
  ...[
    "Depth",
    "seed",
    "Tgt",
    "rate",
    "DF",
    "margin",
    "load",
    "speed",
    "mph",
    "in",
    "k",
    "pass",
    "row",
    "unit",
    "1",
    "2",
  ],
  ...["time", "date", "misses", "pct", "x", "_", " ", "(lbf)", "__proto__", "Ä"],
);
const name = fc.array(word, { minLength: 1, maxLength: 4 }).map((words) => words.join("_"));
const RECORDS = 12;
const exactly = { minLength: RECORDS, maxLength: RECORDS };
const values: fc.Arbitrary<ColumnValues> = fc.oneof(
  fc.array(fc.double(), exactly),
  fc.array(fc.integer({ min: -9999, max: 65535 }), exactly),
  fc.array(fc.option(fc.constantFrom("2026-04-24", "10:00:00", "4/5/2026", "on", "loam", "")), exactly),
);
const columns = fc.dictionary(name, values, { maxKeys: 8, noNullPrototype: true });

describe("whatever the columns are", () => {
  it("each is recognised, listed as unknown, or open; never lost", () => {
    fc.assert(
      fc.property(columns, (given) => {
        const input = layer(given);
        const { found, unrecognised } = recogniseColumns(input, LOG_CATALOGUE, { role: "plantingLog" });
        const used = [...found.values()].flatMap(({ group }) => group.columns.map((column) => column.name));
        expect([...used, ...unrecognised].sort()).toEqual(input.columns.map((column) => column.name).sort());
      }),
    );
  });

  it("loading gives a log or an error for the user, never a fault", () => {
    const manifest = parseManifest({ plantingLog: { file: "log" } });
    fc.assert(
      fc.property(columns, (given) => {
        const plantingLog = { ...layer({ Filler: new Array(RECORDS).fill(1), ...given }) };
        try {
          const { log } = assembleField(manifest, { plantingLog });
          for (const column of Object.values(log.values)) expect(column).toHaveLength(log.recordCount);
        } catch (error) {
          if (!isEvenstandError(error)) throw error;
        }
      }),
    );
  });
});
