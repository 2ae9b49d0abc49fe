/** The part "Stand and money" of the page with the sample field: figures, the user's own costs, keyboard, screen reader. */
import type { Browser, Locator } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import {
  choose,
  DESK,
  launch,
  ledgerShown,
  picture,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { serveSample } from "./support/servers.ts";

let browser: Browser;
let server: RunningServer;
let watched: WatchedPage;
let part: Locator;

beforeAll(async () => {
  server = await serveSample();
  browser = await launch();
  watched = await watchedPage(browser, DESK);
  await watched.page.goto(server.address);
  await ledgerShown(watched.page);
  await watched.page.getByRole("button", { name: "Stand and money" }).press("Enter");
  part = watched.page.locator(".stand-money");
  await part.waitFor();
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

const amount = (text: string): number => Number(text.replaceAll(/[^\d]/g, ""));

describe("stand and money", () => {
  it("says the field's loss by soil zone, the parts summing to the whole but for rounding", async () => {
    await picture(watched.page, "stand-and-money");
    const whole = amount((await part.locator("tfoot td").nth(1).textContent())!);
    const zones = part.locator("details", { hasText: "Money by soil zone" }).locator("tbody tr");
    const sums = await zones.locator("td:nth-child(3)").allTextContents();
    expect(sums.length).toBeGreaterThanOrEqual(3);
    const sum = sums.reduce((all, text) => all + amount(text), 0);
    expect(Math.abs(sum - whole)).toBeLessThanOrEqual(0.1 * whole);
  });

  it("weighs a remedy by the cost the user writes, and by nothing else", async () => {
    const row = part.locator("section", { hasText: "Worth fixing" }).locator("tbody tr").first();
    const verdict = row.locator("td").last();
    expect(await verdict.textContent()).toBe("write what it costs");
    await row.locator("input").fill("1");
    expect(await verdict.textContent()).toContain("pays within a year");
    await row.locator("input").fill("900,000");
    expect(await verdict.textContent()).toContain("does not pay within a year");
    await row.locator("input").fill("much");
    expect(await verdict.textContent()).toBe("write a figure, such as 450");
    expect(await row.locator("input").getAttribute("aria-invalid")).toBe("true");
  });

  it("weighs keeping against replanting, cautions first, dearer with a dearer planting", async () => {
    const replant = part.locator(".replant");
    expect(await replant.locator(".caution").textContent()).toMatch(/adjuster.*labels.*extension/s);
    const net = replant.locator("table").first().locator("tbody tr").first().locator("td").nth(2);
    const before = await net.textContent();
    await replant.getByLabel("Planting", { exact: true }).fill("40");
    expect(await net.textContent()).not.toBe(before);
    await replant.getByLabel("Replanting on").fill("2026-04-01");
    expect(await replant.textContent()).toContain("is not after the planting");
    await replant.getByLabel("Replanting on").fill("2026-06-01");
    expect(await replant.textContent()).not.toContain("--");
  });

  it("times emergence, names the drivers and the row units that stand apart", async () => {
    const text = (await part.textContent())!;
    for (const word of [
      "When plants should be up",
      "Degree days F",
      "What depth and load change with",
      "Row units that stand apart",
    ])
      expect(text).toContain(word);
  });

  it("compares the same soil before and after a rain, in the reader's units and figures", async () => {
    const silt = part.locator(".rain li", { hasText: "silt loam" });
    expect(await silt.textContent()).toMatch(
      /planted before and after 0\.35\sin of rain on Apr.25,.2026: .* difference -?\d+ points .* left out \(\d+\)\. This is an association/,
    );
    await choose(watched.page, { numbers: "1.234,5" });
    await expect.poll(() => silt.textContent()).toContain("0,35\u00a0in of rain on Apr\u00a025, 2026");
    await choose(watched.page, { units: "metric" });
    await expect.poll(() => silt.textContent()).toContain("9\u00a0mm of rain on Apr\u00a025, 2026");
    await choose(watched.page, { units: "acres, inches", numbers: "1,234.5" });
    await expect.poll(() => silt.textContent()).toContain("0.35\u00a0in of rain");
  });

  it("is sound for a screen reader and complains of nothing", async () => {
    expect(await violations(watched.page)).toEqual([]);
    expect(watched.complaints).toEqual([]);
    expect(watched.outside).toEqual([]);
  });
});
