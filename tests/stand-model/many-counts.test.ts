import { describe, expect, it } from "vitest";
import { mapLayers } from "../../src/report/map-layers.ts";
import { countsShown } from "../../web/map/counts-shown.ts";
import { atOneSpot, countedSoOften, onALine, spread } from "./support/many-counts.ts";

/** More than are points of their own, so that they are pooled. */
const COUNTS = 1500;

describe("more counts than the model takes one by one", () => {
  it("find the place that the log explains, and how much is short", async () => {
    const { document } = await countedSoOften(COUNTS, spread(1));
    const [found] = document.findings;
    expect(found?.cause).toBe("lost-ground-contact");
    // A fifth of the 93 % that stand elsewhere, to two points: borders of cells are not those of the place.
    expect(Math.abs(found!.stand.deficitShare!.estimate - 0.186)).toBeLessThan(0.02);
  });

  it("over twice the field: those off it are said and left out", async () => {
    const { document, parts } = await countedSoOften(COUNTS, spread(2));
    expect(parts.causes.spots!.offGround).toBeGreaterThan(COUNTS / 3);
    expect(JSON.stringify(document.inputs)).toContain("no planted ground within 30 m of the count");
    expect(document.findings[0]?.cause).toBe("lost-ground-contact");
  });

  it.each([
    ["at one spot", atOneSpot],
    ["on a line", onALine],
  ])("%s they speak for their own ground alone", async (_, placing) => {
    const { document } = await countedSoOften(COUNTS, placing);
    expect(document.summary.sentence).toContain("from the log only");
    expect(document.findings.map(({ basis }) => basis)).toEqual(["predicted"]);
  });

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
