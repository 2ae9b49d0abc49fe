/** What a screen reader reads of the page and of the report, in which order, at both widths; held by the accessibility tree. */
import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { fillTemplate } from "../../src/report/report-text.ts";
import { DESK, launch, ledgerShown, mapSettled, PATIENCE, PHONE, watchedPage } from "./support/browser.ts";
import { inventedDocument, inventedLayers } from "./support/invented-field.ts";
import { inventedPrescription } from "./support/invented-prescription.ts";
import { expectInOrder, headings, landmarks, readingOrder, skippedLevels } from "./support/reading-order.ts";
import { reportTemplate, serveSample } from "./support/servers.ts";

let browser: Browser;
let server: RunningServer;
let report: string;

beforeAll(async () => {
  [browser, server] = [await launch(), await serveSample()];
  const html = fillTemplate(await reportTemplate(), {
    findings: inventedDocument(),
    "map-layers": inventedLayers(),
    prescription: inventedPrescription(),
  });
  const path = join(await mkdtemp(join(tmpdir(), "evenstand-reading-")), "report.html");
  await writeFile(path, html);
  report = pathToFileURL(path).href;
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

/** Ends of the words a listener has to hear first: they begin the ledger on the page and in the report. */
const OF_FINDINGS = /^\d+\s*(.+?)\s*(?:USD)/;

describe.each([DESK, PHONE])("read aloud at $width px", (size) => {
  it("the page says headline, cost, findings in the ledger's order each with what to do, then the map", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    await page.goto(server.address);
    await ledgerShown(page);
    await page.locator(".entry-title").first().waitFor({ timeout: PATIENCE });
    await page.locator(".entry-do", { hasText: "Carry more load" }).waitFor({ timeout: PATIENCE });
    const titles = await page.locator(".entry-button .entry-title").allTextContents();
    expect(titles.length).toBeGreaterThan(3);
    const ledger = await readingOrder(page);
    expectInOrder(ledger, [
      "Larkspur Draw",
      "plants are short",
      "Lost in all",
      "operator's manual",
      ...titles.flatMap((title, i) => (i === 0 ? [title, "Carry more load on the gauge wheels"] : [title])),
      "Without a finding",
      "Could not be judged",
    ]);
    expect(
      ledger.filter(({ role }) => role === "button").map(({ name }) => OF_FINDINGS.test(name)),
    ).toContain(true);
    // Drawn signs say nothing: the arrow before what to do is not read out.
    expect(ledger.filter(({ name }) => name.includes("\u2192"))).toEqual([]);
    expect(skippedLevels(ledger)).toEqual([]);
    const desk = size === DESK;
    expect(landmarks(ledger).slice(0, 4)).toEqual([
      "banner",
      "main",
      "navigation: Beside the map",
      "region: Ledger",
    ]);
    if (!desk) {
      expect(landmarks(ledger)).toContain("navigation: Parts of the page");
      await page.getByRole("button", { name: "Map", exact: true }).click();
    }
    await mapSettled(page);
    const whole = desk ? ledger.slice(0, 0).concat(await readingOrder(page)) : await readingOrder(page);
    expectInOrder(whole, [
      ...(desk ? ["Lost in all", titles.at(-1)!] : []),
      "Map of the field",
      /^The map shows 44 passes, 4 soil zones.*Groups outlined: 1: Gauge wheels running light/,
      "Whole field",
    ]);
    expect(headings(whole)[0]).toMatchObject({ level: 1, name: expect.stringContaining("Larkspur Draw") });
    expect(headings(whole).map(({ name }) => name)).toEqual(
      expect.arrayContaining(desk ? ["Ledger", "Map of the field", "Furrow"] : ["Map of the field"]),
    );
    expect(skippedLevels(whole)).toEqual([]);
    await watched.close();
  });

  it("the report says headline, cost, the map in words, then each finding with what to do", async () => {
    const watched = await watchedPage(browser, size);
    const { page } = watched;
    await page.goto(report);
    await page.locator(".entry-button").first().waitFor();
    await mapSettled(page);
    const read = await readingOrder(page);
    const titles = await page.locator(".entry-button .entry-title").allTextContents();
    expectInOrder(read, [
      "Invented Bench",
      "In short",
      "Five places cost plants",
      "Lost in all: about",
      "operator's manual",
      "Map of the field",
      /^The map shows 43 passes.*Groups outlined: 1: Gauge wheels running light/,
      "Ledger",
      ...titles,
      "Without a finding",
      "Could not be judged",
      "Row units",
      "How this was worked out",
      "What it rests on",
    ]);
    const marks = landmarks(read);
    expect(marks.slice(0, 3)).toEqual(["banner", "main", "region: In short"]);
    expect(marks.at(-1)).toBe("contentinfo");
    expect(marks.indexOf("region: Map of the field")).toBeLessThan(marks.indexOf("region: Ledger"));
    expect(headings(read).filter(({ level }) => level === 1).length).toBe(1);
    expect(skippedLevels(read)).toEqual([]);
    expect(read.filter(({ name }) => name.includes("\u2192"))).toEqual([]);
    await watched.close();
  });
});
