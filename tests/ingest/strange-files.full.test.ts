/** Strange files and manifests: fifty thousand in `npm run studies`, a part in the longer tests. */
import { expect, it } from "vitest";
import { studySize } from "../support/study-size.ts";
import { runStrangeFiles } from "./support/strange-files.ts";

const CASES = studySize(50_000, 1500);

it("strange files and manifests are read or refused with a reason, and nothing is lost in silence", async () => {
  const tally = await runStrangeFiles(CASES, 2026);
  process.stdout.write(`strange files: ${JSON.stringify(tally)}\n`);
  expect(tally.cases).toBe(CASES);
}, 3_600_000);
