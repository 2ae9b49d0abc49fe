/** Opening a field on the page: the sample, chosen and dropped files, files that cannot be used, a phone. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/server.ts";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  drawn,
  launch,
  ledgerShown,
  mapErrors,
  mapSettled,
  PATIENCE,
  PHONE,
  picture,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { SAMPLE, serveNoField } from "./support/servers.ts";
import { hostileField, smallField } from "./support/small-field.ts";

/** A server without a field answers 404 to the page's question for one. */
const NO_FIELD = /the server responded with a status of 404/;

let browser: Browser;
let server: RunningServer;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  server = await serveNoField();
  browser = await launch();
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

async function openPage(viewport: { width: number; height: number }): Promise<void> {
  watched = await watchedPage(browser, viewport, NO_FIELD);
  page = watched.page;
  await page.goto(server.address);
  await page.getByRole("button", { name: "Choose files" }).waitFor();
}

describe("the page without a field", () => {
  beforeEach(() => openPage(DESK));

  afterEach(async () => {
    expect(watched.outside).toEqual([]);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });

  it("says what to bring, accessibly", async () => {
    await picture(page, "empty");
    expect(await page.locator("main").textContent()).toContain("The log alone is enough to begin");
    expect(await violations(page)).toEqual([]);
  });

  it("opens chosen files by a manifest among them", async () => {
    const names = ["field.json", "planting.zip", "soil.geojson", "counts.geojson", "digs.csv"];
    const rest = ["boundary.geojson", "weather.csv"];
    await page
      .locator('input[type="file"]')
      .setInputFiles([...names, ...rest].map((name) => join(SAMPLE, name)));
    await ledgerShown(page);
    expect(await page.locator("h1").textContent()).toContain("Larkspur Draw");
    await page.getByRole("button", { name: "Open…" }).click();
    await page.getByRole("button", { name: "Back to Larkspur Draw" }).click();
    await page.locator(".entry-button").first().waitFor();
  });

  it("opens dropped files without a manifest, guessing what each one is", async () => {
    await drop(smallField());
    await ledgerShown(page);
    await mapSettled(page);
    expect((await drawn(page, "pass-threads", "pass")).length).toBe(6);
    expect((await drawn(page, "zone-marks", "ground")).sort()).toEqual(["clay-loam", "silt-loam"]);
    expect(await page.locator(".ledger").textContent()).toContain("Nothing wrong found");
    expect(await mapErrors(page)).toEqual([]);
  });

  it("never turns a name from a file into markup", async () => {
    await drop(hostileField());
    await ledgerShown(page);
    await mapSettled(page);
    expect(await page.locator("h1").textContent()).toContain("<img src=x");
    await page.locator(".legend-signs summary").click();
    expect(await page.locator(".signs").textContent()).toContain("<script>");
    for (const part of ["Passes by soil", "Counts and digs", "Furrow"]) {
      await page.getByRole("button", { name: part, exact: true }).click();
    }
    expect(await page.locator('img[src="x"], .page script, .page iframe').count()).toBe(0);
    expect(await page.evaluate(() => "hacked" in window)).toBe(false);
  });

  it("says in words why a file cannot be used, and takes the next one", async () => {
    await drop([{ name: "notes.geojson", text: '{"type":"FeatureCollection","features":[]}' }]);
    const alert = page.getByRole("alert");
    await alert.waitFor({ timeout: PATIENCE });
    await picture(page, "trouble");
    expect(await alert.textContent()).toContain("notes.geojson");
    expect(await alert.textContent()).toContain("These files could not be used");
    expect(await violations(page)).toEqual([]);
    await drop(smallField());
    await alert.waitFor({ state: "detached" });
    await ledgerShown(page);
    expect(await alert.count()).toBe(0);
  });
});

describe("the page on a phone", () => {
  it("shows the sample's ledger first, the map and the furrow behind a button each", async () => {
    await openPage(PHONE);
    await page.getByRole("button", { name: "Open the sample" }).click();
    await ledgerShown(page);
    await picture(page, "phone-ledger");
    expect(await page.locator(".map-pane").isVisible()).toBe(false);
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Map", exact: true }).click();
    await mapSettled(page);
    await picture(page, "phone-map");
    expect(await page.locator(".ledger").isVisible()).toBe(false);
    expect((await drawn(page, "number", "number")).length).toBeGreaterThanOrEqual(3);
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Furrow and rows" }).click();
    await picture(page, "phone-furrow");
    expect(await page.locator(".furrow-seeds").first().isVisible()).toBe(true);
    expect(await violations(page)).toEqual([]);
    const widest = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(widest).toBeLessThanOrEqual(PHONE.width);
    expect(watched.outside).toEqual([]);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });
});

interface DroppedFile {
  name: string;
  text?: string;
  path?: string;
}

/** Drops files on the page as a user's hand would: by a drop event that carries them. */
async function drop(files: readonly DroppedFile[]): Promise<void> {
  const carried = await Promise.all(
    files.map(async ({ name, text, path }) => ({
      name,
      base64: (path ? await readFile(path) : Buffer.from(text ?? "")).toString("base64"),
    })),
  );
  const transfer = await page.evaluateHandle((all) => {
    const data = new DataTransfer();
    for (const { name, base64 } of all) {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      data.items.add(new File([bytes], name));
    }
    return data;
  }, carried);
  await page.dispatchEvent("body", "drop", { dataTransfer: transfer });
}
