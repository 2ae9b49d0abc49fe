/** The three walks without a mouse: every stop is seen, and each leads to what the person came for. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import {
  DESK,
  launch,
  ledgerShown,
  mapSettled,
  PATIENCE,
  PHONE,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { Keyboard } from "./support/keyboard.ts";
import { SAMPLE, serveNoField, serveSample } from "./support/servers.ts";

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

async function saved({ page }: WatchedPage, keyboard: Keyboard, name: string): Promise<Buffer> {
  const download = page.waitForEvent("download", { timeout: PATIENCE });
  await keyboard.press("button", name);
  const file = await download;
  expect(file.suggestedFilename()).toBe(name);
  return readFile(await file.path());
}

function expectSeen(keyboard: Keyboard, { complaints }: WatchedPage, who: string): void {
  process.stdout.write(`${who} by keyboard: ${keyboard.keys} keys\n`);
  expect(keyboard.unseen).toEqual([]);
  expect(complaints).toEqual([]);
}

describe.each([PHONE, DESK])("without a mouse at $width x $height", (size) => {
  it("a farmer opens a finding, reads it, sees its place read out, and closes it", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    const keyboard = new Keyboard(page);
    await page.goto(served.address);
    await ledgerShown(page);
    const first = page.locator(".entry-button").first();
    await keyboard.reach(first);
    await keyboard.key("Enter");
    expect(await first.getAttribute("aria-expanded")).toBe("true");
    expect(await page.locator(".entry.chosen .detail").textContent()).toContain("What was seen");
    if (size === PHONE) await keyboard.press("button", "Map");
    await mapSettled(page);
    await keyboard.back("button", size === PHONE ? "Ledger" : /^1\s*Gauge wheels running light/);
    if (size === DESK) expect(await first.getAttribute("aria-expanded")).toBe("false");
    expectSeen(keyboard, watched, `farmer ${size.width}`);
    await watched.close();
  });

  it("a specialist chooses files, mends what one is taken for, and saves picture and table", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    const keyboard = new Keyboard(page);
    await page.goto(empty.address);
    const chooser = page.waitForEvent("filechooser", { timeout: PATIENCE });
    await keyboard.press("button", "Choose files");
    await (await chooser).setFiles(
      ["planting.zip", "soil.geojson", "counts.geojson", "digs.csv"].map((name) => join(SAMPLE, name)),
    );
    const digs = page.getByRole("combobox", { name: "What digs.csv is" });
    await keyboard.reach(digs);
    const taken = await digs.inputValue();
    await keyboard.key("ArrowUp");
    expect(await digs.inputValue()).not.toBe(taken);
    await keyboard.key("ArrowDown");
    expect(await digs.inputValue()).toBe(taken);
    await keyboard.press("button", "Work it out");
    await ledgerShown(page);
    await page.locator(".entry-title").first().waitFor({ timeout: PATIENCE });
    if (size === PHONE) await keyboard.press("button", "Furrow and rows");
    await keyboard.press("button", "Row units");
    await mapSettled(page);
    await keyboard.press("button", "Take along");
    const png = await saved(watched, keyboard, "planting-map.png");
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    expect((await saved(watched, keyboard, "row-units.csv")).toString()).toContain("\r\n");
    await keyboard.key("Escape");
    // The focus is where it was before the sheet was opened.
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Take along");
    expectSeen(keyboard, watched, `specialist ${size.width}`);
    await watched.close();
  });

  it("a consultant sets a load by hand, takes it back, and saves the file of the loads", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    const keyboard = new Keyboard(page);
    await page.goto(served.address);
    await ledgerShown(page);
    await keyboard.press("button", "What to set");
    const slider = page.locator(".zone-card").first().getByRole("slider");
    await keyboard.reach(slider);
    const before = await slider.inputValue();
    await keyboard.key("ArrowRight");
    expect(await slider.inputValue()).not.toBe(before);
    await page.keyboard.press("Control+z");
    await expect.poll(() => slider.inputValue()).toBe(before);
    await keyboard.reach(page.locator("summary", { hasText: /^Files for/ }));
    await keyboard.key("Enter");
    expect((await saved(watched, keyboard, "prescription.json")).toString()).toContain("clay loam");
    expectSeen(keyboard, watched, `consultant ${size.width}`);
    await watched.close();
  });
});
