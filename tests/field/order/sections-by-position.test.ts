/** Sections told by how their polygons lie, and what has to be left alone. */
import { describe, expect, it } from "vitest";
import { sectionsByPosition } from "../../../src/field/order/sections-by-position.ts";

const WIDTH = 3;
const STEP = 2;

interface Drive {
  sections: number;
  passes?: number;
  moments?: number;
  /** Records that are switched off, by pass, moment and section from the left. */
  isOff?: (pass: number, moment: number, section: number) => boolean;
  /** Back and forth when left out. */
  oneWay?: boolean;
}

/** Middles of the polygons of passes side by side, listed from the left of the way; the truth beside them. */
function driven({ sections, passes = 6, moments = 40, isOff, oneWay }: Drive) {
  const x: number[] = [];
  const y: number[] = [];
  const section: string[] = [];
  const bar = sections * WIDTH;
  for (let pass = 0; pass < passes; pass++) {
    const north = oneWay || pass % 2 === 0;
    for (let moment = 0; moment < moments; moment++) {
      for (let k = 0; k < sections; k++) {
        if (isOff?.(pass, moment, k)) continue;
        const fromLeft = (k + 0.5) * WIDTH;
        x.push(pass * bar + (north ? fromLeft : bar - fromLeft));
        y.push((north ? moment + 0.5 : moments - moment - 0.5) * STEP);
        section.push(String(k + 1));
      }
    }
  }
  return { x: Float64Array.from(x), y: Float64Array.from(y), section };
}

function told({ x, y }: { x: Float64Array; y: Float64Array }, areaM2 = WIDTH * STEP): string[] | null {
  const labels = sectionsByPosition(x, y, new Float64Array(x.length).fill(areaM2));
  return labels && Array.from(labels.codes, (code) => labels.labels[code] ?? "?");
}

describe("sections by position", () => {
  it.each([2, 3, 4, 8])(
    "%i sections a moment are numbered from the left of the way, turns and all",
    (sections) => {
      const log = driven({ sections });
      expect(told(log)).toEqual(log.section);
    },
  );

  it("tells which sections are off at the end of a pass", () => {
    const log = driven({
      sections: 4,
      isOff: (pass, moment, section) => pass === 2 && moment > 36 && section < 2,
    });
    expect(told(log)).toEqual(log.section);
  });

  it("passes over records without a position", () => {
    const log = driven({ sections: 4 });
    const gap = 4 * 15;
    log.x[gap] = Number.NaN;
    const labels = told(log)!;
    expect(labels[gap]).toBe("?");
    expect(labels.filter((label, record) => label !== log.section[record]).length).toBeLessThanOrEqual(4);
  });

  it.each([
    ["back and forth", { moments: 40 }],
    ["back and forth in short passes", { moments: 6 }],
    ["in one direction", { moments: 40, oneWay: true }],
  ])("leaves whole-bar polygons alone: %s", (_, drive) => {
    expect(told(driven({ sections: 1, passes: 30, ...drive }))).toBeNull();
  });

  it("leaves records apart from each other alone: two machines logged in turn are not two sections", () => {
    const { x, y } = driven({ sections: 2 });
    const apart = x.map((value, record) => value + (record % 2) * 20);
    expect(told({ x: apart, y })).toBeNull();
  });
});
