/** docs/*.schema.json of what the program writes: what the schemas in the code generate, and those are the types. */
import { readFileSync, writeFileSync } from "node:fs";
import { toJsonSchema } from "@valibot/to-json-schema";
import type * as v from "valibot";
import { describe, expect, expectTypeOf, it } from "vitest";
import type { CheckResult } from "../src/check/check-result.ts";
import { checkSchema } from "../src/check/check-schema.ts";
import type { FindingsDocument } from "../src/findings/findings-document.ts";
import { comparisonRow } from "../src/findings/schema/comparison-row.ts";
import { finding } from "../src/findings/schema/finding.ts";
import { findingsSchema } from "../src/findings/schema/findings-schema.ts";
import * as parts from "../src/findings/schema/parts.ts";
import type { PrescriptionDocument } from "../src/report/prescription-document.ts";
import { prescriptionSchema } from "../src/report/prescription-schema.ts";

const SCHEMAS: Record<string, [schema: v.GenericSchema, parts: Record<string, v.GenericSchema>]> = {
  findings: [findingsSchema, { ...parts, finding, comparisonRow }],
  prescription: [prescriptionSchema, { note: parts.note }],
  check: [checkSchema, { note: parts.note }],
};

describe.each(Object.entries(SCHEMAS))("docs/%s.schema.json", (name, [schema, definitions]) => {
  const path = new URL(`../docs/${name}.schema.json`, import.meta.url);

  it("is what the schema in the code generates", () => {
    const json = toJsonSchema(schema, {
      target: "draft-2020-12",
      definitions,
      // A pair is exactly two.
      overrideSchema: ({ jsonSchema }) =>
        jsonSchema.prefixItems === undefined
          ? undefined
          : { ...jsonSchema, minItems: jsonSchema.prefixItems.length, items: false },
    });
    const text = `${JSON.stringify({ ...json, $id: `evenstand/${name}/1` }, null, 2)}\n`;
    if (process.env.UPDATE_DOCS) writeFileSync(path, text);
    expect(readFileSync(path, "utf8"), "stale: run npm run docs").toBe(text);
  });
});

/** Places are pairs in the schema, lists in the types. */
type Frozen<T> = T extends readonly number[]
  ? readonly number[]
  : T extends object
    ? { readonly [K in keyof T]: Frozen<T[K]> }
    : T;
type Output<S extends v.GenericSchema> = Frozen<v.InferOutput<S>>;
/** Does not compile where what is given lacks something of what is wanted, or is wider. */
type Fit<Wanted, Given extends Wanted> = Given;

describe("the schemas of documents", () => {
  it("have the shapes of the types, key by key, both ways", () => {
    type Findings = Frozen<FindingsDocument>;
    expectTypeOf<Fit<Output<typeof findingsSchema>, Findings>>().toBeObject();
    expectTypeOf<Fit<Findings, Output<typeof findingsSchema>>>().toBeObject();
    type Sent = Frozen<PrescriptionDocument>;
    expectTypeOf<Fit<Output<typeof prescriptionSchema>, Sent>>().toBeObject();
    expectTypeOf<Fit<Sent, Output<typeof prescriptionSchema>>>().toBeObject();
    type Check = Frozen<CheckResult>;
    expectTypeOf<Fit<Output<typeof checkSchema>, Check>>().toBeObject();
    expectTypeOf<Fit<Check, Output<typeof checkSchema>>>().toBeObject();
  });
});
