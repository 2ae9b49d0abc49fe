/** The report on paper: the farmer's sheet on one page, report.pdf and in-short.pdf as the command makes them. */
import { execFile } from "node:child_process";
import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PAPERS, printReport } from "../../src/cli/commands/print-report.ts";
import { fillTemplate } from "../../src/report/report-text.ts";
import { launch, picture, watchedPage } from "./support/browser.ts";
import { inventedDocument, inventedLayers } from "./support/invented-field.ts";
import { ROOT, reportTemplate, SAMPLE } from "./support/servers.ts";

let browser: Browser;
let html: string;

beforeAll(async () => {
  const template = await reportTemplate();
  const data = { findings: inventedDocument(), "map-layers": inventedLayers() };
  html = fillTemplate(template, data);
  browser = await launch();
});

afterAll(() => browser?.close());

const CHROMIUM = process.env.EVENSTAND_CHROMIUM || "/usr/bin/chromium";

function pagesOf(pdf: Uint8Array): number {
  return (
    Buffer.from(pdf)
      .toString("latin1")
      .match(/\/Type\s*\/Page\b/g)?.length ?? 0
  );
}

/** The report of the sample field, as the command writes it: more is said of it than of the invented findings. */
async function sampleReport(): Promise<string> {
  const out = join(await mkdtemp(join(tmpdir(), "evenstand-print-")), "results");
  await promisify(execFile)(process.execPath, [
    join(ROOT, "dist/src/cli/main.js"),
    "analyse",
    SAMPLE,
    "--out",
    out,
  ]);
  return readFile(join(out, "report.html"), "utf8");
}

describe("the report on paper", () => {
  it("is two pages in short, of the sample field too: what, cost, what to do, what to check, and the map", async () => {
    const sample = await sampleReport();
    for (const paper of ["letter", "a4"] as const)
      expect(pagesOf((await printReport(CHROMIUM, sample, paper)).short), paper).toBe(2);
    const watched = await watchedPage(browser, { width: 720, height: 960 });
    const { page } = watched;
    await page.setContent(sample);
    await page.locator(".map-host[data-drawn]").waitFor({ state: "attached" });
    await page.evaluate(() => {
      document.documentElement.dataset.print = "short";
    });
    await page.emulateMedia({ media: "print" });
    // biome-ignore lint/performance/useDomNodeTextContent: only what is laid out for paper is wanted
    const words = (await page.locator("main").innerText()).replaceAll(/\s+/g, " ");
    for (const said of [
      /plants are short, on .* about USD/,
      /Lost in all: about USD/,
      /Carry more load on the gauge wheels/,
      /Check first: Dig/,
      /operator's manual/,
      /Gauge-wheel load/,
    ])
      expect(words).toMatch(said);
    expect(words).not.toMatch(/json|findings\.|percentile|covariance|\bSD\b|tested in the counts/i);
    await watched.close();
  });

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
    const { whole, short } = await printReport(CHROMIUM, html, paper);
    const pdf = Buffer.from(whole).toString("latin1");
    expect(pdf.startsWith("%PDF-")).toBe(true);
    expect(pagesOf(short)).toBe(2);
    // Points are 1/72 in.
    const boxes = [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)].map((box) =>
      box.slice(1).map(Number),
    );
    expect(boxes.length).toBeGreaterThanOrEqual(1);
    for (const [width, height] of boxes) {
      expect(Math.abs(width! - PAPERS[paper].width * 72)).toBeLessThan(1);
      expect(Math.abs(height! - PAPERS[paper].height * 72)).toBeLessThan(1);
    }
    expect(pagesOf(whole)).toBeGreaterThanOrEqual(5);
    // Tagged for readers, with an outline; the map is in it as a picture.
    expect(pdf).toContain("/MarkInfo");
    expect(pdf).toContain("/Outlines");
    expect(pdf).toMatch(/\/Subtype\s*\/Image/);
  });
});
