/** Another season of the field beside the open one: its report is chosen, the maps move together, both stand in figures. */
import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { strToU8, zipSync } from "fflate";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { type MapLayers, mapLayers } from "../../src/report/map-layers.ts";
import { fillTemplate } from "../../src/report/report-text.ts";
import { larkspurFiles, loadLarkspur } from "../acceptance/support/larkspur.ts";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  launch,
  ledgerShown,
  mapSettled,
  PHONE,
  picture,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { reportTemplate, serveSample } from "./support/servers.ts";

let browser: Browser;
let server: RunningServer;
let watched: WatchedPage;
let page: Page;
let folder: string;
/** Mean seeding depth of the other season, in, by the engine's cells. */
let otherDepthIn: number;

const panel = () => page.locator(".seasons");

async function choose(name: string, text: string | Uint8Array): Promise<void> {
  const path = join(folder, name);
  await writeFile(path, text);
  await page.getByLabel("report.html or everything.zip of another season").setInputFiles(path);
}

/** The report of the invented field made with another seed, told to be the year before; `moved` degrees east. */
async function otherReport(moved = 0): Promise<string> {
  const field = await loadLarkspur(larkspurFiles(2));
  field.season = 2025;
  const analysis = await analyseField(field);
  const layers: MapLayers = mapLayers(analysis);
  const { cells } = layers;
  const depth = cells.values.seedingDepth!;
  const area = (i: number) => cells.lengthM[i]! * cells.widthM[i]!;
  const known = depth.flatMap((value, i) => (value === null ? [] : [i]));
  const sum = (of: (i: number) => number) => known.reduce((all, i) => all + of(i), 0);
  otherDepthIn = sum((i) => depth[i]! * area(i)) / sum(area) / 25.4;
  const [west, south, east, north] = layers.bounds;
  layers.bounds = [west + moved, south, east + moved, north];
  return fillTemplate(await reportTemplate(), {
    findings: analysis.document,
    "map-layers": layers,
    prescription: null,
  });
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "evenstand-season-"));
  server = await serveSample();
  browser = await launch();
  watched = await watchedPage(browser, DESK);
  page = watched.page;
  await page.goto(server.address);
  await ledgerShown(page);
  await page.getByRole("button", { name: "Another season" }).press("Enter");
  await panel().waitFor();
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

describe("another season", () => {
  it("is refused where the file is no report, or of another field, in words that say what would do", async () => {
    await choose("notes.html", "<p>Nothing of ours <script>document.title = 'run'</script></p>");
    const refusal = panel().getByRole("alert");
    await expect.poll(() => refusal.textContent()).toContain('"notes.html" is not a report of ours');
    expect(await refusal.textContent()).toContain("Accepted is the report.html");
    expect(await page.title()).not.toBe("run");
    await choose("elsewhere.html", await otherReport(0.5));
    await expect.poll(() => refusal.textContent()).toContain("lies elsewhere than Larkspur Draw");
    expect(await page.locator(".map-pane").count()).toBe(1);
    expect(await violations(page)).toEqual([]);
  });

  it("stands beside the open one, in the same place and colours, and moves with it", async () => {
    // Everything that was saved of that season, with its report among it.
    const parts = {
      "results/report.html": strToU8(await otherReport()),
      "results/passes.csv": strToU8("pass"),
    };
    await choose("everything.zip", zipSync(parts));
    await page.locator(".map-pane").nth(1).waitFor();
    expect(await panel().getByRole("alert").count()).toBe(0);
    await mapSettled(page);
    await expect.poll(() => page.evaluate(() => window.evenstandSeasonMap?.loaded())).toBe(true);
    expect(await page.locator(".season-name").textContent()).toContain("2025");
    const places = () =>
      page.evaluate(() =>
        [window.evenstandMap, window.evenstandSeasonMap].map((map) => [
          ...map.getCenter().toArray(),
          map.getZoom(),
        ]),
      );
    await page.evaluate(() => window.evenstandMap.jumpTo({ zoom: window.evenstandMap.getZoom() + 1 }));
    const [one, other] = await places();
    for (const k of [0, 1, 2]) expect(other![k]).toBeCloseTo(one![k]!, 6);
    await mapSettled(page);
    await picture(page, "desk-two-seasons");
    expect(await violations(page)).toEqual([]);
  });

  it("has both seasons in figures, field and soils, and does not call a difference proof", async () => {
    const table = panel().getByRole("table", { name: "The whole field" });
    const row = table.getByRole("row", { name: "Seeding depth" }).first();
    expect(await row.getByRole("cell").nth(1).textContent()).toBe(`${otherDepthIn.toFixed(2)}\u00a0in`);
    expect(await table.getByRole("row", { name: "Places that counts confirm" }).textContent()).toMatch(
      /\d, [\d.]+\sac/,
    );
    expect(await panel().getByRole("table").count()).toBe(5);
    expect(await panel().textContent()).toContain("does not prove that a change of the planter paid");
  });

  it("fits a phone, and goes when it is closed", async () => {
    await page.setViewportSize(PHONE);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
    await page.getByRole("button", { name: "Furrow and rows" }).click();
    await picture(page, "phone-two-seasons");
    await panel().getByRole("button", { name: "Close 2025" }).click();
    expect(await page.locator(".map-pane").count()).toBe(1);
    expect(watched.complaints).toEqual([]);
    expect(watched.outside).toEqual([]);
  });
});
