import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fillTemplate } from "../../src/report/report-text.ts";

const block = (id: string, json = "") => `<script type="application/json" id="${id}">${json}</script>`;
const template = `<body>${block("findings")}\n${block("map-layers")}<script>run()</script></body>`;

describe("filling the report template", () => {
  it("puts each value into its own script, whatever text it holds", () => {
    fc.assert(
      fc.property(fc.json(), fc.string(), (json, text) => {
        const findings: unknown = [JSON.parse(json), text, block("map-layers"), "</script><!-- $& $1"];
        const filled = fillTemplate(template, { "map-layers": { text }, findings });
        const scripts = [...filled.matchAll(/<script[^>]*id="([^"]*)">([^<]*)<\/script>/g)];
        expect(scripts.map((script) => script[1])).toEqual(["findings", "map-layers"]);
        expect(JSON.parse(scripts[0]![2]!)).toEqual(findings);
        expect(JSON.parse(scripts[1]![2]!)).toEqual({ text });
        expect(filled.endsWith("<script>run()</script></body>")).toBe(true);
      }),
    );
  });

  it("refuses a template without the place, or with two", () => {
    expect(() => fillTemplate("<body></body>", { findings: 1 })).toThrow("one empty place for findings");
    expect(() => fillTemplate(template + template, { findings: 1 })).toThrow("one empty place for findings");
    expect(() => fillTemplate(block("findings", "1"), { findings: 1 })).toThrow(
      "one empty place for findings",
    );
  });
});
