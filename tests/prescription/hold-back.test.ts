/** Which findings hold a zone's number back, and which are only named. */
import { describe, expect, it } from "vitest";
import type { Draft } from "../../src/causes/draft.ts";
import type { ZoneEvidence } from "../../src/prescription/evidence.ts";
import { holdBack } from "../../src/prescription/hold-back.ts";
import { comesFirst, type InTheWay } from "../../src/prescription/settle-first.ts";
import type { Cause } from "../../src/vocabulary/causes.ts";

function draft(cause: Cause, kind: Draft["kind"], variable: string | null = null): Draft {
  const departure = variable === null ? null : { variable, shift: 0, from: 1, to: 4, ofPasses: 4 };
  return {
    cause,
    kind,
    passes: [1, 2, 3, 4],
    rowUnits: [17],
    departure,
    alternatives: [],
  } as unknown as Draft;
}

function inTheWay(id: string, own: Draft, share: number): InTheWay {
  return { finding: { id, title: `${own.cause} ${id}`, place: "", draft: own }, share };
}

function evidence(entries: InTheWay[], spots: number, spotsLeft: number): ZoneEvidence {
  const share = entries.reduce((sum, entry) => sum + entry.share, 0);
  return { taint: { inTheWay: entries, share, spots, spotsLeft } } as unknown as ZoneEvidence;
}

const unit = inTheWay("F5", draft("too-shallow", "row-unit", "seedingDepth"), 1 / 24);
const speed = inTheWay("F4", draft("excess-speed", "pass"), 0.24);

describe("a zone", () => {
  it("is not stopped by one unit of 24 whose counts leave enough", () => {
    expect(holdBack(evidence([unit], 20, 18))).toEqual([]);
  });

  it("waits where its counts rest on that unit", () => {
    expect(holdBack(evidence([unit], 9, 7)).map(({ finding }) => finding)).toEqual(["F5"]);
  });

  it("does not wait for a unit where it never had enough counts: that is no evidence, not a repair", () => {
    expect(holdBack(evidence([unit], 5, 4))).toEqual([]);
  });

  it("waits where speed covers a fifth of it, and only for what covers it", () => {
    const [first, ...rest] = holdBack(evidence([speed, unit], 20, 15));
    expect(first!.finding).toBe("F4");
    expect(first!.words).toContain("passes 1-4 (24 % of the zone): slow down first");
    expect(rest).toEqual([]);
  });
});

describe("what comes before a load", () => {
  it("is speed, traffic, iron and load or depth sensors, not meters and not the ground", () => {
    expect(comesFirst(draft("excess-speed", "pass"))).toBe(true);
    expect(comesFirst(draft("wheel-traffic", "section", "downForceMargin"))).toBe(true);
    expect(comesFirst(draft("worn-row-unit", "row-unit", "seedingDepth"))).toBe(true);
    expect(comesFirst(draft("sensor-fault", "row-unit", "downForceMargin"))).toBe(true);
    expect(comesFirst(draft("lost-ground-contact", "row-unit", "downForceMargin"))).toBe(true);
    expect(comesFirst(draft("sensor-fault", "row-unit", "misses"))).toBe(false);
    expect(comesFirst(draft("misses", "row-unit", "misses"))).toBe(false);
    expect(comesFirst(draft("lost-ground-contact", "area"))).toBe(false);
    expect(comesFirst(draft("soil-or-weather", "area"))).toBe(false);
  });
});
