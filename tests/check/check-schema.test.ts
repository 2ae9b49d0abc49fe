/** docs/check.schema.json, which programs may rely on: what the check gives fits it, and what it does not give is refused. */
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { checkPasses } from "../../src/check/check-passes.ts";
import type { LastYear } from "../../src/check/check-result.ts";
import { type PutFault, simulateLog } from "../truth/simulator.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/check.schema.json", import.meta.url), "utf8"));
const validate = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true }).compile(schema);

const LAST: LastYear = {
  field: "Hill",
  season: 2025,
  crop: "soybean",
  means: { seedingDepth: 50 },
  rows: [],
};

/** The result as it is printed. */
function printed(passes: number, lastYear: LastYear | null) {
  const faults: PutFault[] = [{ rowUnit: 9, variable: "seedingDepth", from: 1, to: passes, shift: -12 }];
  const { field } = simulateLog(
    { rowUnits: 16, lengthM: 400, bendM: 0, passes },
    1234,
    passes > 1 ? faults : [],
  );
  return JSON.parse(JSON.stringify(checkPasses(field, lastYear)));
}

const results = [printed(1, null), printed(9, LAST)];

describe("the JSON Schema of a check", () => {
  it("is tried on results that have something in each part", () => {
    const [one, nine] = results;
    for (const part of ["rows", "changes", "figures", "notJudged"] as const)
      expect(nine[part]).not.toEqual([]);
    expect(one.lastYear).toBeNull();
  });

  it.each(results)("fits what is printed", (result) => {
    expect(validate(result), JSON.stringify(validate.errors, null, 1)).toBe(true);
  });

  it("refuses a key that is missing or that it does not know", () => {
    const [result] = results;
    for (const key of Object.keys(result)) expect(validate({ ...result, [key]: undefined }), key).toBe(false);
    expect(validate({ ...result, more: 1 })).toBe(false);
    expect(validate({ ...result, seen: { ...result.seen, passes: -1 } })).toBe(false);
  });

  it("says where last year's figures are of another field or crop", () => {
    const { doubts } = results[1].lastYear;
    expect(doubts[0]).toContain('they are of "Hill"');
    expect(doubts[1]).toBe("they are of soybean, this is taken for corn");
    const own = { ...LAST, field: results[1].field.name.toUpperCase(), crop: "corn" };
    expect(printed(3, own).lastYear.doubts).toEqual([]);
  });
});
