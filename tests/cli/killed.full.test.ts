/** A hundred kills aimed at the writing of results. */
import { expect, it } from "vitest";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { killWriter } from "./support/killed-writer.ts";

const scratch = temporaryFolder();

it("of a hundred kills each leaves old or new results whole, and the next run leaves nothing of them", async () => {
  const tally = await killWriter(scratch, 100, 2026);
  process.stdout.write(`kills: ${JSON.stringify(tally)}\n`);
  expect(tally.old + tally.new + tally.moving).toBe(100);
  expect(tally.unfinished).toBeGreaterThan(20);
}, 1_800_000);
