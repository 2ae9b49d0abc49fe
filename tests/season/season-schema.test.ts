import { readFileSync, writeFileSync } from "node:fs";
import { toJsonSchema } from "@valibot/to-json-schema";
import { describe, expect, it } from "vitest";
import { columnForms } from "../../src/manifest/manifest-schema.ts";
import { parseSeasonText, withDefaults } from "../../src/season/season-manifest.ts";
import { seasonSchema } from "../../src/season/season-schema.ts";
import { shortened } from "../support/short-schema.ts";

const PATH = new URL("../../docs/season.schema.json", import.meta.url);

function schemaText(): string {
  const schema = toJsonSchema(seasonSchema, { target: "draft-2020-12", definitions: { columnForms } });
  const short = {
    ...shortened(schema, JSON.stringify(schema.$defs?.columnForms)),
    $defs: schema.$defs,
    $id: "evenstand/season/1",
  };
  return `${JSON.stringify(short, null, 2)}\n`;
}

describe("docs/season.schema.json", () => {
  it("is what the schema in the code generates", () => {
    if (process.env.UPDATE_DOCS) writeFileSync(PATH, schemaText());
    expect(readFileSync(PATH, "utf8"), "stale: run npm run docs").toBe(schemaText());
  });
});

describe("docs/season.md", () => {
  it("shows a season's manifest that is accepted", () => {
    const text = readFileSync(new URL("../../docs/season.md", import.meta.url), "utf8");
    const example = /```json\n([\s\S]*?)```/.exec(text)![1]!;
    expect(parseSeasonText(example, "season.json").fields!.length).toBeGreaterThan(1);
  });
});

describe("what holds for every field", () => {
  it("is laid under the field's own words, key by key, and makes up no layer", () => {
    const own = { plantingLog: { file: "log.csv" }, targets: { speed: "5 mi/h" }, planter: { rowUnits: 12 } };
    const defaults = {
      targets: { speed: "6 mi/h", seedingDepth: "2 in" },
      plantingLog: { columns: { speed: "SPEED" } },
      digs: { crs: "EPSG:32615" },
      planter: { rowUnits: 16, rowSpacing: "30 in" },
    };
    expect(withDefaults(own, defaults, { rowUnits: 24, wheelTrackRows: [3, 4] })).toEqual({
      plantingLog: { file: "log.csv", columns: { speed: "SPEED" } },
      targets: { speed: "5 mi/h", seedingDepth: "2 in" },
      planter: { rowUnits: 12, rowSpacing: "30 in", wheelTrackRows: [3, 4] },
    });
  });
});
