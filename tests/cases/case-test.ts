/** Cases as tests, by their numbers. */
import { it } from "vitest";

/** A case runs the whole command, some several times; machines are shared. */
const TIMEOUT_MS = 300_000;

/** A test of one case, by its number. */
export function caseTest(id: string, verdict: string, body: () => Promise<void>): void {
  it(`${id}: ${verdict}`, body, TIMEOUT_MS);
}
