/** C18 of the cases: killed while writing. The hundred kills are in killed.full.test.ts. */
import { expect, it } from "vitest";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { killWriter } from "./support/killed-writer.ts";

const scratch = temporaryFolder();

it("a killed run leaves old or new results whole, and the next run leaves nothing of it", async () => {
  const tally = await killWriter(scratch, 6, 18);
  expect(tally.old + tally.new + tally.moving).toBe(6);
}, 300_000);
