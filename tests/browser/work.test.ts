/** The work on a field: notes, undo, sessions, stopping a run, two maps, measuring and finding oneself. */
import { readFile } from "node:fs/promises";
import type { Page } from "playwright-core";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { violations } from "./support/accessible.ts";
import {
  choose,
  clickPlace,
  drawn,
  ledgerShown,
  mapSettled,
  openTakeAlong,
  PATIENCE,
  PHONE,
  picture,
  pixelsAround,
  type WatchedPage,
} from "./support/browser.ts";
import { drop, dropField } from "./support/drop.ts";
import { emptyPages } from "./support/empty-page.ts";
import { smallField } from "./support/small-field.ts";

const openEmptyPage = emptyPages();
let watched: WatchedPage;
let page: Page;

beforeEach(async () => {
  watched = await openEmptyPage();
  page = watched.page;
});

afterEach(async () => {
  expect(watched.outside).toEqual([]);
  expect(watched.complaints).toEqual([]);
  await watched.close();
});

const fieldNote = () => page.getByLabel("Note on the whole field");

describe("the state of work", () => {
  it("keeps choices and notes over a reload, in a session file, and takes edits back", async () => {
    await page.getByRole("button", { name: "Open the sample" }).click();
    await ledgerShown(page);
    await page.locator(".entry-button").nth(1).click();
    await page.getByLabel("Note on place 2").fill("dug here on Monday");
    await fieldNote().fill("tile broken in the north");
    await fieldNote().blur();
    await page.getByRole("button", { name: "Undo" }).click();
    expect(await fieldNote().inputValue()).toBe("");
    await page.keyboard.press("Control+Z");
    expect(await page.getByLabel("Note on place 2").inputValue()).toBe("");
    await page.keyboard.press("Control+Shift+Z");
    await page.getByRole("button", { name: "Redo" }).click();
    expect(await page.getByRole("button", { name: "Redo" }).isDisabled()).toBe(true);
    await choose(page, { units: "metric" });
    await page.getByRole("button", { name: "Legend" }).click();
    await page.locator(".legend-filter summary").click();
    await page.getByLabel("Row unit", { exact: true }).selectOption("17");
    await page.getByLabel("Speed", { exact: true }).selectOption({ index: 2 });
    await page.getByLabel("Passes coloured by").selectOption("seedingDepth");
    await page.getByRole("button", { name: "Row units", exact: true }).click();
    await picture(page, "work-noted");
    expect(await violations(page)).toEqual([]);
    const said = page.locator(".legend-shown p");
    const shown = await said.textContent();
    expect(shown).toMatch(/^Shown: row unit 17, \d+\.\d to \d+\.\d\skm\/h: [\d,]+ of/);
    const [saved] = await Promise.all([
      page.waitForEvent("download"),
      openTakeAlong(page).then(() => page.getByRole("button", { name: "Save session" }).click()),
    ]);
    expect(saved.suggestedFilename()).toBe("Larkspur Draw.session.json");
    const text = await readFile(await saved.path(), "utf8");
    expect(text.length).toBeLessThan(20_000);

    await page.reload();
    await ledgerShown(page);
    await expect.poll(() => fieldNote().inputValue(), { timeout: 120_000 }).toBe("tile broken in the north");
    expect(await page.getByLabel("Note on place 2").inputValue()).toBe("dug here on Monday");
    expect(await page.locator(".entry-button").nth(1).getAttribute("aria-expanded")).toBe("true");
    await expect.poll(() => said.textContent(), { timeout: 120_000 }).toBe(shown);
    expect(await page.getByLabel("Passes coloured by").inputValue()).toBe("seedingDepth");
    const rows = page.getByRole("button", { name: "Row units", exact: true });
    expect(await rows.getAttribute("aria-pressed")).toBe("true");

    // The session file brings the sample and all of it back where nothing is remembered.
    await page.evaluate(() => localStorage.clear());
    await page.getByRole("button", { name: "Open…" }).click();
    await drop(page, [{ name: "mine.session.json", text: text.replace("tile broken", "tile mended") }]);
    await page.locator(".ledger").waitFor();
    await expect.poll(() => fieldNote().inputValue(), { timeout: 120_000 }).toBe("tile mended in the north");
  });

  it("waits for the files of a session, says where they differ, and refuses what is no session", async () => {
    await dropField(page, smallField());
    await ledgerShown(page);
    await fieldNote().fill("</textarea><script>window.hacked = 1</script>");
    await fieldNote().blur();
    const [saved] = await Promise.all([
      page.waitForEvent("download"),
      openTakeAlong(page).then(() => page.getByRole("button", { name: "Save session" }).click()),
    ]);
    const text = await readFile(await saved.path(), "utf8");
    await page.reload();
    const status = page.locator(".welcome-said");
    await page.waitForFunction(() => document.querySelector(".welcome-said")?.textContent !== "");
    expect(await status.textContent()).toContain("(planting.geojson, soil.geojson)");
    await page.evaluate(() => localStorage.clear());
    await drop(page, [{ name: "mine.session.json", text }]);
    await page.waitForFunction(() =>
      document.querySelector(".welcome-said")?.textContent?.includes("The session of"),
    );
    const [log, soil] = smallField();
    await dropField(page, [log!, { ...soil!, text: soil!.text.replaceAll("clay loam", "clay") }]);
    await ledgerShown(page);
    await page.locator(".notice", { hasText: "soil.geojson" }).waitFor();
    expect(await fieldNote().inputValue()).toContain("<script>");
    expect(await page.evaluate(() => "hacked" in window)).toBe(false);
    await page.getByRole("button", { name: "Understood" }).click();
    await drop(page, [{ name: "bad.session.json", text: text.replace('"farm"', '"cubits"') }]);
    const alert = page.getByRole("alert");
    await alert.waitFor({ timeout: PATIENCE });
    expect(await alert.textContent()).toContain("bad.session.json is a session that this page cannot read");
    await page.getByRole("button", { name: /^Back to/ }).click();
    expect(await fieldNote().inputValue()).toContain("<script>");
  });

  it("stops a run: no worker goes on, the page is back where it was", async () => {
    const engines = () => page.workers().filter((worker) => worker.url().includes("engine.worker")).length;
    const cancel = page.getByRole("button", { name: "Cancel" });
    await page.getByRole("button", { name: "Open the sample" }).click();
    await page
      .getByRole("status")
      .filter({ hasText: "Telling the passes apart" })
      .waitFor({ timeout: PATIENCE });
    expect(await page.locator(".loading").textContent()).toMatch(/Step \d of 6/);
    expect(engines()).toBe(1);
    await cancel.focus();
    await page.keyboard.press("Enter");
    await page.locator(".welcome-said", { hasText: "Stopped." }).waitFor();
    await expect.poll(engines, { timeout: 120_000 }).toBe(0);
    expect(await page.locator("h1").textContent()).toBe("No field open");
    expect(await page.locator(".map-pane").count()).toBe(0);
    await picture(page, "stopped");
    // A field on the page stays when the opening of the next one is stopped.
    await dropField(page, smallField());
    await ledgerShown(page);
    await fieldNote().fill("mine");
    await fieldNote().blur();
    await page.getByRole("button", { name: "Open…" }).click();
    // Held back on its way, so that the next one is still being read when it is stopped.
    await page.route("**/sample/planting.zip", () => {});
    await page.getByRole("button", { name: "Open the sample" }).click();
    await picture(page, "reading");
    await cancel.click();
    await page.locator(".ledger").waitFor();
    expect(await fieldNote().inputValue()).toBe("mine");
    // Its worker still answers.
    await choose(page, { units: "metric" });
    await page.locator(".headline-sentence", { hasText: /\sha/ }).waitFor({ timeout: PATIENCE });
  });
});

describe("the map's tools", () => {
  beforeEach(async () => {
    await dropField(page, smallField());
    await ledgerShown(page);
    await mapSettled(page);
  });

  it("shows two variables beside each other, moved together", async () => {
    await page.getByRole("button", { name: "Compare" }).click();
    await page.waitForFunction(() => window.evenstandSecondMap?.loaded(), null, { timeout: PATIENCE });
    await mapSettled(page);
    const second = page.getByLabel("Second map coloured by");
    expect(await second.inputValue()).not.toBe(await page.getByLabel("Passes coloured by").inputValue());
    const apart = () =>
      page.evaluate(() => {
        const [a, b] = [window.evenstandMap, window.evenstandSecondMap];
        return (
          Math.hypot(a.getCenter().lng - b.getCenter().lng, a.getCenter().lat - b.getCenter().lat) +
          Math.abs(a.getZoom() - b.getZoom())
        );
      });
    // As means over pieces of pass the same ground has other colours.
    const middle: [number, number] = [-93.39956, 42.20108];
    await page.getByRole("button", { name: "Legend" }).click();
    await mapSettled(page);
    const records = await pixelsAround(page, middle, 60);
    await page.getByLabel("Drawn as").selectOption("cells");
    await mapSettled(page);
    const means = await pixelsAround(page, middle, 60);
    expect(means.filter((value, i) => Math.abs(value - records[i]!) > 8).length).toBeGreaterThan(500);
    await page.getByLabel("Drawn as").selectOption("records");
    await mapSettled(page);
    expect(await pixelsAround(page, middle, 60)).toEqual(records);
    await page.evaluate(() => window.evenstandMap.panBy([70, 40], { animate: false }));
    expect(await apart()).toBeLessThan(1e-9);
    const before = await page.evaluate(() => window.evenstandMap.getZoom());
    await page.evaluate(() => window.evenstandSecondMap.zoomTo(16.6, { animate: false }));
    expect(await page.evaluate(() => window.evenstandMap.getZoom())).toBeCloseTo(16.6, 9);
    expect(before).not.toBeCloseTo(16.6, 2);
    expect(await apart()).toBeLessThan(1e-9);
    await mapSettled(page);
    await picture(page, "compare");
    expect(await violations(page)).toEqual([]);
    await page.setViewportSize(PHONE);
    await page.getByRole("button", { name: "Map", exact: true }).click();
    await mapSettled(page);
    await picture(page, "compare-phone");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
    await page.getByRole("button", { name: "Close this map" }).click();
    expect(await page.locator(".map-pane").count()).toBe(1);
  });

  it("measures a distance, by clicks and without them", async () => {
    const [west, south, east] = await page.evaluate(() => window.evenstandMap.getBounds().toArray().flat());
    const [from, to] = [0.5, 0.6].map((share) => west! + share * (east! - west!)) as [number, number];
    const latitude = await page.evaluate(() => window.evenstandMap.getCenter().lat);
    expect(south).toBeLessThan(latitude);
    await page.getByRole("button", { name: "Measure" }).click();
    await clickPlace(page, [from, latitude]);
    await clickPlace(page, [to, latitude]);
    // One degree of a great circle on a sphere of 6,371,008.8 m; short enough that the parallel is as long.
    const metres = ((to - from) * Math.PI * 6_371_008.8 * Math.cos((latitude * Math.PI) / 180)) / 180;
    const panel = page.locator(".measure-panel p");
    const feet = Number(
      /^([\d,]+)\sft along 2 places/.exec((await panel.textContent())!)![1]!.replace(",", ""),
    );
    expect(feet / (metres / 0.3048)).toBeGreaterThan(0.98);
    expect(feet / (metres / 0.3048)).toBeLessThan(1.02);
    await mapSettled(page);
    await picture(page, "measure");
    expect(await page.locator(".entry.chosen").count()).toBe(0);
    // Without a pointer: the arrow keys move the map, a button takes its middle.
    await page.getByRole("button", { name: "Take back" }).click();
    await page.locator(".maplibregl-canvas").focus();
    await page.keyboard.press("ArrowUp");
    await mapSettled(page);
    await page.getByRole("button", { name: "Add the middle" }).focus();
    await page.keyboard.press("Enter");
    expect(await panel.textContent()).toMatch(/along 2 places/);
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Done" }).click();
    expect(await panel.count()).toBe(0);
  });

  it("shows where the device is, and says it where the browser refuses", async () => {
    const button = page.getByRole("button", { name: "Where am I" });
    const said = page.locator(".map-said");
    await button.click();
    await said.filter({ hasText: "not allowed" }).waitFor({ timeout: PATIENCE });
    expect(await button.getAttribute("aria-pressed")).toBe("false");
    // In the middle of the invented field.
    const [lng, lat] = [-93.39956, 42.20108];
    await watched.context.grantPermissions(["geolocation"]);
    await watched.context.setGeolocation({ longitude: lng, latitude: lat, accuracy: 5 });
    await button.click();
    await expect
      .poll(() => said.textContent(), { timeout: 120_000 })
      .toBe("You are here, give or take 16\u00a0ft.");
    await mapSettled(page);
    expect((await drawn(page, "here", "nothing")).length).toBe(1);
    await watched.context.setGeolocation({ longitude: lng, latitude: lat + 0.1, accuracy: 5 });
    await expect
      .poll(() => said.textContent(), { timeout: 120_000 })
      .toMatch(/You are 6\.\d\smi from the field/);
    await button.click();
    expect(await said.textContent()).toBe("");
    await page.getByRole("button", { name: "Whole field" }).click();
    await mapSettled(page);
    expect((await drawn(page, "here", "nothing")).length).toBe(0);
  });
});
