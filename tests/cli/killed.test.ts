/** C18 of the cases: killed while writing. The hundreds of kills are in killed.full.test.ts. */
import { expect, it } from "vitest";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { killWriter } from "./support/killed-writer.ts";

const scratch = temporaryFolder();

it("a killed run leaves old or new results whole, and the next run leaves nothing of it", async () => {
  const tally = await killWriter(scratch, "a file of the user's", 6, 18);
  expect(tally.old + tally.new + tally.aside).toBe(6);
  expect(tally.oldAfter + tally.newAfter).toBe(6);
}, 300_000);
