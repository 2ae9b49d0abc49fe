/** The example that the library shows of itself, run as it stands there. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import * as library from "../src/index.ts";
import { smallField } from "./support/small-field.ts";

it("the example of the library runs as it stands", async () => {
  const source = readFileSync(join(import.meta.dirname, "../src/index.ts"), "utf8");
  const example = source
    .slice(source.indexOf("@example"), source.indexOf("@module"))
    .split("\n")
    .slice(1, -1)
    .map((line) => line.replace(/^ \*/, ""))
    .join("\n");
  const files = smallField();
  const text = JSON.stringify(files["field.json"]);
  const bytesOf = async (path: string) => new TextEncoder().encode(JSON.stringify(files[path]));
  const names = Object.keys(library);
  const AsyncFunction = (async () => {}).constructor as new (
    ...source: string[]
  ) => (...values: unknown[]) => Promise<{ document: library.FindingsDocument; words: string }>;
  const run = new AsyncFunction("text", "bytesOf", ...names, `${example}\nreturn { document, words };`);
  const { document, words } = await run(text, bytesOf, ...Object.values(library));
  expect(document.schema).toBe(library.FINDINGS_SCHEMA);
  expect(document.field.name).toBe("Small Field");
  expect(words).toContain("Small Field");
});
