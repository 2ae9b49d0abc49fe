/** What a filter shows of the planted ground, and the ordinary spread of the row units. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ComparisonRow } from "../../src/compare/tables/comparison.ts";
import { colourColumn, scaleOf } from "../../web/colours/colour-scale.ts";
import { nearestPiece } from "../../web/map/nearest.ts";
import { emptyGround } from "../../web/protocol/ground.ts";
import { filterChoices, NO_FILTER, shownPieces } from "../../web/protocol/ground-filter.ts";
import { oddUnits, ordinaryBand } from "../../web/tables/row-unit-figures.ts";

const DAYS = new Map<number, string | null>([
  [1, "2026-04-24"],
  [2, "2026-04-24"],
  [3, "2026-04-27"],
  [4, null],
]);

const pieces = fc.array(
  fc.record({
    pass: fc.integer({ min: 0, max: 4 }),
    rowUnit: fc.integer({ min: 0, max: 3 }),
    zone: fc.integer({ min: -1, max: 2 }),
    speed: fc.constantFrom(1, 2, 2.5, 3, 4, Number.NaN),
  }),
  { minLength: 1, maxLength: 40 },
);

const filters = fc.record({
  pass: fc.option(fc.integer({ min: 1, max: 4 })),
  rowUnit: fc.option(fc.integer({ min: 1, max: 3 })),
  zone: fc.option(fc.integer({ min: 0, max: 2 })),
  day: fc.option(fc.constantFrom("2026-04-24", "2026-04-27")),
  speedBand: fc.option(fc.integer({ min: 0, max: 2 })),
});

/** Below 2 m/s, from 2 and below 3, 3 and more. */
const BANDS = [
  [-Infinity, 2],
  [2, 3],
  [3, Infinity],
] as const;

function groundOf(list: readonly { pass: number; rowUnit: number; zone: number; speed?: number }[]) {
  const ground = emptyGround(list.length, "records", -93, 42);
  list.forEach(({ pass, rowUnit, zone }, i) => {
    ground.pass[i] = pass;
    ground.rowUnit[i] = rowUnit;
    ground.zone[i] = zone;
  });
  ground.values.speed = Float32Array.from(list, ({ speed }) => speed ?? 2);
  return ground;
}

describe("a filter of the map", () => {
  it("shows exactly the pieces that fit every part of it", () => {
    fc.assert(
      fc.property(pieces, filters, (list, filter) => {
        const shown = shownPieces(groundOf(list), filter, DAYS, BANDS);
        const fitting = list.map(
          (piece) =>
            (filter.pass ?? piece.pass) === piece.pass &&
            (filter.rowUnit ?? piece.rowUnit) === piece.rowUnit &&
            (filter.zone ?? piece.zone) === piece.zone &&
            (filter.speedBand === null ||
              (piece.speed >= BANDS[filter.speedBand]![0] && piece.speed < BANDS[filter.speedBand]![1])) &&
            (filter.day === null || DAYS.get(piece.pass) === filter.day),
        );
        const mask = shown ? [...shown.mask].map((value) => value === 1) : list.map(() => true);
        expect(mask).toEqual(fitting);
        if (shown) expect(shown.count).toBe(fitting.filter(Boolean).length);
      }),
    );
  });

  it("leaves everything on the map when it is empty", () => {
    expect(shownPieces(groundOf([{ pass: 1, rowUnit: 1, zone: 0 }]), NO_FILTER, DAYS, [])).toBeNull();
  });

  it("offers what the log has, and nothing for the bar as a whole or ground outside the zones", () => {
    const ground = groundOf([
      { pass: 2, rowUnit: 0, zone: 1 },
      { pass: 1, rowUnit: 0, zone: -1 },
    ]);
    expect(filterChoices(ground, DAYS)).toEqual({
      passes: [1, 2, 3, 4],
      rowUnits: [],
      zones: [1],
      days: ["2026-04-24", "2026-04-27"],
      // One speed all over leaves no bands to tell apart.
      speedBands: [],
    });
  });

  it("offers five bands of speed with about as many records each, the ends open", () => {
    const speeds = Array.from({ length: 1000 }, (_, i) => 1 + ((i * 7) % 1000) / 500);
    const ground = groundOf(speeds.map((speed) => ({ pass: 1, rowUnit: 1, zone: 0, speed })));
    const { speedBands } = filterChoices(ground, DAYS);
    const counts = speedBands.map(
      (_, speedBand) => shownPieces(ground, { ...NO_FILTER, speedBand }, DAYS, speedBands)!.count,
    );
    expect(counts).toEqual([200, 200, 200, 200, 200]);
  });

  it("takes the colour from what it leaves out, and the pointer passes over it", () => {
    const ground = groundOf([
      { pass: 1, rowUnit: 1, zone: 0 },
      { pass: 2, rowUnit: 1, zone: 0 },
    ]);
    const values = Float32Array.from([40, 60]);
    const { mask } = shownPieces(ground, { ...NO_FILTER, pass: 2 }, DAYS, [])!;
    const scale = scaleOf("seedingDepth", values, {
      seedingDepthMm: 50,
      populationPerHa: null,
      downForceMarginN: null,
      speedMetresPerSecond: null,
    });
    const colours = colourColumn(scale, values, mask);
    expect([colours[3], colours[7]]).toEqual([0, 255]);
    // The piece shown keeps the colour it has among all.
    expect(colours.slice(4)).toEqual(colourColumn(scale, values).slice(4));
    // Both pieces lie on one place.
    expect(nearestPiece(ground, -93, 42, 8)).toBe(0);
    expect(nearestPiece(ground, -93, 42, 8, mask)).toBe(1);
  });
});

function unitRows(means: readonly number[]): ComparisonRow[] {
  const sum = means.reduce((total, mean) => total + mean, 0);
  return means.map(
    (mean, i) =>
      ({
        rowUnit: i + 1,
        variable: "seedingDepth",
        mean,
        difference: mean - (sum - mean) / (means.length - 1),
      }) as ComparisonRow,
  );
}

describe("the ordinary spread of row units", () => {
  it("is that of the others: a unit far off moves neither end", () => {
    const others = Array.from({ length: 20 }, (_, i) => 50 + i / 10);
    const rows = unitRows([...others, 30]);
    const odd = oddUnits(rows, new Set());
    expect([...odd]).toEqual([21]);
    // Quantiles type 7 of 50.0, 50.1 ... 51.9: ranks 0.05 x 19 = 0.95 and 18.05.
    const [low, high] = ordinaryBand(rows, odd)!;
    expect(low).toBeCloseTo(50.095, 9);
    expect(high).toBeCloseTo(51.805, 9);
  });

  it("is not drawn from fewer than eight row units", () => {
    expect(ordinaryBand(unitRows([50, 51, 52, 53, 54, 55, 56]), new Set())).toBeNull();
  });
});
