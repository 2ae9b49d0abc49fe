import { readFileSync, writeFileSync } from "node:fs";
import { toJsonSchema } from "@valibot/to-json-schema";
import { describe, expect, it } from "vitest";
import { parseManifestText } from "../../src/manifest/manifest.ts";
import { columnForms, manifestSchema } from "../../src/manifest/manifest-schema.ts";
import { shortened } from "../support/short-schema.ts";

const PATH = new URL("../../docs/field.schema.json", import.meta.url);

/** Text of the JSON Schema; `npm run docs` writes it anew. */
function schemaText(): string {
  const schema = toJsonSchema(manifestSchema, { target: "draft-2020-12", definitions: { columnForms } });
  const forms = JSON.stringify(schema.$defs?.columnForms);
  const short = { ...shortened(schema, forms), $defs: schema.$defs, $id: "evenstand/field/1" };
  return `${JSON.stringify(short, null, 2)}\n`;
}

interface SchemaNode {
  description?: string;
  properties?: Record<string, SchemaNode>;
  anyOf?: SchemaNode[];
  additionalProperties?: unknown;
}

function undescribed(node: SchemaNode, path: string): string[] {
  const here = Object.entries(node.properties ?? {}).flatMap(([key, child]) => [
    ...(child.description ? [] : [`${path}.${key}`]),
    ...undescribed(child, `${path}.${key}`),
  ]);
  return [...here, ...(node.anyOf ?? []).flatMap((option) => undescribed(option, path))];
}

describe("docs/field-manifest.md", () => {
  const text = readFileSync(new URL("../../docs/field-manifest.md", import.meta.url), "utf8");

  it("shows a manifest that is accepted", () => {
    const example = /```json\n([\s\S]*?)```/.exec(text)![1]!;
    expect(parseManifestText(example).name).toBe("Larkspur Draw");
  });

  it("names every key and every variable", () => {
    const schema = JSON.parse(readFileSync(PATH, "utf8")) as SchemaNode;
    const keysOf = (node: SchemaNode): string[] =>
      Object.entries(node.properties ?? {}).flatMap(([key, child]) => [key, ...keysOf(child)]);
    const missing = [...new Set(keysOf(schema))].filter((key) => key !== "$schema" && !text.includes(key));
    expect(missing).toEqual([]);
  });
});

describe("docs/field.schema.json", () => {
  it("is what the schema in the code generates", () => {
    if (process.env.UPDATE_DOCS) writeFileSync(PATH, schemaText());
    expect(readFileSync(PATH, "utf8"), "stale: run npm run docs").toBe(schemaText());
  });

  it("describes every key and refuses unknown ones", () => {
    const schema = JSON.parse(readFileSync(PATH, "utf8")) as SchemaNode;
    expect(undescribed(schema, "")).toEqual([]);
    expect(schema.additionalProperties).toBe(false);
  });
});
