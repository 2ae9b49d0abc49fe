/** The way from record to record, whatever is logged between: rows side by side, another machine, a shuffled file. */
import { describe, expect, it } from "vitest";
import type { TimeReading } from "../../src/ingest/values/times.ts";
import { seededRandom } from "../../src/numerics/random.ts";
import { wayHints } from "../../src/recognise/way-hints.ts";

interface Moment {
  x: number;
  y: number;
  seconds: number;
  part: number;
}

/** One line driven north from (east, 0), a moment every two seconds, `rows` records 0.762 m apart at each. */
function line(east: number, rows: number, stepM: number, from: number): Moment[] {
  return Array.from({ length: 60 * rows }, (_, record) => {
    const moment = Math.floor(record / rows);
    return {
      x: east + 0.762 * (record % rows),
      y: moment * stepM,
      seconds: from + 2 * moment,
      part: (record % rows) + 1,
    };
  });
}

function hintsOf(moments: readonly Moment[], timed: boolean, parts: boolean) {
  const column = (key: keyof Moment) => Float64Array.from(moments, (moment) => moment[key]);
  const time = { seconds: column("seconds"), resolution: "time" } as unknown as TimeReading;
  return wayHints(column("x"), column("y")).wayOver(timed ? time : null, parts ? column("part") : null);
}

const byTime = (a: Moment, b: Moment): number => a.seconds - b.seconds;

describe("the way between records", () => {
  it("of row units is along the row, not across the bar", () => {
    for (const timed of [true, false])
      expect(hintsOf(line(0, 8, 5.9, 0), timed, true).stepMetres).toBeCloseTo(5.9, 6);
    expect(hintsOf(line(0, 8, 5.9, 0), true, true).metresPerSecond).toBeCloseTo(2.95, 6);
  });

  it("of two machines is that of each, in whatever order the file stands", () => {
    const both = [...line(0, 1, 5.3, 0), ...line(400, 1, 5.3, 0.7)].sort(byTime);
    expect(hintsOf(both, true, false)).toEqual({
      stepMetres: expect.closeTo(5.3, 6),
      metresPerSecond: expect.closeTo(2.65, 6),
    });
    const random = seededRandom(5);
    const shuffled = both.map((moment) => ({ moment, at: random() })).sort((a, b) => a.at - b.at);
    const hints = hintsOf(
      shuffled.map(({ moment }) => moment),
      true,
      false,
    );
    expect(hints.stepMetres).toBeCloseTo(5.3, 6);
  });

  it("is not told by a handful of records, the speed not by days", () => {
    expect(hintsOf(line(0, 1, 5, 0).slice(0, 5), true, false)).toEqual({
      stepMetres: null,
      metresPerSecond: null,
    });
    expect(hintsOf(line(0, 1, 5, 0), false, false).metresPerSecond).toBeNull();
  });
});
