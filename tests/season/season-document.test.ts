/** What fields say together, on made-up extracts: ledger, which fields count, repairs, drivers, tables, page. */

import fc from "fast-check";
import { parquetMetadata, parquetReadObjects } from "hyparquet";
import { describe, expect, it } from "vitest";
import type { FieldResult } from "../../src/season/field-result.ts";
import { growerSeasons } from "../../src/season/grower-seasons.ts";
import { type Season, seasonOf } from "../../src/season/season-document.ts";
import { seasonPage } from "../../src/season/season-page.ts";
import { fieldIds, PLAN_SCHEMA, type PlannedField, shardOf } from "../../src/season/season-plan.ts";
import { seasonSetUp } from "../../src/season/season-set-up.ts";
import { TABLE_FILES } from "../../src/season/season-tables.ts";
import { seasonText } from "../../src/season/season-text.ts";
import { setUpSheet } from "../../src/setup/set-up-sheet.ts";
import { ROWS, results, seasonFrom, tablesOf } from "./support/made-up-season.ts";

const template = '<!doctype html><title>Evenstand season</title><body><div id="season"></div></body>';

function pageOf(season: Season): string {
  return seasonPage(template, season, { linked: new Set() });
}

describe("the ledger", () => {
  it("sums by cause, with how many fields have it, and the fields' totals", () => {
    const { document } = seasonFrom();
    expect(document.ledger).toHaveLength(1);
    expect(document.ledger[0]).toMatchObject({ cause: "lost-ground-contact", findings: 12, areaHa: 24 });
    expect(document.ledger[0]!.fields).toHaveLength(12);
    expect(document.ledger[0]!.money).toMatchObject({ estimate: 1200, low: 480, high: 3600 });
    expect(document.money!.estimate).toBe(1200);
    expect(document.areaHa).toBe(240);
  });

  it("adds no currencies together, and says how many fields are priced", () => {
    const { document } = seasonFrom({
      change: (extract, k) => {
        if (k === 0) extract.money = null;
        if (k === 1) extract.money = { ...extract.money!, currency: "EUR" };
      },
    });
    expect(document.money).toBeNull();
    expect(document.pricedFields).toBe(11);
  });
});

describe("the repair list", () => {
  it("is empty where units differ as sound ones do", () => {
    const { document } = seasonFrom();
    expect(document.repairs).toEqual([]);
    expect(document.tests.count).toBeGreaterThan(ROWS);
  });

  it("names a unit that skips in every field, and says in how many", () => {
    const { document } = seasonFrom({ skips: (unit) => (unit === 9 ? 0.02 : 0) });
    expect(document.repairs.map(({ rowUnit, comesAndGoes }) => [rowUnit, comesAndGoes])).toEqual([
      [9, false],
    ]);
    const { effect, fields } = document.repairs[0]!.evidence[0]!;
    expect(effect.low).toBeLessThan(0.0215);
    expect(effect.high).toBeGreaterThan(0.0185);
    expect(fields.filter(({ standsOut }) => standsOut)).toHaveLength(12);
    const text = seasonText(document, { width: 100, emphasise: (words) => words });
    expect(text).toContain("old, row unit 9");
    expect(text).toContain("12 of 12 fields");
    expect(text).toContain("operator's manual");
  });

  it("names one that skips in some fields only, as what comes and goes, at its size where it came", () => {
    const { document } = seasonFrom({ skips: (unit, field) => (unit === 4 && field % 3 === 0 ? 0.05 : 0) });
    expect(document.repairs.map(({ rowUnit, comesAndGoes }) => [rowUnit, comesAndGoes])).toEqual([[4, true]]);
    const text = seasonText(document, { width: 200, emphasise: (words) => words });
    expect(text).toMatch(/(4\.9|5\.0|5\.1) points more skips than the rest of its bar in 4 of 12 fields/);
    expect(text).toContain("comes and goes");
  });

  it("does not list a unit that is better than its bar, nor one off by less than matters", () => {
    expect(seasonFrom({ skips: (unit) => (unit === 9 ? -0.03 : 0) }).document.repairs).toEqual([]);
    expect(seasonFrom({ skips: (unit) => (unit === 9 ? 0.006 : 0) }).document.repairs).toEqual([]);
  });

  it("keeps the bars of planters apart, and a field of another width or of several machines out", () => {
    const { document } = seasonFrom({
      skips: (unit, field) => (unit === 9 && field < 6 ? 0.03 : 0),
      planned: (k) => ({ planter: k < 6 ? "old" : "new" }),
      change: (extract, k) => {
        if (k === 0) extract.rowUnits = 16;
        if (k === 1) extract.machines = ["one", "two"];
      },
    });
    expect(document.repairs.map(({ planter, rowUnit }) => [planter, rowUnit])).toEqual([["old", 9]]);
    expect(document.repairs[0]!.evidence[0]!.fields).toHaveLength(4);
    expect(document.notes.join(" ")).toContain("several machines");
    expect(document.notes.join(" ")).toContain("Field 1 (16)");
  });

  it("becomes a set-up sheet for each planter, its suspect row first", () => {
    const { document } = seasonFrom({
      skips: (unit, field) => (unit === 9 && field < 6 ? 0.03 : 0),
      planned: (k) => ({ planter: k < 6 ? "old" : "new" }),
    });
    const [old, other] = seasonSetUp(document, "farm");
    expect(old).toMatchObject({ name: "old", rowUnits: ROWS, fields: ["6 fields of A <season>"] });
    expect(old!.items.map(({ rowUnits, parts }) => [rowUnits, parts[0]])).toEqual([[[9], "meters"]]);
    expect(old!.items[0]!.evidence[0]).toContain("stood out in 6 of 6 fields");
    expect(other).toMatchObject({ name: "new", items: [] });
    const sheet = setUpSheet([old!, other!]);
    expect(sheet).toMatch(/Row unit 9: (2\.9|3\.0|3\.1) points more skips than the rest of its bar/);
    expect(sheet).toContain("A &lt;season&gt;");
    expect(sheet).toContain("operator's manual");
  });

  it("does not depend on the order in which the fields come", () => {
    const all = results({ skips: (unit) => (unit === 2 ? 0.02 : 0) });
    const straight = JSON.stringify(seasonFrom(all).document);
    expect(JSON.stringify(seasonFrom(all.toReversed()).document.repairs)).toBe(
      JSON.stringify(JSON.parse(straight).repairs),
    );
  });
});

describe("drivers", () => {
  it("are named where they drive faster than the others, not where they drive alike", () => {
    const drive = (fast: number) =>
      seasonFrom({
        planned: (k) => ({ operator: k % 3 === 0 ? "C." : "A." }),
        change: (extract, k) => {
          for (const pass of extract.passes) pass.means.speed! += k % 3 === 0 ? fast : 0;
        },
      }).document;
    expect(drive(0).drivers).toEqual([]);
    const { drivers, bands } = drive(0.8);
    expect(drivers.map(({ operator, variable }) => [operator, variable])).toEqual([["C.", "speed"]]);
    const alike = drive(0).operators.find(
      ({ operator, variable }) => operator === "C." && variable === "speed",
    )!;
    expect(drivers[0]!.difference.estimate - alike.difference.estimate).toBeCloseTo(0.8, 9);
    expect(bands.reduce((sum, { passes }) => sum + passes, 0)).toBe(12 * 7);
  });

  it("show what goes with speed within the fields", () => {
    const { document } = seasonFrom({
      change: (extract) => {
        for (const pass of extract.passes) pass.means.misses = 0.02 + 0.01 * (pass.means.speed! - 2.3);
      },
    });
    const slope = document.slopes.find(({ variable }) => variable === "misses")!;
    expect(slope.slope.estimate).toBeCloseTo(0.01, 4);
    // One field's passes happen to be too alike in speed to say anything.
    expect(slope.fields).toBe(11);
  });
});

describe("lots, days and what was prescribed", () => {
  const lots = (k: number, worse: number) => [
    { lot: "A", share: 0.5, means: { misses: 0.02 + worse + 0.0005 * (k % 3) } },
    { lot: "B", share: 0.5, means: { misses: 0.02 } },
  ];

  it("a lot that skips more in its fields is told, with by how much", () => {
    const season = seasonFrom({
      change: (extract, k) => {
        extract.lots = k < 5 ? lots(k, 0.01) : [];
      },
    });
    const effect = season.document.lots.find(({ lot, variable }) => lot === "A" && variable === "misses")!;
    expect(effect.fields).toBe(5);
    expect(effect.difference.estimate).toBeCloseTo(0.0104, 9);
    expect(effect.qValue).toBeLessThan(0.01);
    expect(pageOf(season)).toContain("A: 1.0 points more skips than the other lots of its field");
    const alike = seasonFrom({
      change: (extract, k) => {
        extract.lots = lots(k, 0);
        extract.lots[0]!.means.misses! -= 0.0005;
      },
    });
    expect(pageOf(alike)).not.toContain("By seed lot");
  });

  it("a day on which every field skipped more is told, but not one like the others", () => {
    const bad = (more: number) =>
      seasonFrom({
        change: (extract, k) => {
          extract.planted = `2026-04-${20 + Math.floor(k / 4)}`;
          for (const pass of extract.passes) pass.means.misses = 0.02 + 0.0005 * (k % 4) + (k < 4 ? more : 0);
        },
      });
    const { days } = bad(0.03).document;
    expect(new Set(days.map(({ day }) => day)).size).toBe(3);
    expect(pageOf(bad(0.03))).toContain(
      "Fields begun on 2026-04-20 had 3.0 points more skips than the others (",
    );
    expect(pageOf(bad(0))).not.toContain("Fields begun on");
  });

  it("loads asked for stand beside those carried, soil by soil; fields without a word of it are left out", () => {
    const zone = (k: number, soilZone: string, asked: number | null, carried: number) => ({
      soilZone,
      texture: soilZone,
      areaHa: 1 + k,
      means: { downForceMargin: carried },
      noLoadShare: 0.02,
      prescribedN: asked,
    });
    const season = seasonFrom({
      change: (extract, k) => {
        extract.zones = [
          zone(k, "clay", k < 4 ? 400 : null, 430 + k),
          zone(k, "sand", k === 0 ? 300 : null, 290),
        ];
      },
    });
    const [clay, sand] = season.document.prescribed;
    expect(clay).toMatchObject({ soil: "clay", fields: 4, areaHa: 10, askedN: 400, carriedN: 432 });
    expect(clay!.off!.difference.estimate).toBeCloseTo(31.5, 9);
    expect(sand).toMatchObject({ soil: "sand", fields: 1, off: null });
    const page = pageOf(season);
    expect(page).toContain("Prescribed, and what came of it");
    expect(page).toMatch(/clay<\/td><td class="figure">4<\/td>.*90 lb.*97 lb/);
    expect(pageOf(seasonFrom())).not.toContain("Prescribed, and what came of it");
  });
});

describe("the tables", () => {
  it("read back as they were, as CSV and as Parquet", async () => {
    const files = tablesOf(results());
    expect([...files.keys()].sort()).toEqual([...TABLE_FILES].sort());
    const read = async (name: string) => parquetReadObjects({ file: files.get(name)! });
    const passes = await read("passes.parquet");
    expect(passes).toHaveLength(12 * 8);
    expect(passes[0]).toMatchObject({
      field: "field-01",
      pass: 1,
      end_rows: true,
      no_load_share: 0.01,
      depth_mm: null,
    });
    const units = await read("row-units.parquet");
    expect(units).toHaveLength(12 * ROWS);
    expect(units[0]!.standard_error).toBeCloseTo(0.0005, 9);
    expect(await read("stands.parquet")).toEqual([]);
    const csv = new TextDecoder().decode(files.get("findings.csv"));
    // A title that a spreadsheet would take for a formula.
    expect(csv).toContain("'=Gauge wheels");
    expect(csv.split("\r\n")).toHaveLength(12 + 2);
    const metadata = parquetMetadata(files.get("places.parquet")!);
    const geo = JSON.parse(metadata.key_value_metadata!.find(({ key }) => key === "geo")!.value!);
    expect(geo.columns.geometry).toMatchObject({ encoding: "WKB", geometry_types: ["MultiPolygon"] });
    expect(geo.columns.geometry.bbox[0]).toBeCloseTo(-93, 9);
    const [first] = await read("places.parquet");
    // Little-endian WKB of a multi-polygon: 01, type 6; the reader makes GeoJSON of it.
    expect(first!.geometry).toMatchObject({ type: "MultiPolygon" });
  });
});

describe("the page", () => {
  it("holds names as text, links to the reports there are, and no place outside", () => {
    const season = seasonFrom({ skips: (unit) => (unit === 9 ? 0.02 : 0) });
    const html = seasonPage(template, season, { linked: new Set(["field-03"]) });
    expect(html).toContain("A &lt;season&gt;");
    expect(html).not.toContain("<season>");
    expect(html.match(/href="fields\/[^"]*"/g)).toEqual(['href="fields/field-03/report.html"']);
    expect(html).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
    expect(html).toContain("Row unit 9");
    expect(() => seasonPage("<html></html>", season, { linked: new Set() })).toThrow("one place");
  });

  it("for a grower speaks of the own fields alone, and of no planter or driver", () => {
    const all = results({
      skips: (unit) => (unit === 9 ? 0.02 : 0),
      planned: (k) => ({ grower: k < 5 ? "Hill" : k < 10 ? "Creek" : null, operator: "C." }),
    });
    const plan = {
      schema: PLAN_SCHEMA,
      name: "All",
      season: 2026,
      fields: all.map(({ field }) => field),
    } as const;
    all[0]!.run = { ...all[0]!.run!, status: "failed", reason: "torn" };
    const growers = growerSeasons(plan, all, seasonOf(plan, all));
    expect(growers.map(({ file, season }) => [file, season.document.fields.length])).toEqual([
      ["Creek", 5],
      ["Hill", 4],
    ]);
    const html = seasonPage(template, growers[1]!.season, { linked: new Set(["field-02"]), forGrower: true });
    expect(html).toContain('href="../fields/field-02/report.html"');
    expect(html).toContain("Over 4 fields");
    expect(html).toContain("torn");
    expect(html).not.toContain("Row unit 9");
    expect(html).not.toContain("C.");
  });

  it("of a season without a finding gives no clean bill beyond what was judged", () => {
    const season = seasonFrom({
      change: (extract) => {
        extract.findings = [];
        extract.money = null;
      },
    });
    const html = seasonPage(template, season, { linked: new Set() });
    expect(html).toContain("No field has a finding. That speaks of what each field's report says was judged");
    expect(html).not.toMatch(/nothing wrong/i);
  });

  it("of a season without a field says so", () => {
    const failed = results({ fields: 2 }).map(
      ({ field, run }): FieldResult => ({
        field,
        run: { ...run!, status: "failed", reason: "no <log>" },
        digest: null,
      }),
    );
    const html = seasonPage(template, seasonFrom(failed), { linked: new Set() });
    expect(html).toContain("No field of this season could be judged");
    expect(html).toContain("no &lt;log&gt;");
  });
});

describe("the parts of a season", () => {
  const names = fc.uniqueArray(fc.stringMatching(/^[ -~]{1,12}$/), { minLength: 1, maxLength: 30 });

  it("hold every field once, whatever their number", () => {
    fc.assert(
      fc.property(names, fc.integer({ min: 1, max: 40 }), (paths, shards) => {
        const fields = paths.map((path) => ({ id: path }) as PlannedField);
        const parts = Array.from({ length: shards }, (_, k) => shardOf(fields, k + 1, shards));
        expect(
          parts
            .flat()
            .map(({ id }) => id)
            .sort(),
        ).toEqual([...paths].sort());
        const sizes = parts.map(({ length }) => length);
        expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("have folders of their own on every file system", () => {
    fc.assert(
      fc.property(names, (paths) => {
        const ids = fieldIds(paths);
        expect(new Set(ids.map((id) => id.toLowerCase())).size).toBe(paths.length);
        for (const id of ids) expect(id).toMatch(/^[A-Za-z0-9_-][A-Za-z0-9._-]*$/);
      }),
    );
    expect(fieldIds(["a/b", "c/field.json"])).toEqual(["a--b", "c"]);
  });
});
