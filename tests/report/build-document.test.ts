import { describe, expect, it } from "vitest";
import type { Draft } from "../../src/causes/draft.ts";
import type { Note } from "../../src/errors.ts";
import type { DocumentParts } from "../../src/findings/document-parts.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { buildDocument } from "../../src/report/build-document.ts";
import type { Cause } from "../../src/vocabulary/causes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { losses } from "../causes/support/parts.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const SWATH_M = 12;
const LENGTH_M = 400;
const log = drive(upAndDown(10, SWATH_M, LENGTH_M), { rowUnits: 16, rowSpacingM: 0.75, bar: true });

function fieldOf(): Field {
  const field = buildField({
    x: log.x,
    y: log.y,
    values: {
      time: log.time,
      heading: log.headingDeg,
      swathWidth: log.x.map(() => SWATH_M),
      downForceMargin: log.x.map((x, i) => (x < 30 ? 90 : 480) + (i % 7)),
      speed: log.speed,
    },
    labels: { pass: log.line.map((line) => String(line + 8)) },
    hasClockTime: true,
    planter: { rowUnits: 16, rowSpacingM: 0.75 },
    targets: { populationPerHa: 84_000, downForceMarginN: [270, 710] },
  });
  field.planted = "2026-04-24";
  field.prices = { grainPerBushel: 4.5, expectedBushelPerAcre: 200, seedPer1000: null, currency: "USD" };
  const input = { sha256: null, crs: "", recognised: [], unrecognised: [], records: 9, used: 8, leftOut: 1 };
  field.inputs = [
    { ...input, role: "plantingLog", file: "planting.zip", notes: [note("not a number")] },
    { ...input, role: "standCounts", file: "counts.geojson", notes: [] },
  ];
  return field;
}

function note(reason: string): Note {
  return { reason, effect: "left out", count: 1, field: null, firstRecord: 1, value: null };
}

const field = fieldOf();
const passes = findPasses(field);
const areaM2 = 10 * SWATH_M * LENGTH_M;

/** A draft over the records whose middle lies in a box. */
function draftIn(
  [west, south, east, north]: readonly [number, number, number, number],
  changes: Partial<Draft> & { cause?: Cause } = {},
): Draft {
  const inside = Uint8Array.from(log.x, (x, i) =>
    x >= west && x < east && log.y[i]! >= south && log.y[i]! < north ? 1 : 0,
  );
  const ground = inside.reduce((sum, mark, i) => sum + mark * passes.distanceM[i]! * passes.widthM[i]!, 0);
  return {
    cause: "lost-ground-contact",
    probability: 0.9,
    alternatives: [{ cause: "soil-or-weather", probability: 0.1 }],
    kind: "area",
    basis: "counted",
    detail: null,
    pValue: 0.002,
    polygons: [[[[west, south], [east, south], [east, north], [west, north], [west, south]]]], // biome-ignore format: one line
    areaM2: ground,
    inside,
    passes: [3, 2],
    rowUnits: [],
    soilZones: [],
    ground: "fit",
    predicted: losses({ "lost-ground-contact": 0.1 }),
    deficit: { estimate: 0.1, standardError: 0.02 },
    spots: [],
    digs: [],
    departure: null,
    ...changes,
  };
}

function documentOf(drafts: Draft[], changes: Partial<DocumentParts> = {}) {
  const ordinary = Uint8Array.from(passes.passOf, (pass, i) =>
    pass > 0 && !drafts.some((draft) => draft.inside[i]) ? 1 : 0,
  );
  return buildDocument({
    field,
    passes,
    causes: {
      drafts,
      contrasts: [],
      spots: null,
      ordinary,
      ordinarySpots: [],
      ordinaryDigs: [],
      view: null,
      predictedLoss: new Float64Array(0),
    },
    comparison: [],
    comparisonNotes: [note("outside all soil zones")],
    areaM2,
    swathWidthM: SWATH_M,
    ...changes,
  });
}

const west = [-6, 0, 30, 200] as const;
const overlapping = [-6, 100, 30, 300] as const;
const far = [90, 300, 114, 400] as const;

describe("units of the sentences", () => {
  it("metric where asked for, with the same figures beside them", () => {
    const drafts = [draftIn(west)];
    const farm = documentOf(drafts);
    const metric = documentOf(drafts, { units: "metric" });
    // 11.9 ac x 0.40468564224 ha/ac = 4.8 ha.
    expect(farm.summary.sentence).toContain("of 11.9 ac");
    expect(metric.summary.sentence).toContain("of 4.8 ha");
    // The settings name sources, which speak in the units they were published in.
    const said = ({ summary, findings }: typeof farm) => JSON.stringify([summary, findings]);
    expect(said(farm)).toMatch(/\d lb\b/);
    expect(said(metric)).not.toMatch(/\d (lb|in|mph|ac|ft|F)\b|plants\/ac|seeds\/ac/);
    const figures = ({ findings, comparison }: typeof farm) => [
      comparison,
      findings.map(({ words: _, remedy: { text: __, ...remedy }, ...rest }) => ({ ...rest, remedy })),
    ];
    expect(figures(metric)).toEqual(figures(farm));
  });
});

describe("order and numbers", () => {
  const small = draftIn(far, { deficit: { estimate: 0.05, standardError: 0.02 } });
  const large = draftIn(west, { deficit: { estimate: 0.25, standardError: 0.02 } });
  const risk = draftIn([42, 0, 66, 400], { basis: "predicted", deficit: null, predicted: losses({ misses: 0.3 }), cause: "misses" }); // biome-ignore format: one line
  const cleared = draftIn([66, 0, 90, 400], { basis: "cleared", cause: "sensor-fault" });

  it("worst money first, seen or at risk alike, then what was cleared; numbered so", () => {
    const wanted = ["misses", "lost-ground-contact", "lost-ground-contact", "sensor-fault"];
    for (const order of [
      [small, cleared, risk, large],
      [risk, large, small, cleared],
    ]) {
      const { findings } = documentOf(order);
      expect(findings.map(({ id }) => id)).toEqual(["F1", "F2", "F3", "F4"]);
      expect(findings.map(({ cause }) => cause)).toEqual(wanted);
      expect(findings[1]!.where.areaHa).toBeCloseTo(large.areaM2 / 1e4, 3);
      const costs = findings.slice(0, 3).map(({ loss }) => loss.money!.estimate);
      expect(costs).toEqual(costs.toSorted((a, b) => b - a));
    }
  });

  it("what was cleared costs nothing", () => {
    const { findings, summary } = documentOf([cleared]);
    expect(findings[0]!.loss).toMatchObject({ yieldShare: null, money: null });
    expect(summary).toMatchObject({ affectedHa: 0, nothingFoundHa: 4.8, money: null });
    expect(summary.sentence).toMatch(/^Log only: /);
  });

  it("the sentence counts places seen and places at risk", () => {
    const { sentence } = documentOf([small, large, risk, cleared]).summary;
    expect(sentence).toMatch(
      /^2 places where plants are short and 1 place at risk, from the log only, on [\d.]+ ac of 11.9 ac, about USD [\d,]+\.$/,
    );
  });
});

describe("sums", () => {
  it("ground under two findings is affected once, and paid once", () => {
    const [one, other] = [draftIn(west), draftIn(overlapping)];
    const { summary, findings, field: head } = documentOf([one, other]);
    // By hand: three passes of 12 m, 300 m long together; each finding alone 200 m.
    expect(summary.affectedHa).toBeCloseTo((3 * SWATH_M * 300) / 1e4, 2);
    expect(summary.affectedHa + summary.nothingFoundHa).toBeCloseTo(head.areaHa, 9);
    const costs = findings.map(({ loss }) => loss.money!.estimate);
    const together = costs.reduce((a, b) => a + b, 0);
    expect(summary.money!.estimate).toBeCloseTo(0.75 * together, 0);
  });

  it("parts and whole add up as shown, whatever the rounding", () => {
    for (let extra = 0; extra < 40; extra++) {
      const { summary, field: head } = documentOf([draftIn(west)], { areaM2: areaM2 + 7 * extra });
      expect(Math.abs(summary.affectedHa + summary.nothingFoundHa - head.areaHa)).toBeLessThan(1e-9);
    }
  });

  it("never more affected than there is", () => {
    const { summary } = documentOf([draftIn([-6, 0, 114, 400])], { areaM2: areaM2 / 2 });
    expect(summary).toMatchObject({ affectedHa: 2.4, nothingFoundHa: 0 });
  });
});

describe("a finding", () => {
  const [finding] = documentOf([draftIn(west)]).findings;

  it("carries the deficit with its 90 % interval", () => {
    const { estimate, low, high, level } = finding!.stand.deficitShare!;
    expect([estimate, level]).toEqual([0.1, 0.9]);
    // 1.6449: 95 % point of the normal law.
    expect(low).toBeCloseTo(0.1 - 1.6449 * 0.02, 5);
    expect(high).toBeCloseTo(0.1 + 1.6449 * 0.02, 5);
  });

  it("names our passes and those of the log, in the order of numbers", () => {
    expect(finding!.where.passes).toEqual([3, 2]);
    expect(finding!.where.logPasses).toEqual(["9", "10"]);
  });

  it("has its outline in degrees, closed, to seven decimals", () => {
    const [ring] = finding!.where.geometry.coordinates[0]!;
    expect(ring!.at(-1)).toEqual(ring![0]);
    for (const value of ring!.flat()) expect(value).toBe(Number(value.toFixed(7)));
  });

  it("measures inside against ordinary ground", () => {
    const figure = finding!.measured.downForceMarginN!;
    expect(figure.inside).toBeLessThan(100);
    expect(figure.elsewhere).toBeGreaterThan(300);
    expect(figure.target).toEqual([270, 710]);
    expect(finding!.remedy).toMatchObject({ code: "raise-margin", unit: "N", from: figure.inside });
  });

  it("leaves nothing undefined: what is unknown is null", () => {
    const document = documentOf([
      draftIn(west),
      draftIn(far, { basis: "cleared", deficit: null, pValue: null }),
    ]);
    const walk = (value: unknown, path: string): void => {
      expect(value, path).not.toBeUndefined();
      if (typeof value === "number") expect(Number.isFinite(value), path).toBe(true);
      if (value !== null && typeof value === "object")
        for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`);
    };
    walk(document, "document");
    expect(JSON.parse(JSON.stringify(document))).toEqual(document);
  });
});

describe("inputs", () => {
  it("what the tables leave out stands with the planting log, and with it alone", () => {
    const { inputs } = documentOf([]);
    expect(inputs.map(({ role, notes }) => [role, notes.map(({ reason }) => reason)])).toEqual([
      ["plantingLog", ["not a number", "outside all soil zones"]],
      ["standCounts", []],
    ]);
    expect(field.inputs[0]!.notes).toHaveLength(1);
  });

  it("thresholds are in the settings with their sources", () => {
    const { settings } = documentOf([]);
    const thresholds = settings.thresholds as Record<string, { source: string }>;
    expect(Object.keys(thresholds).length).toBeGreaterThan(15);
    for (const row of Object.values(thresholds)) expect(row.source.length).toBeGreaterThan(5);
  });
});
