/** What of the documents is written by the code. `npm run docs` writes it anew. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { constantsBelow, constantsText } from "./support/constants.ts";

const root = join(import.meta.dirname, "..");

it("docs/constants.md is what the code says of its constants", () => {
  const path = join(root, "docs/constants.md");
  const constants = constantsBelow(join(root, "src"), root);
  expect(constants.length).toBeGreaterThan(100);
  const text = constantsText(constants);
  if (process.env.UPDATE_DOCS) writeFileSync(path, text);
  expect(readFileSync(path, "utf8"), "stale: run npm run docs").toBe(text);
});
