/** The furrow strip's data: moments in order along a pass, soils as runs, the finding's stretch marked. */
import { describe, expect, it } from "vitest";
import { roundTicks, scaleLinear } from "../../web/furrow/scales.ts";
import { aroundMarked, momentMean, stripOf } from "../../web/furrow/strip-data.ts";
import { isInside, labelPoint } from "../../web/model/geometry.ts";
import { longestPassInside } from "../../web/model/pass-choice.ts";
import { numberedFindings } from "../../web/model/ranking.ts";
import { groundFromCells } from "../../web/protocol/ground.ts";
import { inventedDocument, inventedLayers } from "../browser/support/invented-field.ts";

const ground = groundFromCells(inventedLayers().cells);
const document = inventedDocument();
const byId = (id: string) => document.findings.find((finding) => finding.id === id)!;

describe("a strip", () => {
  it("has the pass's moments in order and its soils without gaps", () => {
    const strip = stripOf(ground, 10, null)!;
    expect(strip.moments.length).toBe(42);
    const along = strip.moments.map((moment) => moment.alongM);
    expect(along).toEqual([...along].sort((a, b) => a - b));
    expect([strip.fromM, strip.toM]).toEqual([0, 504]);
    for (let i = 1; i < strip.zones.length; i++) {
      expect(strip.zones[i]!.fromM).toBe(strip.zones[i - 1]!.toM);
      expect(strip.zones[i]!.zone).not.toBe(strip.zones[i - 1]!.zone);
    }
  });

  it("marks where the finding is, and nothing for a finding elsewhere", () => {
    const knoll = stripOf(ground, 10, byId("F1"))!;
    // Pass 10 runs southwards through the invented knoll's middle, 95 m to both sides (12 % wobble of its outline).
    expect(knoll.marked.length).toBe(1);
    const length = knoll.marked[0]!.toM - knoll.marked[0]!.fromM;
    expect(length).toBeGreaterThan(140);
    expect(length).toBeLessThan(220);
    for (const moment of knoll.moments) {
      const inMark = moment.alongM > knoll.marked[0]!.fromM && moment.alongM < knoll.marked[0]!.toM;
      if (inMark) expect(momentMean(ground, moment, "downForceMargin")).toBeLessThan(620);
    }
    expect(stripOf(ground, 40, byId("F1"))!.marked).toEqual([]);
    expect(stripOf(ground, 99, null)).toBeNull();
  });

  it("comes closer without losing the marked stretch", () => {
    const whole = stripOf(ground, 10, byId("F1"))!;
    const close = aroundMarked(whole);
    expect(close.toM - close.fromM).toBeLessThan(whole.toM - whole.fromM);
    expect(close.fromM).toBeLessThan(whole.marked[0]!.fromM);
    expect(close.toM).toBeGreaterThan(whole.marked[0]!.toM);
  });

  it("is of the pass with the most ground in the finding", () => {
    expect(longestPassInside(ground, byId("F5"), new Set())).toBeGreaterThanOrEqual(38);
    const middle = longestPassInside(ground, byId("F3"), new Set())!;
    expect(middle).toBeGreaterThan(28);
    expect(middle).toBeLessThan(38);
    expect(longestPassInside(ground, byId("F3"), new Set([middle]))).not.toBe(middle);
  });
});

describe("numbers on the map", () => {
  it("lie inside their group, or on the only strips there are", () => {
    for (const id of ["F1", "F3", "F5", "F2"]) {
      const { geometry } = byId(id).where;
      const [longitude, latitude] = labelPoint(geometry)!;
      expect([id, isInside(geometry, longitude, latitude)]).toEqual([id, true]);
    }
    expect(labelPoint(byId("F6").where.geometry)).toBeNull();
  });

  it("lie inside a group that bends round its own middle", () => {
    const bent = [
      [0, 0],
      [10, 0],
      [10, 10],
      [8, 10],
      [8, 2],
      [0, 2],
      [0, 0],
    ];
    const geometry = { type: "MultiPolygon" as const, coordinates: [[bent]] };
    const [x, y] = labelPoint(geometry)!;
    expect(isInside(geometry, x, y)).toBe(true);
  });

  it("follow the money, and what was cleared comes last", () => {
    expect(numberedFindings(document).map(({ number, finding }) => [number, finding.id])).toEqual([
      [1, "F1"],
      [2, "F2"],
      [3, "F3"],
      [4, "F4"],
      [5, "F5"],
      [6, "F6"],
    ]);
  });
});

describe("scales of the drawings", () => {
  it("go there and back", () => {
    const scale = scaleLinear([10, 60], [100, 400]);
    expect(scale(10)).toBe(100);
    expect(scale(60)).toBe(400);
    expect(scale.invert(scale(37))).toBeCloseTo(37, 12);
  });

  it("tick at round values inside the range", () => {
    expect(roundTicks(0, 2.4, 5)).toEqual([0, 0.5, 1, 1.5, 2]);
    expect(roundTicks(-3, 12, 4)).toEqual([0, 5, 10]);
    expect(roundTicks(7, 7, 4)).toEqual([7]);
  });
});
