/** What has to hold however many counts there are. */
import { expect, it } from "vitest";
import { atOneSpot, countedSoOften, onALine, spread } from "./many-counts.ts";

/** Declares the tests for so many counts. */
export function holdsWith(counts: number): void {
  it("find the place that the log explains, and how much is short", async () => {
    const { document } = await countedSoOften(counts, spread(1));
    const [found] = document.findings;
    expect(found?.cause).toBe("lost-ground-contact");
    // A fifth of the 93 % that stand elsewhere, to two points: borders of cells are not those of the place.
    expect(Math.abs(found!.stand.deficitShare!.estimate - 0.186)).toBeLessThan(0.02);
  });

  it("over twice the field: those off it are said and left out", async () => {
    const { document, parts } = await countedSoOften(counts, spread(2));
    expect(parts.causes.spots!.offGround).toBeGreaterThan(counts / 3);
    expect(JSON.stringify(document.inputs)).toContain("no planted ground within 30 m of the count");
    expect(document.findings[0]?.cause).toBe("lost-ground-contact");
  });

  it.each([
    ["at one spot", atOneSpot],
    ["on a line", onALine],
  ])("%s they speak for their own ground alone", async (_, placing) => {
    const { document } = await countedSoOften(counts, placing);
    expect(document.summary.sentence).toContain("from the log only");
    expect(document.findings.map(({ basis }) => basis)).toEqual(["predicted"]);
  });
}
