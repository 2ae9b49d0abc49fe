/** The address says what is shown: Back goes to what was shown before, and an address that was kept opens it again. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { DESK, launch, ledgerShown, PATIENCE } from "./support/browser.ts";
import { serveSample } from "./support/servers.ts";

let browser: Browser;
let server: RunningServer;
let page: Page;

beforeAll(async () => {
  [browser, server] = [await launch(), await serveSample()];
  page = await (await browser.newContext({ viewport: DESK, reducedMotion: "reduce" })).newPage();
  page.setDefaultTimeout(PATIENCE);
  await page.goto(server.address);
  await ledgerShown(page);
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

const chosen = () => page.locator(".entry.chosen .entry-number").allTextContents();
const pressed = (group: string) => page.locator(`${group} button[aria-pressed=true]`).textContent();

describe("the address", () => {
  it("takes each step, and Back takes it back", async () => {
    await page.locator(".entry-button").nth(1).click();
    await expect.poll(() => page.url()).toContain("finding=F2");
    await page.getByRole("button", { name: "Row units" }).click();
    await expect.poll(() => page.url()).toContain("part=rows");
    await page.getByRole("button", { name: "What to set" }).click();
    await expect.poll(() => page.url()).toContain("pane=prescription");
    await page.goBack();
    await expect.poll(() => pressed(".pane-switch")).toBe("What went wrong");
    await page.goBack();
    await expect.poll(() => pressed(".dock-choice")).toBe("Furrow");
    expect(await chosen()).toEqual(["2"]);
    await page.goBack();
    await expect.poll(chosen).toEqual([]);
    await page.goForward();
    await expect.poll(chosen).toEqual(["2"]);
  });

  it("opens what it names, and nothing for a finding that is not there", async () => {
    await page.goto("about:blank");
    await page.goto(`${server.address}#finding=F3&part=counts&colour=seedingDepth`);
    await ledgerShown(page);
    await expect.poll(chosen).toEqual(["3"]);
    expect(await pressed(".dock-choice")).toBe("Counts and digs");
    expect(await page.locator(".legend-choice select").first().inputValue()).toBe("seedingDepth");
    await page.evaluate(() => {
      location.hash = "finding=F99";
    });
    await expect.poll(chosen).toEqual([]);
  });
});
