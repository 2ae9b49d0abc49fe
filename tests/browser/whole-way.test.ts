/** The whole way by keyboard alone, files in a wrong coordinate system, and figures that say where they come from. */
import type { Page } from "playwright-core";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { violations } from "./support/accessible.ts";
import { ledgerShown, mapSettled, PATIENCE, picture, type WatchedPage } from "./support/browser.ts";
import { drop, dropField } from "./support/drop.ts";
import { emptyPages } from "./support/empty-page.ts";
import { metresWithoutSystem, smallField } from "./support/small-field.ts";

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

/** Presses Tab until the focus is on what is wanted. */
async function tabTo(wanted: string): Promise<void> {
  for (let presses = 0; presses < 90; presses++) {
    await page.keyboard.press("Tab");
    const on = await page.evaluate(() => {
      const { activeElement } = document;
      return activeElement?.getAttribute("aria-label") ?? activeElement?.textContent?.trim() ?? "";
    });
    if (on.includes(wanted)) {
      // Where the focus is can be seen: inside the window and outlined.
      const seen = await page.evaluate(() => {
        const box = document.activeElement!.getBoundingClientRect();
        const { outlineStyle, outlineWidth } = getComputedStyle(document.activeElement!);
        return box.bottom > 0 && box.top < innerHeight && outlineStyle !== "none" && outlineWidth !== "0px";
      });
      expect(seen, wanted).toBe(true);
      return;
    }
  }
  throw new Error(`the Tab key never comes to ${wanted}`);
}

describe("the whole way", () => {
  it("can be gone by keyboard alone: open, choose, look closer, ask a figure, note, undo", async () => {
    await tabTo("Open the sample");
    await page.keyboard.press("Enter");
    await ledgerShown(page);
    await mapSettled(page);
    await tabTo("Gauge wheels running light");
    await page.keyboard.press("Enter");
    expect(await page.locator(".entry-button").first().getAttribute("aria-expanded")).toBe("true");
    await tabTo("elsewhere");
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog");
    expect(await dialog.textContent()).toContain("Computed as");
    expect(await violations(page)).toEqual([]);
    await picture(page, "origin");
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "detached" });
    // The focus is back on the figure.
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("elsewhere");
    await tabTo("Where the numbers come from");
    await page.keyboard.press("Enter");
    await tabTo("USD");
    await page.keyboard.press("Enter");
    expect(await dialog.textContent()).toContain("price of the grain");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Tab");
    await page.getByLabel("Note on place 1").focus();
    await page.keyboard.type("dig here first");
    await tabTo("Whole field");
    await page.keyboard.press("Enter");
    expect(await page.getByLabel("Note on place 1").inputValue()).toBe("dig here first");
    await page.keyboard.press("Control+Z");
    expect(await page.locator("textarea").first().inputValue()).toBe("");
  });

  it("says what is wrong with a log in an unnamed coordinate system, and goes on with a mended one", async () => {
    await drop(page, metresWithoutSystem());
    const alert = page.getByRole("alert");
    await alert.waitFor({ timeout: PATIENCE });
    const said = (await alert.textContent()) ?? "";
    expect(said).toContain("planting.geojson: no position is a longitude and latitude");
    expect(said).toContain("look like metres of a projected system");
    expect(said).toContain('"crs" with the code of its system');
    expect(await violations(page)).toEqual([]);
    await picture(page, "wrong-crs");
    await dropField(page, smallField());
    await ledgerShown(page);
    expect(await alert.count()).toBe(0);
  });
});
