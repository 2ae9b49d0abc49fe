/** Which ground a count may have been made on, against positions drawn at random and against what can be told by hand. */
import { describe, expect, it } from "vitest";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { type Exposure, exposureOf } from "../../src/stand-model/exposure.ts";
import { countedAt, type OneCount, ROW_M, STEP_M, straightBar } from "./support/straight-bar.ts";

const ROWS = 8;
const BAR_M = ROWS * ROW_M;
const LENGTH_M = 80;
/** Of the position of a count, each way. */
const ERROR_M = 2;

/** Middle of a row unit on a pass, m east; passes 1, 3, ... run north, the others south. */
function eastOf(pass: number, row: number, rowUnits = ROWS): number {
  const side = pass % 2 === 1 ? 1 : -1;
  return (pass - 1) * rowUnits * ROW_M + side * (row - (rowUnits + 1) / 2) * ROW_M;
}

function exposed(rowsOfRecord: number, counts: readonly OneCount[], rowUnits = ROWS, errorM = ERROR_M) {
  const { field, passes } = straightBar({ rowUnits, passes: 3, lengthM: LENGTH_M, rowsOfRecord });
  const exposure = exposureOf(field, passes, countedAt(field, counts), errorM);
  return { field, passes, exposure };
}

const rowsOf = ({ rowShare, rowUnits }: Exposure, spot = 0): number[] => [
  ...rowShare.subarray(spot * rowUnits, (spot + 1) * rowUnits),
];
const sum = (values: Iterable<number>): number => [...values].reduce((total, value) => total + value, 0);
/** Mean row unit by its share. */
const middleRow = (shares: readonly number[]): number => sum(shares.map((share, k) => share * (k + 1)));

const COUNTS: OneCount[] = [
  { x: eastOf(1, 3), y: 41 },
  { x: eastOf(2, 3), y: 40.3, rowsCounted: 2 },
  { x: 0.5 * BAR_M, y: 30, rowsCounted: 4, rowLengthM: 5.3 },
  { x: eastOf(2, 8), y: 2, rowLengthM: 10 },
  { x: eastOf(3, 1), y: LENGTH_M - 1, rowsCounted: 8 },
  { x: eastOf(2, 5), y: 55, rowUnit: 5 },
];

describe.each([
  ["row units", 1],
  ["sections", 4],
  ["the whole bar", 8],
])("a log by %s", (_, rowsOfRecord) => {
  const { exposure } = exposed(rowsOfRecord, COUNTS);

  it("gives each count shares of records and of rows that sum to 1", () => {
    for (let spot = 0; spot < COUNTS.length; spot++) {
      const shares = exposure.share.subarray(exposure.start[spot]!, exposure.start[spot + 1]!);
      expect(shares.length).toBeGreaterThan(2);
      expect(sum(shares)).toBeCloseTo(1, 12);
      expect(Math.min(...shares)).toBeGreaterThan(0);
      expect(sum(rowsOf(exposure, spot))).toBeCloseTo(1, 12);
    }
  });

  it("leaves no doubt about a row that the count names", () => {
    expect([...exposure.named]).toEqual([0, 0, 0, 0, 0, 1]);
    expect(rowsOf(exposure, 5)).toEqual([0, 0, 0, 0, 1, 0, 0, 0]);
  });

  it("knows left from right on the way north and on the way south", () => {
    for (const [pass, row] of [
      [1, 2],
      [2, 2],
      [1, 7],
      [2, 7],
    ] as const) {
      // Half a metre of error: the middle of what is possible has to be the row itself.
      const own = rowsOf(exposed(rowsOfRecord, [{ x: eastOf(pass, row), y: 40 }], ROWS, 0.5).exposure);
      expect(own.indexOf(Math.max(...own)) + 1, `pass ${pass}, row ${row}`).toBe(row);
      expect(middleRow(own)).toBeGreaterThan(row - 0.2);
      expect(middleRow(own)).toBeLessThan(row + 0.2);
    }
  });

  it("agrees with positions drawn at random", () => {
    COUNTS.slice(0, 5).forEach((count, spot) => {
      const drawn = drawnRows(count);
      rowsOf(exposure, spot).forEach((share, k) => {
        expect(Math.abs(share - drawn[k]!), `count ${spot}, row ${k + 1}`).toBeLessThan(0.012);
      });
    });
  });
});

/** Rows under a count whose true position is drawn 40,000 times around the written one; ground beside the passes has none. */
function drawnRows({ x, rowsCounted = 1 }: OneCount): number[] {
  const random = seededRandom(17);
  const hits: number[] = Array(ROWS).fill(0);
  for (let draw = 0; draw < 40_000; draw++) {
    const east = x + ERROR_M * normal(random);
    for (let c = 0; c < rowsCounted; c++) {
      const at = east + (c - (rowsCounted - 1) / 2) * ROW_M;
      const pass = Math.floor((at + BAR_M / 2) / BAR_M) + 1;
      if (pass < 1 || pass > 3) continue;
      const fromLeft = at - ((pass - 1) * BAR_M - BAR_M / 2);
      const row = Math.floor(fromLeft / ROW_M) + 1;
      hits[(pass % 2 === 1 ? row : ROWS + 1 - row) - 1]!++;
    }
  }
  const all = sum(hits);
  return hits.map((count) => count / all);
}

describe("along the row", () => {
  it("the ground reaches as far as row length and error of position let it, evenly to both sides", () => {
    const { exposure, passes, field } = exposed(8, [{ x: 0, y: 40, rowLengthM: 6 }]);
    const byPlace = new Map<number, number>();
    for (let k = 0; k < exposure.record.length; k++) {
      const record = exposure.record[k]!;
      if (passes.passOf[record] !== 1) continue;
      byPlace.set(field.log.y[record]!, exposure.share[k]!);
    }
    const onPass = sum(byPlace.values());
    // A record takes part where the counted row touches its ground.
    const random = seededRandom(29);
    const touched = new Map<number, number>();
    let touches = 0;
    for (let draw = 0; draw < 40_000; draw++) {
      const y = 40 + ERROR_M * normal(random);
      for (let place = STEP_M / 2; place < LENGTH_M; place += STEP_M) {
        if (Math.abs(y - place) >= 3 + STEP_M / 2) continue;
        touched.set(place, (touched.get(place) ?? 0) + 1);
        touches++;
      }
    }
    for (const [place, count] of touched)
      expect(Math.abs(count / touches - (byPlace.get(place) ?? 0) / onPass), `${place} m`).toBeLessThan(
        0.005,
      );
    expect(byPlace.get(39)).toBeCloseTo(byPlace.get(41)!, 12);
  });

  it("of a count between two passes belongs to both alike", () => {
    const { exposure, passes } = exposed(1, [{ x: BAR_M / 2, y: 40 }]);
    const onPass = [0, 0, 0, 0];
    for (let k = 0; k < exposure.record.length; k++)
      onPass[passes.passOf[exposure.record[k]!]!]! += exposure.share[k]!;
    expect(onPass[1]).toBeCloseTo(0.5, 2);
    expect(onPass[2]).toBeCloseTo(0.5, 2);
    // Both plant this ground with the right half of the bar, 3.05 m wide, which an error of 2 m leaves in 12.7 %.
    expect(sum(rowsOf(exposure).slice(4))).toBeCloseTo(0.873, 2);
  });
});

it("a wide bar logged by sections has its rows where they are, at its ends too", () => {
  const rowUnits = 48;
  for (const row of [2, 12, 24, 37, 47]) {
    const counts = [1, 2].map((pass) => ({ x: eastOf(pass, row, rowUnits), y: 40 }));
    const { exposure } = exposed(8, counts, rowUnits, 0.5);
    for (const spot of [0, 1])
      expect(Math.abs(middleRow(rowsOf(exposure, spot)) - row), `row ${row}`).toBeLessThan(0.3);
  }
});

it("a count far from the log has no ground", () => {
  const { exposure } = exposed(1, [
    { x: 500, y: 40 },
    { x: 0, y: 40 },
  ]);
  expect(exposure.start[1]).toBe(0);
  expect(exposure.start[2]).toBeGreaterThan(0);
  expect(sum(rowsOf(exposure, 0))).toBe(0);
});
