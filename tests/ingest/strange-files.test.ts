/** A part of the strange files; the long run is in strange-files.full.test.ts. */
import { expect, it } from "vitest";
import { runStrangeFiles, STRATEGIES } from "./support/strange-files.ts";

it("600 strange files and manifests are read or refused with a reason, and nothing is lost in silence", async () => {
  const tally = await runStrangeFiles(600, 15);
  expect(tally.cases).toBe(600);
  for (const strategy of STRATEGIES) expect(tally.refused[strategy], strategy).toBeGreaterThan(0);
  // A reader that refuses everything would pass all else.
  for (const strategy of ["json tree", "dbf header", "zip field", "encoding"] as const)
    expect(tally.accepted[strategy], strategy).toBeGreaterThan(0);
}, 300_000);
