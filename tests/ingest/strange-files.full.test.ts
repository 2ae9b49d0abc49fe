/** Fifty thousand strange files and manifests. */
import { expect, it } from "vitest";
import { runStrangeFiles } from "./support/strange-files.ts";

it("50 000 strange files and manifests are read or refused with a reason, and nothing is lost in silence", async () => {
  const tally = await runStrangeFiles(50_000, 2026);
  process.stdout.write(`strange files: ${JSON.stringify(tally)}\n`);
  expect(tally.cases).toBe(50_000);
}, 3_600_000);
