/**
 * A real as-planted log on the page (Ohio 2017: Data Carpentry for Agriculture, trial-lesson, CC BY 4.0), read in
 * place through EVENSTAND_REFERENCE; never copied.
 */
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  drawn,
  launch,
  ledgerShown,
  mapErrors,
  mapSettled,
  picture,
  watchedPage,
} from "./support/browser.ts";
import { serveNoField } from "./support/servers.ts";

const REFERENCE = process.env.EVENSTAND_REFERENCE;
const FOLDER = join(REFERENCE ?? "", "data", "ohio_corn_2017");

describe.skipIf(!REFERENCE)(
  "a real log on the page (skipped unless EVENSTAND_REFERENCE names the folder of reference files)",
  () => {
    it("goes the whole way from chosen files to findings, map and tables", async () => {
      const manifest = join(mkdtempSync(join(tmpdir(), "evenstand-real-")), "field.json");
      writeFileSync(
        manifest,
        JSON.stringify({
          plantingLog: { file: "asplanted_utm17n.zip" },
          soilZones: { file: "ssurgo.geojson", zone: "musym" },
          boundary: { file: "boundary.geojson" },
        }),
      );
      const server = await serveNoField();
      const browser = await launch();
      const watched = await watchedPage(browser, DESK, /the server responded with a status of 404/);
      const { page } = watched;
      try {
        await page.goto(server.address);
        const files = ["asplanted_utm17n.zip", "ssurgo.geojson", "boundary.geojson"];
        await page
          .locator('input[type="file"]')
          .setInputFiles([manifest, ...files.map((name) => join(FOLDER, name))]);
        await ledgerShown(page);
        await mapSettled(page);
        expect((await drawn(page, "pass-threads", "pass")).length).toBeGreaterThan(10);
        expect((await drawn(page, "zone-marks", "ground")).length).toBeGreaterThan(0);
        // The log alone, without counts: nothing may be said as if it had been counted.
        for (const said of await page.locator(".entry-sure > span:first-child").allTextContents()) {
          expect(said).toContain("from the log only");
        }
        expect(await page.locator(".not-judged").textContent()).toMatch(/target|count/);
        expect(await violations(page)).toEqual([]);
        await picture(page, "real-log");
        expect(await mapErrors(page)).toEqual([]);
        expect(watched.outside).toEqual([]);
        expect(watched.complaints).toEqual([]);
      } finally {
        await browser.close();
        await server.close();
      }
    });
  },
);
