/** The page with 1,000,000 records against the command line, on this machine, in this run. */
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { commandSeconds, largeField, pageFigures } from "../bench/page-measure.mjs";
import { launch } from "./support/browser.ts";
import { ROOT, serveNoField } from "./support/servers.ts";

const RECORDS = 1_000_000;

describe("the page with a million records", () => {
  const ends: (() => Promise<void>)[] = [];
  afterAll(async () => {
    for (const end of ends) await end();
  });

  it("draws the map within 2.5 times the command line's time, in 1.5 GiB, and pans without long script", async () => {
    const folder = mkdtempSync(join(tmpdir(), "evenstand-large-"));
    const field = largeField(join(folder, "field"), RECORDS);
    const lineSeconds = commandSeconds(join(ROOT, "dist/src/cli/main.js"), field, join(folder, "out"));
    const server = await serveNoField();
    const browser = await launch();
    ends.push(
      () => browser.close(),
      () => server.close(),
    );
    const { mapSeconds, wholeSeconds, memoryMiB, panningMs } = await pageFigures(
      browser,
      server.address,
      field,
    );
    process.stdout.write(
      `1,000,000 records: map ${(mapSeconds / lineSeconds).toFixed(2)} and ledger ${(wholeSeconds / lineSeconds).toFixed(2)} times the command line's ${lineSeconds.toFixed(1)} s; ${memoryMiB?.toFixed(0)} MiB; longest script in panning ${panningMs.toFixed(0)} ms\n`,
    );
    expect(mapSeconds / lineSeconds).toBeLessThan(2.5);
    expect(memoryMiB ?? 0).toBeLessThan(1536);
    expect(panningMs).toBeLessThan(50);
  });
});
