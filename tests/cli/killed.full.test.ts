/** Kills aimed at the writing of results: a hundred of each kind in `npm run studies`, a part in the longer tests. */
import { expect, it } from "vitest";
import { studySize } from "../support/study-size.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { type Before, killWriter } from "./support/killed-writer.ts";

const scratch = temporaryFolder();
const KILLS = studySize(100, 8);
const KINDS: readonly [Before, number][] = [
  ["ours", 2026],
  ["a file of the user's", 2027],
  ["nothing", 2028],
  ["a folder of the user's", 2029],
];

it.each(KINDS)(
  "with %s there, kills leave old or new results whole, and the next run leaves nothing of them",
  async (before, seed) => {
    const tally = await killWriter(scratch, before, KILLS, seed);
    process.stdout.write(`kills with ${before} there: ${JSON.stringify(tally)}\n`);
    expect(tally.old + tally.new + tally.aside + tally.part).toBe(KILLS);
    expect(tally.oldAfter + tally.newAfter).toBe(KILLS);
    // Only a folder of the user's keeps the results from being exchanged as a whole.
    if (before !== "a folder of the user's") expect(tally.part).toBe(0);
    // How many of a few kills meet the writing itself depends on the machine; of a hundred some do.
    if (KILLS >= 100) expect(tally.unfinished).toBeGreaterThan(20);
  },
  3_600_000,
);
