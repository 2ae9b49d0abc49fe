/** Numbers as the reader writes them: by the browser's language, or as chosen beside the units. */
import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fillTemplate } from "../../src/report/report-text.ts";
import { violations } from "./support/accessible.ts";
import { choose, launch, PHONE, picture } from "./support/browser.ts";
import { inventedDocument, inventedLayers } from "./support/invented-field.ts";
import { reportTemplate, serveNoField } from "./support/servers.ts";

let browser: Browser;
let context: BrowserContext;
let page: Page;

/** The text as on paper: no-break spaces as spaces. */
const textOf = async (selector: string) =>
  ((await page.locator(selector).first().textContent()) ?? "").replaceAll(/[\u00a0\u202f]/g, " ").trim();

beforeAll(async () => {
  browser = await launch();
  context = await browser.newContext({ locale: "de-DE", viewport: PHONE, reducedMotion: "reduce" });
  page = await context.newPage();
});

afterAll(() => browser?.close());

describe("numbers in the reader's locale", () => {
  it("are written in the report as its sentences have them, and otherwise once chosen", async () => {
    const findings = inventedDocument();
    findings.written = { language: "en", locale: "de" };
    findings.findings[0]!.words.check = "Set 1,75 in on 1.250 ft.";
    const data = { findings, "map-layers": inventedLayers() };
    const path = join(await mkdtemp(join(tmpdir(), "evenstand-report-")), "report.html");
    await writeFile(path, fillTemplate(await reportTemplate(), data));
    await page.goto(pathToFileURL(path).href);
    await page.locator(".entry-button").first().waitFor();
    // The largest loss of the invented field is USD 1,240, from 760 to 1,710.
    expect(await textOf(".entry-button .money")).toBe("1.200 USD");
    expect(await textOf(".entry-button .range")).toBe("760 to 1.700 USD");
    expect(await textOf(".field-said")).toMatch(/\d+,\d ac/);
    await page.locator(".entry-button").first().click();
    await expect.poll(() => textOf(".detail")).toContain("Set 1,75 in on 1.250 ft.");
    await choose(page, { numbers: "1,234.5" });
    await expect.poll(() => textOf(".entry-button .money")).toBe("USD 1,200");
    expect(await textOf(".field-said")).toMatch(/\d+\.\d ac/);
    await choose(page, { numbers: "1 234,5" });
    await expect.poll(() => textOf(".entry-button .money")).toBe("1 200 USD");
    // Nothing runs out of the narrow page.
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
    await picture(page, "numbers-phone");
  });

  it("stay as chosen after the page is loaded again", async () => {
    const server = await serveNoField();
    try {
      await page.goto(server.address);
      const choice = page.getByLabel("How numbers are written");
      await page.getByRole("button", { name: "Settings" }).click();
      expect(await choice.inputValue()).toBe("auto");
      expect(await textOf("#numbers option")).toBe("1.234,5 (automatic)");
      await choice.selectOption("1 234,5");
      await page.reload();
      await page.getByRole("button", { name: "Settings" }).click();
      await expect.poll(() => choice.inputValue()).toBe("1 234,5");
      expect(await violations(page)).toEqual([]);
    } finally {
      await server.close();
    }
  });
});
