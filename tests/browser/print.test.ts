/** The report on paper: the farmer's sheet on one page, and report.pdf as the command makes it. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PAPERS, printReport } from "../../src/cli/commands/print-report.ts";
import { fillTemplate } from "../../src/report/report-text.ts";
import { launch, picture, watchedPage } from "./support/browser.ts";
import { inventedDocument, inventedLayers } from "./support/invented-field.ts";
import { reportTemplate } from "./support/servers.ts";

let browser: Browser;
let html: string;

beforeAll(async () => {
  const template = await reportTemplate();
  const data = { findings: inventedDocument(), "map-layers": inventedLayers() };
  html = fillTemplate(template, data);
  browser = await launch();
});

afterAll(() => browser?.close());

describe("the report on paper", () => {
  it.each(["letter", "a4"] as const)("has the farmer's summary on one page of %s", async (paper) => {
    const { width, height } = PAPERS[paper];
    // CSS pixels are 1/96 in; half an inch of margin, 0.65 in below.
    const room = { width: Math.floor((width - 1) * 96), height: Math.floor((height - 1.15) * 96) };
    const watched = await watchedPage(browser, room);
    await watched.page.setContent(html);
    await watched.page.locator(".farm-summary").waitFor();
    await watched.page.emulateMedia({ media: "print" });
    const bottom = await watched.page
      .locator(".farm-summary")
      .evaluate((sheet) => sheet.getBoundingClientRect().bottom + scrollY);
    expect(bottom).toBeLessThanOrEqual(room.height);
    const words = (await watched.page.locator(".farm-summary").textContent()) ?? "";
    expect(words).toContain("Before next spring");
    expect(words).toContain("operator's manual");
    // Plain words: nothing of statistics on the farmer's sheet.
    expect(words).not.toMatch(/p-value|percentile|interval|covariance|z-score|\bSD\b/i);
    await picture(watched.page, `summary-${paper}`);
    await watched.close();
  });

  it("is printed by the installed browser, tagged and with its map", async () => {
    const paper = "a4";
    const pdf = Buffer.from(
      await printReport(process.env.EVENSTAND_CHROMIUM || "/usr/bin/chromium", html, paper),
    ).toString("latin1");
    expect(pdf.startsWith("%PDF-")).toBe(true);
    // Points are 1/72 in.
    const boxes = [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)].map((box) =>
      box.slice(1).map(Number),
    );
    expect(boxes.length).toBeGreaterThanOrEqual(1);
    for (const [width, height] of boxes) {
      expect(Math.abs(width! - PAPERS[paper].width * 72)).toBeLessThan(1);
      expect(Math.abs(height! - PAPERS[paper].height * 72)).toBeLessThan(1);
    }
    const pages = pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    expect(pages).toBeGreaterThanOrEqual(5);
    // Tagged for readers, with an outline; the map is in it as a picture.
    expect(pdf).toContain("/MarkInfo");
    expect(pdf).toContain("/Outlines");
    expect(pdf).toMatch(/\/Subtype\s*\/Image/);
  });
});
