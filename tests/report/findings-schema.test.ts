import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { CAUSES } from "../../src/vocabulary/causes.ts";
import { documentFixture, findingFixture } from "../support/findings-fixture.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/findings.schema.json", import.meta.url), "utf8"));
const validate = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true }).compile(schema);

/** Paths of every object key in a document, e.g. ["findings", 0, "where", "areaHa"]. */
function keyPaths(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (Array.isArray(value)) return value.flatMap((item, index) => keyPaths(item, [...path, index]));
  if (value === null || typeof value !== "object") return [];
  return Object.entries(value).flatMap(([key, item]) => [[...path, key], ...keyPaths(item, [...path, key])]);
}

function without(document: unknown, path: readonly (string | number)[]): unknown {
  const copy = structuredClone(document);
  let holder = copy as Record<string | number, unknown>;
  for (const step of path.slice(0, -1)) holder = holder[step] as Record<string | number, unknown>;
  delete holder[path.at(-1)!];
  return copy;
}

describe("the JSON Schema of findings.json", () => {
  it("accepts a full document, an empty one, and unknowns as null", () => {
    const unknowns = findingFixture({
      pValue: null,
      measured: {},
      stand: { deficitShare: null, lateShare: null, counts: 0, digs: 0 },
      loss: { yieldShare: null, money: null, seed: null, notes: [] },
      remedy: {
        code: "dig-and-compare",
        parameter: null,
        from: null,
        to: null,
        unit: null,
        text: "Dig.",
        worth: null,
      },
    });
    for (const document of [documentFixture(), documentFixture([]), documentFixture([unknowns])]) {
      expect(validate(document), JSON.stringify(validate.errors, null, 1)).toBe(true);
    }
  });

  it("refuses a document where a key is absent: unknown is null, never absent", () => {
    const document = documentFixture();
    const free = (path: readonly (string | number)[]) =>
      (path.length === 4 && path[2] === "measured") || (path.length === 2 && path[0] === "settings");
    const paths = keyPaths(document).filter((path) => !free(path));
    expect(paths.length).toBeGreaterThan(100);
    const accepted = paths.filter((path) => validate(without(document, path)));
    expect(accepted).toEqual([]);
  });

  it("refuses a key it does not know, a cause outside the list, a share above 1", () => {
    const finding = findingFixture();
    const wrong: unknown[] = [
      { ...documentFixture(), extra: 1 },
      documentFixture([{ ...finding, cause: "bad-luck" as "misses" }]),
      documentFixture([{ ...finding, probability: 1.1 }]),
      documentFixture([
        { ...finding, measured: { depth: { inside: 1, elsewhere: 1, target: 1 } } as object },
      ]),
    ];
    for (const document of wrong) expect(validate(document)).toBe(false);
  });

  it("lists the causes of the program", () => {
    expect(schema.$defs.finding.properties.cause.enum).toEqual([...CAUSES]);
  });
});
