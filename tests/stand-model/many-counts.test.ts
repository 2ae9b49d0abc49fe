import { describe, expect, it } from "vitest";
import { mapLayers } from "../../src/report/map-layers.ts";
import { countsShown } from "../../web/map/counts-shown.ts";
import { atOneSpot, countedSoOften, spread } from "./support/many-counts.ts";
import { holdsWith } from "./support/many-counts-hold.ts";

/** More than are points of their own, so that they are pooled. */
const COUNTS = 1500;

describe("more counts than the model takes one by one", () => {
  holdsWith(COUNTS);

  it("are drawn and listed in part where no screen can show them, and that is told", async () => {
    const layers = mapLayers(await countedSoOften(4500, atOneSpot));
    expect(layers.countsInAll).toBe(4500);
    expect(layers.counts.features.length).toBe(2250);
    expect(countsShown(layers)).toBe(
      "2,250 of the 4,500 stand counts are drawn and listed, spread over the file; the findings rest on all of them.",
    );
    const few = mapLayers(await countedSoOften(100, atOneSpot));
    expect([few.counts.features.length, few.countsInAll]).toEqual([100, undefined]);
  });

  it("three are too few, and that is said", async () => {
    const { document } = await countedSoOften(3, spread(1));
    expect(document.summary.sentence).toContain("from the log only");
  });
});
