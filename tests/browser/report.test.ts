/** The one-file report, opened from a folder by double click: no server, no network. */
import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fillTemplate } from "../../src/report/report-text.ts";
import { violations } from "./support/accessible.ts";
import {
  choose,
  DESK,
  drawn,
  launch,
  mapErrors,
  mapSettled,
  PHONE,
  picture,
  pixelsAround,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { inventedDocument, inventedLayers } from "./support/invented-field.ts";
import { inventedPrescription } from "./support/invented-prescription.ts";
import { reportTemplate } from "./support/servers.ts";

let browser: Browser;
let template: string;

async function fileOf(html: string): Promise<string> {
  const path = join(await mkdtemp(join(tmpdir(), "evenstand-report-")), "report.html");
  await writeFile(path, html);
  return pathToFileURL(path).href;
}

beforeAll(async () => {
  template = await reportTemplate();
  browser = await launch();
});

afterAll(() => browser?.close());

describe("the report", () => {
  let watched: WatchedPage;
  let page: Page;

  beforeAll(async () => {
    const html = fillTemplate(template, {
      findings: inventedDocument(),
      "map-layers": inventedLayers(),
      prescription: inventedPrescription(),
    });
    watched = await watchedPage(browser, DESK);
    page = watched.page;
    await page.goto(await fileOf(html));
    await page.locator(".entry-button").first().waitFor();
    await mapSettled(page);
  });

  afterAll(() => watched?.close());

  it("holds the ledger in order of money, everything in it, each opened by a press", async () => {
    await picture(page, "report");
    expect(await page.locator(".entry-title").allTextContents()).toEqual([
      "Gauge wheels running light",
      "Crust over the seed",
      "Pressed too hard for the moisture",
      "Row unit 17: set too shallow",
      "Too fast for this setup",
      "Row unit 5: a sensor reads wrong",
      "Without a finding",
      "Ground covered",
      "Could not be judged",
      "Left out or assumed on reading the files",
    ]);
    expect(await page.locator(".detail").count()).toBe(6);
    expect(await page.locator(".detail").first().isVisible()).toBe(false);
    expect(await page.locator("#entry-F5 .entry-sure").textContent()).toContain("from the log only");
    expect(await page.locator("#entry-F6 .entry-sure").textContent()).toContain(
      "cleared by 3 counts, 2 digs",
    );
    expect(await page.locator("#entry-F6 .money").count()).toBe(0);
    expect(await page.locator("#entry-F1").textContent()).toContain("operator's manual");
    const seen = page.locator("#entry-F3 .seen li");
    expect(await seen.allTextContents()).toContain("digs: furrow wall smeared in 4 of 4");
  });

  it("holds the prescription to read: three maps, a card a soil zone, nothing to set", async () => {
    const section = page.locator("section.prescription");
    expect(await section.locator(".rate-pictures svg[role=img]").count()).toBe(3);
    expect(await section.locator(".outcome").allTextContents()).toEqual([
      "another load",
      "no change",
      "nothing to go by",
      "held back",
    ]);
    expect(await section.locator(".load-editor, input").count()).toBe(0);
    expect(await section.textContent()).toMatch(/Last year's advice was 70\slb; 30\slb was logged/);
    expect(await section.textContent()).toContain("Putty means wait.");
  });

  it("draws the field from what it carries", async () => {
    expect((await drawn(page, "pass-threads", "pass")).length).toBe(43);
    expect((await drawn(page, "counts", "spot")).length).toBe(60);
    expect((await drawn(page, "number", "number")).sort()).toEqual(["1", "2", "3", "4", "5"]);
    // The invented knoll runs light: around its middle the passes are orange, redder than they are blue.
    const knoll = await pixelsAround(page, [-93.6178262, 42.0130543], 50);
    const orange = knoll.filter((red, i) => i % 3 === 0 && red - knoll[i + 2]! > 60).length;
    expect(orange / (knoll.length / 3)).toBeGreaterThan(0.25);
    expect(await mapErrors(page)).toEqual([]);
  });

  it("selects on its map too", async () => {
    await page.locator("#entry-F2 .entry-button").click();
    await mapSettled(page);
    const chosen = await page.evaluate(
      () => window.evenstandMap.getFeatureState({ source: "findings", id: "F2" }).chosen,
    );
    expect(chosen).toBe(true);
    expect(await page.locator("#entry-F2 .entry-button").getAttribute("aria-expanded")).toBe("true");
    expect(await page.locator("#entry-F2 .detail").isVisible()).toBe(true);
  });

  it("has row units, passes, methods, inputs and a field sheet", async () => {
    const depth = page.locator(".row-units figure", { hasText: "Seeding depth" }).getByRole("slider");
    expect(await depth.getAttribute("aria-label")).toContain("row unit 17");
    expect(await page.locator("table.sortable tbody tr").count()).toBe(40);
    expect(await page.locator(".methods").textContent()).toContain("from the log only");
    expect(await page.locator(".field-sheet table").count()).toBe(6);
    expect(await page.getByText("planting.zip").first().textContent()).toContain("planting.zip");
  });

  it("gives the figures of a remedy in metric beside a sentence in farm units", async () => {
    const first = page.locator("#entry-F1");
    expect(await first.textContent()).not.toContain("Change:");
    await choose(page, { units: "metric" });
    expect(await first.textContent()).toContain("Change: from 130\u00a0N to 510\u00a0N");
    await choose(page, { units: "acres, inches" });
  });

  it("breaks no rule of access", async () => {
    expect(await violations(page)).toEqual([]);
  });

  it("prints with its map as a picture", async () => {
    await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
    expect(await page.locator(".map-print").getAttribute("src")).toMatch(/^data:image\/png;base64,.{5000}/);
    const pdf = await page.pdf({ format: "A4", printBackground: true });
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    expect(pages).toBeGreaterThanOrEqual(4);
    expect(pages).toBeLessThanOrEqual(14);
  });

  it("asks nothing of any machine and complains of nothing", () => {
    expect(watched.outside).toEqual([]);
    expect(watched.complaints).toEqual([]);
  });
});

describe("the address of the report", () => {
  it("opens the finding that it names, and Back closes it", async () => {
    const data = { findings: inventedDocument(), "map-layers": inventedLayers() };
    const address = await fileOf(fillTemplate(template, data));
    const watched = await watchedPage(browser, DESK);
    const { page } = watched;
    await page.goto(`${address}#finding=F3`);
    const opened = () => page.locator(".entry-button[aria-expanded=true] .entry-number").allTextContents();
    await expect.poll(opened).toEqual(["3"]);
    await page.locator("#entry-F4 .entry-button").click();
    await expect.poll(() => page.url()).toContain("finding=F4");
    await page.goBack();
    await expect.poll(opened).toEqual(["3"]);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });
});

describe("the report with unfriendly data", () => {
  it("shows names as they are, whatever they hold", async () => {
    const document = inventedDocument();
    document.field.name = '</script><img src=x onerror="window.hacked=1"><script>window.hacked=1</script>';
    document.findings[0]!.words.title = "<b>bold</b> & <!-- comment";
    const layers = inventedLayers();
    layers.counts.features[0]!.properties.method = "<svg onload=window.hacked=1>";
    const watched = await watchedPage(browser, PHONE);
    await watched.page.goto(
      await fileOf(fillTemplate(template, { findings: document, "map-layers": layers })),
    );
    await watched.page.locator(".entry-button").first().waitFor();
    expect(await watched.page.locator("h1").textContent()).toContain("</script><img src=x");
    expect(await watched.page.locator(".entry-title").first().textContent()).toBe(
      "<b>bold</b> & <!-- comment",
    );
    expect(await watched.page.locator('img[src="x"]').count()).toBe(0);
    expect(await watched.page.evaluate(() => "hacked" in window)).toBe(false);
    const widest = await watched.page.evaluate(() => globalThis.document.documentElement.scrollWidth);
    expect(widest).toBeLessThanOrEqual(PHONE.width);
    await picture(watched.page, "report-phone");
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });

  it("hides nothing of the map on a phone", async () => {
    const html = fillTemplate(template, { findings: inventedDocument(), "map-layers": inventedLayers() });
    const watched = await watchedPage(browser, PHONE);
    const { page } = watched;
    await page.goto(await fileOf(html));
    await mapSettled(page);
    const map = (await page.locator(".map-host").boundingBox())!;
    for (const below of [".map-tools", ".legend"]) {
      const box = (await page.locator(below).first().boundingBox())!;
      expect(box.y).toBeGreaterThanOrEqual(map.y + map.height);
    }
    await watched.close();
  });

  it("still reads without the map's layers", async () => {
    const html = fillTemplate(template, { findings: inventedDocument() });
    const watched = await watchedPage(browser, DESK);
    await watched.page.goto(await fileOf(html));
    expect(await watched.page.locator(".entry-button").count()).toBe(6);
    await mapSettled(watched.page);
    expect((await drawn(watched.page, "number", "number")).length).toBe(5);
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });

  it("says so in words where the browser cannot draw a map", async () => {
    const flat = await launch(["--disable-3d-apis"]);
    const html = fillTemplate(template, { findings: inventedDocument(), "map-layers": inventedLayers() });
    const watched = await watchedPage(flat, DESK, /WebGL/);
    await watched.page.goto(await fileOf(html));
    expect(await watched.page.locator(".entry-button").count()).toBe(6);
    const said = watched.page.locator(".no-map");
    await said.waitFor();
    expect(await said.textContent()).toContain("cannot draw the map");
    expect(await said.textContent()).toContain(
      "Gauge wheels running light, clay loam, west side, 8.4\u00a0ac",
    );
    expect(watched.complaints).toEqual([]);
    await flat.close();
  });

  it("says that the empty template is empty", async () => {
    const watched = await watchedPage(browser, DESK);
    await watched.page.goto(await fileOf(template));
    expect(await watched.page.locator("main").textContent()).toContain("empty template");
    expect(watched.complaints).toEqual([]);
    await watched.close();
  });
});

describe("the report's file", () => {
  it("holds no reader of field files, so no LGPL code", () => {
    const code = template.slice(template.indexOf('<script type="module">'));
    // Names only the validator of small layers and the library's reader have.
    for (const name of ["isMultiPolygonCoor", "isLinearRingCoor", "file-unusable", "EPSG:4326"]) {
      expect([name, code.includes(name)]).toEqual([name, false]);
    }
  });

  it("has one empty place for each block of data and no address of another machine to load from", () => {
    for (const id of ["findings", "map-layers"]) {
      expect(template.split(`<script type="application/json" id="${id}"></script>`).length).toBe(2);
    }
    const head = template.slice(0, template.indexOf('<script type="module">'));
    expect(/<(?:script|link|img)[^>]+(?:src|href)="https?:/.test(head)).toBe(false);
  });
});
