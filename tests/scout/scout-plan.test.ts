/** Where the spots lie, on a small field with one light place, with and without earlier counts. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Analysis } from "../../src/findings/analysis.ts";
import { countsTemplate, digsTemplate, scoutGeoJson } from "../../src/scout/scout-files.ts";
import { scoutGpx } from "../../src/scout/scout-gpx.ts";
import { type ScoutPlan, scoutPlan } from "../../src/scout/scout-plan.ts";
import { scoutSheet } from "../../src/scout/sheet.ts";
import { walkingOrder } from "../../src/scout/walking-order.ts";
import { escapeMarkup } from "../../src/write/markup.ts";
import { analysed, isLight } from "../support/light-field.ts";
import { SMALL_MANIFEST } from "../support/small-field.ts";

const { standCounts: _, ...WITHOUT_COUNTS } = SMALL_MANIFEST;
let analysis: Analysis;
let plan: ScoutPlan;

beforeAll(async () => {
  analysis = await analysed({}, WITHOUT_COUNTS);
  plan = scoutPlan(analysis, { spots: 30, digs: 6 });
});

describe("the spots on a log without counts", () => {
  it("are as many as asked for, numbered in order, 20 m apart or a pair in neighbouring rows", () => {
    expect(plan.spots.map(({ number }) => number)).toEqual([...Array(30).keys()].map((k) => k + 1));
    for (const a of plan.spots)
      for (const b of plan.spots.filter(({ number }) => number > a.number)) {
        if (a.finding && a.finding === b.finding && a.rows.rowUnit && a.pass === b.pass) continue;
        expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(19);
      }
  });

  it("lie inside and just outside the place the log points to, the same rows in both", () => {
    const id = analysis.document.findings[0]!.id;
    const [inside, beside] = (["inside", "beside"] as const).map((purpose) =>
      plan.spots.filter((spot) => spot.finding === id && spot.purpose === purpose),
    );
    expect(inside!.length).toBeGreaterThanOrEqual(3);
    expect(beside!.length).toBeGreaterThanOrEqual(2);
    const light = (spot: { x: number; y: number }): boolean =>
      isLight(analysis.field.frame.toLonLat(spot.x, spot.y), 12);
    expect(inside!.every(light)).toBe(true);
    expect(beside!.filter(light).length).toBeLessThanOrEqual(beside!.length / 2);
    expect(new Set([...inside!, ...beside!].map(({ rows }) => `${rows.first}-${rows.last}`)).size).toBe(1);
  });

  it("cover each soil zone and leave no large ground without a spot", () => {
    for (const zone of analysis.field.soilZones!.names)
      expect(plan.spots.filter(({ soilZone }) => soilZone === zone).length).toBeGreaterThanOrEqual(3);
    expect(plan.spots.filter(({ finding }) => finding === null).length).toBeGreaterThanOrEqual(12);
    // 5.5 ha over 30 spots: evenly spread, none of the ground is farther than about two grid steps of 43 m.
    const { cells } = analysis;
    for (let cell = 0; cell < cells.count; cell++) {
      const away = plan.spots.map(({ x, y }) => Math.hypot(x - cells.x[cell]!, y - cells.y[cell]!));
      expect(Math.min(...away)).toBeLessThan(86);
    }
  });

  it("are no nearer than a piece to the end of the pass, where the bar turns", () => {
    for (const { alongM, passLengthM } of plan.spots) {
      expect(alongM).toBeGreaterThanOrEqual(12);
      expect(passLengthM - alongM).toBeGreaterThanOrEqual(12);
    }
  });

  it("are the same each time", () => {
    expect(scoutPlan(analysis, { spots: 30, digs: 6 })).toEqual(plan);
  });

  it("ask for digs inside and beside the place", () => {
    const dug = plan.spots.filter(({ dig }) => dig);
    expect(dug).toHaveLength(6);
    expect(new Set(dug.map(({ purpose }) => purpose))).toEqual(new Set(["inside", "beside"]));
  });
});

describe("the spots after earlier counts", () => {
  it("keep away from them and say how many there are", async () => {
    const counted = await analysed({}, SMALL_MANIFEST);
    const after = scoutPlan(counted, { spots: 20, digs: 0 });
    const { x, y } = counted.field.standCounts!;
    for (const spot of after.spots)
      for (let k = 0; k < x.length; k++)
        expect(Math.hypot(spot.x - x[k]!, spot.y - y[k]!)).toBeGreaterThan(19);
    const place = counted.document.findings.find(({ stand }) => stand.counts > 0);
    if (place)
      expect(after.needs.find(({ finding }) => finding === place.id)!.already).toBe(place.stand.counts);
  });

  it("say so where the ground has no room for more", () => {
    const many = scoutPlan(analysis, { spots: 500, digs: 0 });
    expect(many.spots.length).toBeLessThan(500);
    expect(many.notes.join(" ")).toContain("500 were asked for");
  });
});

describe("the waypoints", () => {
  it("are GPX 1.1 in walking order at the places of the map, ASCII and escaped", () => {
    const name = `M\u00fcller's "Low" <40> & Co \u2603`;
    const text = scoutGpx(plan, { ...analysis.field, name });
    expect(text).toMatch(/^[\n -~]*$/);
    expect(text).toContain(
      '<gpx version="1.1" creator="Evenstand" xmlns="http://www.topografix.com/GPX/1/1">',
    );
    expect(text).toContain("Muller's &quot;Low&quot; &lt;40&gt; &amp; Co ?");
    const points = [...text.matchAll(/<wpt lat="([\d.-]+)" lon="([\d.-]+)"><name>(\d+)<\/name>/g)];
    expect(points.map(([, lat, lon]) => [Number(lon), Number(lat)])).toEqual(
      scoutGeoJson(plan, analysis.field).features.map(({ geometry }) => geometry.coordinates),
    );
    const numbers = points.map(([, , , number]) => Number(number));
    expect(numbers).toEqual(plan.spots.map(({ number }) => number));
  });
});

describe("the forms", () => {
  /** Fills the last columns of a template. */
  function filled(template: string, values: (line: number) => Record<string, string | number>): string {
    const [head, ...lines] = template.trimEnd().split("\r\n");
    const names = head!.split(",");
    return [
      head,
      ...lines.map((line, k) => {
        // The words in quotes hold commas.
        const cells = line.match(/("([^"]|"")*"|[^,]*)(,|$)/g)!.map((cell) => cell.replace(/,$/, ""));
        for (const [name, value] of Object.entries(values(k))) {
          expect(names).toContain(name);
          cells[names.indexOf(name)] = String(value);
        }
        return cells.slice(0, names.length).join(",");
      }),
    ].join("\r\n");
  }

  it("read straight back in when filled in, as counts and as digs", async () => {
    const counts = filled(countsTemplate(plan, analysis.field), (line) => ({
      plants: 118 + (line % 5),
      late_plants: line % 4,
      leaf_stages_behind: 1,
      date: "2026-05-20",
    }));
    const digs = filled(digsTemplate(plan, analysis.field), (line) => ({
      seed_depth_in: 1.4 + 0.1 * (line % 5),
      smear: line % 2 ? "none" : "some",
      furrow: "closed",
      moisture: "fit",
      seed_state: "swollen",
    }));
    const manifest = { ...SMALL_MANIFEST, standCounts: { file: "scout.csv" }, digs: { file: "digs.csv" } };
    const { field } = await analysed({ "scout.csv": counts, "digs.csv": digs }, manifest);
    expect(field.standCounts!.spotCount).toBe(30);
    expect(field.standCounts!.rowsCounted[0]).toBe(plan.spots[0]!.rows.rowUnit ? 1 : 4);
    expect(field.standCounts!.dates?.[3]).toBe("2026-05-20");
    expect(field.standCounts!.lateShare[1]).toBeCloseTo(1 / 119, 9);
    // 118 plants on four thousandths of an acre: 29,500 plants/ac.
    const four = plan.spots.findIndex(({ rows }) => rows.rowUnit === null);
    const plants = 118 + (four % 5);
    expect(field.standCounts!.standPerHa[four]! / 2.4710538).toBeCloseTo((plants / 4) * 1000, -2);
    expect(field.standCounts!.x[0]).toBeCloseTo(plan.spots[0]!.x, 1);
    expect(field.digs!.digCount).toBe(18);
    expect(field.digs!.depthMm[0]).toBeCloseTo(1.4 * 25.4, 6);
    expect(field.digs!.seedState[0]).toBe("swollen");
  });

  it("leave spots out that were not counted", async () => {
    const counts = filled(countsTemplate(plan, analysis.field), (line) =>
      line < 12 ? { plants: 120 } : ({} as Record<string, number>),
    );
    const manifest = { ...SMALL_MANIFEST, standCounts: { file: "scout.csv" } };
    const { field } = await analysed({ "scout.csv": counts }, manifest);
    expect(field.standCounts!.spotCount).toBe(12);
  });

  it("are GeoJSON points in walking order", () => {
    const { features } = scoutGeoJson(plan, analysis.field);
    expect(features.map(({ properties }) => properties.spot)).toEqual(plan.spots.map(({ number }) => number));
    expect(features[0]!.geometry.coordinates[0]).toBeCloseTo(-93.6, 1);
  });

  it("print with cautions, every spot and its place in words, nothing from outside and no script", () => {
    const html = scoutSheet(plan, analysis);
    for (const word of ["wear gloves", "seed label", "Open the furrow beside the row"])
      expect(html).toContain(word);
    for (const { number } of plan.spots) expect(html).toContain(`<div class="number">${number}</div>`);
    expect(html).toMatch(
      /pass \d+, [\d,]+ ft from its (north|south) end, rows \d+-\d+ from the left looking/,
    );
    expect(html).toContain("17 ft 5 in");
    expect(html).not.toMatch(/<script|https?:\/\//);
    expect(escapeMarkup('<b a="1">&')).toBe("&lt;b a=&quot;1&quot;&gt;&amp;");
  });
});

describe("the walking order", () => {
  it("visits every point once and is no longer than 1.3 times the straight line on a line", () => {
    const x = [0, 90, 10, 80, 20, 70, 30, 60, 40, 50];
    const order = walkingOrder(
      x,
      x.map(() => 0),
    );
    expect(order.map((k) => x[k])).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90]);
  });
  it("undoes crossings: four corners and their middle sides in a ring", () => {
    const x = [0, 50, 100, 100, 100, 50, 0, 0];
    const y = [0, 0, 0, 50, 100, 100, 100, 50];
    const order = walkingOrder(x, y);
    let length = 0;
    for (let k = 1; k < order.length; k++)
      length += Math.hypot(x[order[k]!]! - x[order[k - 1]!]!, y[order[k]!]! - y[order[k - 1]!]!);
    expect(length).toBeCloseTo(350, 9);
    expect(walkingOrder([], [])).toEqual([]);
  });
});
