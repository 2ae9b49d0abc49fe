/** Opening a field on the page: the sample, chosen and dropped files, files that cannot be used, a phone. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  drawn,
  ledgerShown,
  mapErrors,
  mapSettled,
  PATIENCE,
  PHONE,
  picture,
  type WatchedPage,
} from "./support/browser.ts";
import { drop, dropField } from "./support/drop.ts";
import { emptyPages } from "./support/empty-page.ts";
import { SAMPLE } from "./support/servers.ts";
import { hostileField, smallField, unclearField } from "./support/small-field.ts";

const openEmptyPage = emptyPages();
let watched: WatchedPage;
let page: Page;

async function openPage(viewport: { width: number; height: number }): Promise<void> {
  watched = await openEmptyPage(viewport);
  page = watched.page;
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
    await dropField(page, smallField());
    await ledgerShown(page);
    await mapSettled(page);
    expect((await drawn(page, "pass-threads", "pass")).length).toBe(6);
    expect((await drawn(page, "zone-marks", "ground")).sort()).toEqual(["clay-loam", "silt-loam"]);
    expect(await page.locator(".ledger").textContent()).toContain("Without a finding");
    expect(await mapErrors(page)).toEqual([]);
  });

  it("shows what each dropped file is taken for, with what is wrong, and takes another choice", async () => {
    const plots = JSON.parse(smallField()[1]!.text) as {
      features: { geometry: { coordinates: number[][][] } }[];
    };
    for (const { geometry } of plots.features)
      geometry.coordinates = geometry.coordinates.map((ring) =>
        ring.map(([x, y]) => [x!, 42.2 + (y! - 42.2) / 9]),
      );
    const nameless = "a,b,c\n-93.3998,42.2004,31000\n-93.3994,42.2012,30500\n-93.3992,42.2016,31400\n";
    const log = JSON.parse(smallField()[0]!.text) as { features: { properties: Record<string, unknown> }[] };
    for (const { properties } of log.features) Object.assign(properties, { Seed_Rate_lb_ac: 24, QX7: 3 });
    await drop(page, [
      { name: "planting.geojson", text: JSON.stringify(log) },
      { name: "plots.geojson", text: JSON.stringify(plots) },
      { name: "export.csv", text: nameless },
      { name: "readme.txt", text: "hello" },
    ]);
    const table = page.locator(".sorting-table");
    await table.waitFor({ timeout: PATIENCE });
    const row = (name: string) => table.locator("tr", { has: page.getByRole("rowheader", { name }) });
    expect(await row("planting.geojson").textContent()).toMatch(/246100\s%$/);
    expect(await page.getByLabel("What plots.geojson is").inputValue()).toBe("soilZones");
    expect(await row("plots.geojson").textContent()).toMatch(
      /\d+\s% of the log lies off this map: trial plots/,
    );
    expect(await page.getByLabel("What export.csv is").inputValue()).toBe("");
    expect(await page.getByLabel("What readme.txt is").isDisabled()).toBe(true);
    await page.getByText("2 of its columns are not used, and why").click();
    const unused = await page.getByLabel("Columns of planting.geojson that are not used").textContent();
    expect(unused).toContain("Seed_Rate_lb_ac: ");
    expect(unused).toContain("a rate by weight");
    expect(unused).toContain("QX7: its name fits nothing the job needs");
    const missing = page.locator(".sorting-missing");
    expect(await missing.textContent()).toContain("no stand counts: findings are predictions");
    expect(await missing.textContent()).not.toContain("no soil map");
    expect(await violations(page)).toEqual([]);
    await picture(page, "sorting");
    await page.setViewportSize(PHONE);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
    await picture(page, "sorting-phone");
    await page.setViewportSize(DESK);
    await page.getByLabel("What plots.geojson is").selectOption({ label: "not used" });
    expect(await missing.textContent()).toContain("no soil map: planter and ground cannot be told apart");
    // Names that say nothing are no dead end: the columns are chosen by what they hold.
    await page.getByLabel("What export.csv is").selectOption({ label: "stand counts" });
    await page.getByLabel("Longitude or easting").selectOption("a");
    await page.getByLabel("Latitude or northing").selectOption("b");
    await page.getByLabel("stand", { exact: true }).selectOption("c");
    await page.getByRole("button", { name: "Work it out", exact: true }).click();
    await ledgerShown(page);
    const used = await page.evaluate(() => document.querySelector(".inputs")?.textContent ?? "");
    expect(used).toContain("stand counts: export.csv, all 3 records used");
    expect(used).not.toContain("plots.geojson");
  });

  it("asks what the columns do not tell, file by file, and goes on with the answers", async () => {
    await dropField(page, unclearField());
    const form = page.getByRole("form", { name: /planting.geojson: 2 things/ });
    await form.waitFor({ timeout: PATIENCE });
    expect(await page.getByRole("img", { name: /values of DEPTH_1_IN lie, from 1\.8/ }).count()).toBe(1);
    // The mark -9999 stays out of the bars and is said.
    expect(await form.locator(".glimpse").first().textContent()).toContain(
      "not drawn; all lie from -9999 to 2.2",
    );
    expect(await violations(page)).toEqual([]);
    await picture(page, "asking");
    await page.setViewportSize(PHONE);
    await picture(page, "asking-phone");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
    await page.setViewportSize(DESK);
    const goOn = page.getByRole("button", { name: "Go on" });
    expect(await goOn.isDisabled()).toBe(true);
    await page.getByLabel("DEPTH_2_IN", { exact: true }).check();
    await page.getByLabel("miles an hour: the middle value would be 6.0 mph").check();
    const [saved] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save field.json" }).click(),
    ]);
    expect(saved.suggestedFilename()).toBe("field.json");
    expect(JSON.parse(await readFile(await saved.path(), "utf8")).plantingLog).toEqual({
      file: "planting.geojson",
      columns: { seedingDepth: "DEPTH_2_IN", speed: { column: "Speed", unit: "mi/h" } },
    });
    await goOn.click();
    await page.getByRole("form", { name: /counts.csv: one thing/ }).waitFor({ timeout: PATIENCE });
    await page.getByLabel(/leave the plant spacings out/).check();
    await page.getByRole("button", { name: "Go on" }).click();
    await ledgerShown(page);
    await page.getByText("What it rests on").click();
    const rests = (await page.locator(".rests-on").textContent()) ?? "";
    expect(rests).toContain("DEPTH_2_IN as seedingDepth, in");
    expect(rests).toContain("Speed as speed, mi/h");
    expect(rests).not.toContain("DEPTH_1_IN as");
    const manifest = await Promise.all([
      page.waitForEvent("download"),
      page.locator(".rests-on").getByRole("button", { name: "Save field.json" }).click(),
    ]).then(async ([download]) => JSON.parse(await readFile(await download.path(), "utf8")));
    expect(manifest.standCounts.columns).toEqual({ spacings: null });

    // With the saved field.json among the files nothing is asked any more.
    await page.reload();
    await page.getByRole("button", { name: "Choose files" }).waitFor();
    await drop(page, [{ name: "field.json", text: JSON.stringify(manifest) }, ...unclearField()]);
    await page.locator(".ledger").or(page.getByRole("form")).first().waitFor({ timeout: PATIENCE });
    expect(await page.locator("form:not(.answers-form)").count()).toBe(0);
  });

  it("never turns a name from a file into markup", async () => {
    await drop(page, hostileField());
    await ledgerShown(page);
    await mapSettled(page);
    expect(await page.locator("h1").textContent()).toContain("<img src=x");
    await page.getByRole("button", { name: "Legend" }).click();
    await page.locator(".legend-signs summary").click();
    expect(await page.locator(".signs").textContent()).toContain("<script>");
    for (const part of ["Passes by soil", "Counts and digs", "Furrow"]) {
      await page.getByRole("button", { name: part, exact: true }).click();
    }
    expect(await page.locator('img[src="x"], .page script, .page iframe, .page svg[onload]').count()).toBe(0);
    expect(await page.evaluate(() => "hacked" in window)).toBe(false);
  });

  it("says in words why a file cannot be used, and takes the next one", async () => {
    await drop(page, [{ name: "notes.geojson", text: '{"type":"FeatureCollection","features":[]}' }]);
    const alert = page.getByRole("alert");
    await alert.waitFor({ timeout: PATIENCE });
    await picture(page, "trouble");
    expect(await alert.textContent()).toContain("notes.geojson");
    expect(await alert.textContent()).toContain("These files could not be used");
    expect(await violations(page)).toEqual([]);
    await dropField(page, smallField());
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
    await page.getByRole("button", { name: "Passes by soil" }).click();
    await picture(page, "phone-heat");
    await page.locator(".heat-cell", { hasText: /\d/ }).first().click();
    expect(await page.locator(".readout").textContent()).toMatch(
      /^pass \d+ .*in .* against the other passes/,
    );
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Row units" }).click();
    await picture(page, "phone-rows");
    await page.getByRole("slider", { name: /^Seeding depth of 24 row units/ }).click();
    expect(await page.locator(".map-pane").isVisible()).toBe(true);
    expect(await page.locator(".legend-shown p").textContent()).toMatch(/^Shown: row unit \d+: /);
    await mapSettled(page);
    await picture(page, "phone-filter");
    expect(await violations(page)).toEqual([]);
    const widest = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(widest).toBeLessThanOrEqual(PHONE.width);
    expect(watched.outside).toEqual([]);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });
});
