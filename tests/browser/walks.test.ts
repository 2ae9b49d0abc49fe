/** Three people at three widths, each to what they came for, with every press counted. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import { launch, ledgerShown, mapSettled, PATIENCE, picture, watchedPage } from "./support/browser.ts";
import { drop } from "./support/drop.ts";
import { SAMPLE, serveNoField, serveSample } from "./support/servers.ts";

const WIDTHS = [
  { width: 390, height: 844 },
  { width: 1024, height: 768 },
  { width: 1440, height: 900 },
];

/** Counts what a person does; nothing is done on the page but through it. */
class Walk {
  actions = 0;
  readonly page: Page;
  constructor(page: Page) {
    this.page = page;
  }
  async press(name: string | RegExp): Promise<void> {
    this.actions++;
    await this.page.getByRole("button", { name, exact: true }).first().click({ timeout: PATIENCE });
  }
  async unfold(words: RegExp): Promise<void> {
    this.actions++;
    await this.page.locator("summary", { hasText: words }).click({ timeout: PATIENCE });
  }
  async save(name: string): Promise<Buffer> {
    const [download] = await Promise.all([
      this.page.waitForEvent("download", { timeout: PATIENCE }),
      this.press(name),
    ]);
    expect(download.suggestedFilename()).toBe(name);
    return readFile(await download.path());
  }
  async drop(names: readonly string[]): Promise<void> {
    this.actions++;
    await drop(
      this.page,
      names.map((name) => ({ name, path: join(SAMPLE, name) })),
    );
  }
}

let browser: Browser;
let served: RunningServer;
let empty: RunningServer;

beforeAll(async () => {
  [served, empty] = [await serveSample(), await serveNoField()];
  browser = await launch();
});

afterAll(async () => {
  await browser?.close();
  await served?.close();
  await empty?.close();
});

/** No tool and no legend of the page lies over the map, and the whole field lies in it. */
async function expectFieldClear(page: Page): Promise<void> {
  const seen = await page.evaluate(() => {
    const box = (selector: string) => document.querySelector(selector)?.getBoundingClientRect();
    const frame = box(".map-frame")!;
    const covers = [".map-bar", ".map-pane > .legend:not([hidden])", ".map-tools"]
      .map(box)
      .filter((each) => each !== undefined)
      .filter(
        ({ left, right, top, bottom }) =>
          left < frame.right - 1 &&
          right > frame.left + 1 &&
          top < frame.bottom - 1 &&
          bottom > frame.top + 1,
      ).length;
    const map = window.evenstandMap;
    const field = map.querySourceFeatures("boundary").flatMap(({ geometry }) => {
      const rings = geometry.type === "Polygon" ? geometry.coordinates : [];
      return rings.flat().map(([x, y]) => map.project([x!, y!]));
    });
    const { clientWidth: width, clientHeight: height } = map.getContainer();
    return {
      covers,
      corners: field.length,
      outside: field.filter(({ x, y }) => x < 0 || y < 0 || x > width || y > height).length,
      high: (Math.max(...field.map(({ y }) => y)) - Math.min(...field.map(({ y }) => y))) / height,
      wide: (Math.max(...field.map(({ x }) => x)) - Math.min(...field.map(({ x }) => x))) / width,
    };
  });
  expect(seen.covers).toBe(0);
  expect(seen.corners).toBeGreaterThan(3);
  expect(seen.outside).toBe(0);
  expect(Math.max(seen.high, seen.wide)).toBeGreaterThan(0.6);
}

function said(who: string, { actions }: Walk, width: number): void {
  process.stdout.write(`${who} at ${width} px: ${actions} actions\n`);
}

describe.each(WIDTHS)("at $width x $height", (size) => {
  const name = String(size.width);

  it("a farmer reads where plants were lost, what to do and what it costs in 0 presses, and sees it on the map in 2", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    const walk = new Walk(page);
    await page.goto(served.address);
    await ledgerShown(page);
    await page.locator(".entry-title").first().waitFor();
    expect(await page.locator(".headline-sentence").textContent()).toMatch(/plants are short.*USD/);
    const first = page.locator("ol.entries > li").first();
    const top = (await first.locator(".entry-title").boundingBox())!.y;
    expect(top).toBeLessThan(size.height - 80);
    // The load itself comes a moment after the ledger.
    await first.locator(".entry-do", { hasText: "load on the gauge wheels" }).waitFor({ timeout: PATIENCE });
    expect(walk.actions).toBe(0);
    await picture(page, `walk-farmer-${name}`);
    if (size.width < 800) await walk.press("Map");
    await mapSettled(page);
    await expectFieldClear(page);
    if (size.width < 800) await walk.press("Ledger");
    await walk.press(/^1\s*Gauge wheels running light/);
    expect(walk.actions).toBeLessThanOrEqual(3);
    said("farmer", walk, size.width);
    expect(await page.locator(".entry.chosen .detail").textContent()).toContain("What was seen");
    expect(await violations(page)).toEqual([]);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });

  it("a specialist gets from dropped files to a saved picture and table in at most 8", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    const walk = new Walk(page);
    await page.goto(empty.address);
    await page.getByRole("button", { name: "Choose files" }).waitFor();
    await walk.drop(["planting.zip", "soil.geojson", "counts.geojson", "digs.csv", "boundary.geojson"]);
    await page.locator(".sorting-table").waitFor({ timeout: PATIENCE });
    expect(
      await page
        .locator(".sorting-table td > select")
        .evaluateAll((all) => all.map((each) => (each as HTMLSelectElement).value)),
    ).toEqual(["plantingLog", "soilZones", "standCounts", "digs", "boundary"]);
    await walk.press("Work it out");
    await ledgerShown(page);
    await page.locator(".entry-title").first().waitFor();
    if (size.width < 800) await walk.press("Furrow and rows");
    await walk.press("Row units");
    await mapSettled(page);
    await walk.press("Take along");
    const png = await walk.save("planting-map.png");
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    const table = (await walk.save("row-units.csv")).toString();
    expect(table.split("\r\n").length).toBeGreaterThan(24);
    expect(walk.actions).toBeLessThanOrEqual(8);
    said("specialist", walk, size.width);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });

  it("a consultant gets to the loads, their file and the report in at most 6", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    const walk = new Walk(page);
    await page.goto(served.address);
    await ledgerShown(page);
    await page.locator(".entry-title").first().waitFor();
    await walk.press("What to set");
    await walk.unfold(/^Files for/);
    expect((await walk.save("prescription.json")).toString()).toContain("clay loam");
    await picture(page, `walk-consultant-${name}`);
    expect(await violations(page)).toEqual([]);
    await walk.press("Take along");
    expect((await walk.save("report.html")).toString()).toContain("Larkspur Draw");
    expect(walk.actions).toBeLessThanOrEqual(6);
    said("consultant", walk, size.width);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });
});
