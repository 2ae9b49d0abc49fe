import { describe, expect, it } from "vitest";
import type { Finding, FindingsDocument } from "../../src/findings/findings-document.ts";
import { planterOf, repairItemsOf } from "../../src/setup/repair-item.ts";
import { SET_UP_LINES } from "../../src/setup/set-up-lines.ts";
import { SET_UP_CAUTIONS, type SetUpPlanter, setUpSheet } from "../../src/setup/set-up-sheet.ts";
import { documentFixture, findingFixture } from "../support/findings-fixture.ts";

const PLANTER: SetUpPlanter = {
  name: "16-row planter",
  rowUnits: 16,
  fields: ["Invented Forty"],
  items: [
    {
      planter: "16-row planter",
      rowUnits: [9],
      parts: ["meters", "vacuum"],
      title: "Row unit 9: skips",
      evidence: ["skips: 4.1 % here, 1.2 % elsewhere"],
      source: "Invented Forty, F2",
    },
  ],
  loads: [],
};

/** The lines of a sheet in order, with the text of each. */
function linesOf(html: string): string[] {
  return html
    .split('<section class="line')
    .slice(1)
    .map((part) => part.slice(0, part.indexOf("</section>")));
}

function onRow(row: number, changes: Partial<Finding> = {}): Finding {
  const finding = findingFixture({ kind: "row-unit", cause: "misses", ...changes });
  return { ...finding, where: { ...finding.where, rowUnits: [row] } };
}

describe("the lines", () => {
  it("each say how to check, a limit and where it comes from, and what is written down", () => {
    for (const { title, how, limit, source, perRow, places } of SET_UP_LINES) {
      expect(how.length, title).toBeGreaterThan(20);
      expect(limit.length, title).toBeGreaterThan(10);
      expect(source, title).toMatch(/University|common practice|our judgement|operator's manual/);
      expect(perRow !== null || places.length > 0, title).toBe(true);
    }
    expect(new Set(SET_UP_LINES.map(({ part }) => part)).size).toBe(SET_UP_LINES.length);
  });
});

describe("the sheet", () => {
  const html = setUpSheet([PLANTER]);

  it("puts what the findings name first, marks the row, and keeps every other line", () => {
    const lines = linesOf(html);
    expect(lines).toHaveLength(SET_UP_LINES.length);
    expect(lines[0]).toContain("Seed meters: row 9 first");
    expect(lines[1]).toContain("Vacuum or air pressure: row 9 first");
    expect(lines[2]).toContain("Bar level");
    expect(lines[0]).toContain('<div class="is-named">9!</div>');
    expect(lines[0]!.match(/is-named/g)).toHaveLength(1);
    // A box for every row, and one to tick.
    expect(lines[0]).toContain("<div>16</div>");
    for (const line of lines) expect(line).toContain('<div class="tick">');
    expect(html).toContain("Skips: 4.1 % here, 1.2 % elsewhere.");
  });

  it("has the cautions above all", () => {
    for (const caution of SET_UP_CAUTIONS)
      expect(html.indexOf(caution.slice(0, 40))).toBeLessThan(html.indexOf('<section class="line'));
    expect(html).toContain("Before reaching under a planter");
  });

  it("says that nothing found is no proof, and does without known rows", () => {
    const bare = setUpSheet([{ ...PLANTER, rowUnits: null, items: [] }]);
    expect(bare).toContain("That is no proof that it is sound");
    expect(bare).not.toContain('is-marked"');
    expect(bare).toContain("No log told its rows.");
    expect(linesOf(bare)).toHaveLength(SET_UP_LINES.length);
  });

  it("lets no text of a file become markup", () => {
    const evil = '<script>alert("x")</script>';
    const item = { ...PLANTER.items[0]!, title: evil, evidence: [evil], source: evil };
    const loads = [{ field: evil, soilZone: evil, damp: "60 lb", fit: "", dry: "" }];
    expect(setUpSheet([{ ...PLANTER, name: evil, fields: [evil], items: [item], loads }])).not.toContain(
      "<script",
    );
  });
});

describe("items from findings", () => {
  const items = (findings: Finding[], change: Partial<FindingsDocument["summary"]> = {}) => {
    const document = documentFixture(findings);
    return repairItemsOf({ ...document, summary: { ...document.summary, ...change } });
  };

  it("are those of rows, sections and the whole planter that a part is behind", () => {
    expect(items([onRow(7)])).toMatchObject([{ rowUnits: [7], parts: ["meters", "vacuum", "seed-tubes"] }]);
    expect(items([findingFixture({ kind: "area", cause: "misses" })])).toEqual([]);
    expect(items([findingFixture({ kind: "field", cause: "multiples" })])).toMatchObject([{ rowUnits: [] }]);
    expect(items([onRow(7, { cause: "seed-lot" })])).toEqual([]);
  });

  it("of a sensor go to the sensor that departs", () => {
    const departing = (variable: "downForceMargin" | "misses") => ({
      departingRows: [
        {
          rowUnits: [7],
          set: null,
          variable,
          unit: "N",
          shift: 100,
          passes: [1],
          pValue: 0.01,
          inFinding: true,
        },
      ],
    });
    const sensor = onRow(7, { cause: "sensor-fault" });
    expect(items([sensor], departing("downForceMargin"))[0]!.parts).toEqual(["load-cells"]);
    expect(items([sensor], departing("misses"))[0]!.parts[0]).toBe("seed-tubes");
  });

  it("are of the machine that the log names, else of the planter by its rows", () => {
    const document = documentFixture([]);
    expect(planterOf(document).planter).toMatch(/planter/i);
    const ground = { ...document.summary.ground!, machines: ["Big one"] };
    expect(planterOf({ ...document, summary: { ...document.summary, ground } }).planter).toBe("Big one");
  });
});
