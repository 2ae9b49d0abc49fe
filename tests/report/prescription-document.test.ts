import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { prescriptionDocument } from "../../src/report/prescription-document.ts";
import { prescriptionText } from "../../src/words/prescription-text.ts";
import { prescriptionFixture } from "../support/prescription-fixture.ts";

const schema = JSON.parse(
  readFileSync(new URL("../../docs/prescription.schema.json", import.meta.url), "utf8"),
);
const validate = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true }).compile(schema);

describe("the JSON Schema of prescription.json", () => {
  it("accepts a full document, and unknowns as null", () => {
    const fixture = prescriptionFixture();
    const unknown = {
      currentMarginN: null,
      currentMarginP10N: null,
      currentForceN: null,
      loggedMoisture: null,
      gainShare: null,
    };
    const documents = [
      prescriptionDocument(fixture),
      prescriptionDocument({
        ...fixture,
        decisions: fixture.decisions.map((decision) => ({ ...decision, ...unknown })),
      }),
    ];
    for (const document of documents)
      expect(validate(JSON.parse(JSON.stringify(document))), JSON.stringify(validate.errors)).toBe(true);
  });

  it("refuses an absent key, an unknown one and polygons", () => {
    const fixture = prescriptionFixture();
    const { cautions: _, ...without } = prescriptionDocument(fixture);
    for (const wrong of [
      without,
      { ...prescriptionDocument(fixture), extra: 1 },
      { ...prescriptionDocument(fixture), zones: fixture.zones },
    ])
      expect(validate(wrong)).toBe(false);
  });
});

describe("the prescription in words", () => {
  const text = prescriptionText(prescriptionFixture(), { width: 72, emphasise: (heading) => `*${heading}*` });

  it("puts what to settle first before the loads, marks the picked load, and ends with the cautions", () => {
    const order = [
      "*Settle first*",
      "F3 Row unit 7",
      "*Load on the gauge wheels, lb*",
      "dry 130, fit [120], damp 75",
      "*Dig and try*",
      "*The machine's channel*",
      "*Before any load is set*",
    ].map((part) => text.indexOf(part));
    expect(order).not.toContain(-1);
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    for (const line of text.split("\n")) expect(line.length).toBeLessThanOrEqual(72);
    expect(text.replace(/\s+/g, " ")).toContain("the machine is told 210 lb");
  });
});
