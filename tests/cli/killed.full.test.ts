/** Kills aimed at the writing of results: a hundred in `npm run studies`, a part in the longer tests. */
import { expect, it } from "vitest";
import { studySize } from "../support/study-size.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { killWriter } from "./support/killed-writer.ts";

const scratch = temporaryFolder();
const KILLS = studySize(100, 8);

it("kills leave old or new results whole, or a part of one run with a notice, which the next run finishes, and then nothing of them", async () => {
  const tally = await killWriter(scratch, KILLS, 2026);
  process.stdout.write(`kills: ${JSON.stringify(tally)}\n`);
  expect(tally.old + tally.new + tally.moving).toBe(KILLS);
  // How many of a few kills meet the writing itself depends on the machine; of a hundred some do.
  if (KILLS >= 100) expect(tally.unfinished).toBeGreaterThan(20);
}, 3_600_000);
