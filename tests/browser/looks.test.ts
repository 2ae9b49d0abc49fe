/** Every state of the page by day, by night and in forced colours: legible by axe, nothing wider than the screen. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import { DESK, launch, ledgerShown, PATIENCE, PHONE, picture } from "./support/browser.ts";
import { serveSample } from "./support/servers.ts";

/** Colours do not depend on the width, so each look is gone through on one screen. */
const LOOKS = [
  { name: "dark", screen: "desk", viewport: DESK, options: { colorScheme: "dark" } },
  { name: "forced", screen: "phone", viewport: PHONE, options: { forcedColors: "active" } },
] as const;

const PARTS = [
  "Furrow",
  "Row units",
  "Passes by soil",
  "Counts and digs",
  "Stand and money",
  "Another season",
] as const;

let browser: Browser;
let server: RunningServer;

beforeAll(async () => {
  [browser, server] = [await launch(), await serveSample()];
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

describe.each(LOOKS)("the page in a $name look", ({ name, screen, viewport, options }) => {
  it(`is legible in every state on a ${screen}`, async () => {
    const context = await browser.newContext({ viewport, reducedMotion: "reduce", ...options });
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE);
    try {
      await page.goto(server.address);
      await ledgerShown(page);
      const faults: string[] = [];
      const look = async (state: string): Promise<void> => {
        await picture(page, `${name}-${screen}-${state.replaceAll(" ", "-")}`);
        faults.push(...(await violations(page)).map((fault) => `${state}: ${fault}`));
        if (await outgrowsScreen(page)) faults.push(`${state}: larger than the screen`);
      };
      await page.locator(".entry-button").first().click();
      await look("ledger");
      for (const part of PARTS) {
        if (screen === "phone") await page.getByRole("button", { name: "Furrow and rows" }).click();
        await page.getByRole("button", { name: part, exact: true }).click();
        await look(part);
      }
      for (const menu of ["Take along", "Settings"]) {
        await page.getByRole("button", { name: menu, exact: true }).click();
        await look(menu);
        await page.keyboard.press("Escape");
      }
      if (screen === "phone") await page.getByRole("button", { name: "Ledger", exact: true }).click();
      await page.getByRole("button", { name: "What to set" }).click();
      await page.locator(".zone-card").first().waitFor();
      await look("What to set");
      expect(faults).toEqual([]);
    } finally {
      await context.close();
    }
  });
});

/** The page's parts scroll, never the page. */
function outgrowsScreen(page: Page): Promise<boolean> {
  return page.evaluate(() => {
    const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement;
    return scrollWidth > clientWidth || scrollHeight > clientHeight;
  });
}
