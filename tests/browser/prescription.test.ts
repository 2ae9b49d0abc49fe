/** The prescription on the page, with the sample field. */
import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  drawn,
  launch,
  ledgerShown,
  mapErrors,
  mapSettled,
  PHONE,
  picture,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { serveSample } from "./support/servers.ts";

let browser: Browser;

beforeAll(async () => {
  browser = await launch();
});

afterAll(() => browser?.close());

describe("the prescription on the page", () => {
  let server: RunningServer;
  let watched: WatchedPage;
  let page: Page;
  /** Load advised for the zone that changes, before anything is set. */
  let advised = "";

  const card = () => page.locator(".zone-card", { hasText: "another load" }).first();
  const field = () => card().getByLabel("Set", { exact: true });
  const load = () => field().inputValue();

  beforeAll(async () => {
    server = await serveSample();
    watched = await watchedPage(browser, DESK);
    page = watched.page;
    await page.goto(server.address);
    await ledgerShown(page);
    await page.getByRole("button", { name: "What to set" }).click();
    await page.locator(".zone-card").first().waitFor();
    await mapSettled(page);
    advised = await load();
  });

  afterAll(async () => {
    await watched?.close();
    await server?.close();
  });

  it("puts what to mend before the cards, and a card a soil zone with three loads, its reason and evidence", async () => {
    await picture(page, "prescription");
    const order = await page
      .locator(".first-list, .zone-card")
      .evaluateAll((parts) => parts.map((part) => part.className.split(" ")[0]));
    expect(order.slice(0, 2)).toEqual(["first-list", "zone-card"]);
    expect(order.length).toBe(1 + 4);
    expect(await page.locator(".first-list").textContent()).toMatch(/Row unit 17.*Too fast/s);
    for (const each of await page.locator(".zone-card").all()) {
      expect(await each.locator(".load-figure").allTextContents()).toEqual(
        expect.arrayContaining([expect.stringMatching(/^\d+\slb$/)]),
      );
      expect(await each.locator(".load-bars tbody th").allTextContents()).toEqual(
        expect.arrayContaining(["Dry", "Fit, picked", "Damp"]),
      );
      expect(await each.textContent()).toMatch(/Evidence: .*counts/);
    }
    expect(await page.locator(".zone-card .held-back-by").textContent()).toContain("Settle first");
    expect(await page.locator(".zone-card:has(.held-back-by) .load-editor").count()).toBe(0);
    expect(await page.locator(".cautions").isVisible()).toBe(true);
    expect(await page.locator(".effect p").textContent()).toMatch(/plants in 100 \(.*\), USD/);
  });

  it("sets a load by number, button and slider alike, and takes it back by keyboard", async () => {
    const first = Number(advised);
    await field().fill(String(first + 5));
    await field().press("Enter");
    await expect.poll(load).toBe(String(first + 5));
    await card().getByRole("button", { name: "Lighter by 5 lb" }).press("Enter");
    await expect.poll(load).toBe(advised);
    const slider = card().getByRole("slider");
    await slider.focus();
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await expect.poll(load).toBe(String(first + 10));
    expect(await slider.getAttribute("aria-valuetext")).toBe(`${first + 10} lb`);
    // The worker's answer follows: the zone on the map carries the load.
    await expect
      .poll(() => drawn(page, "load-ground", "said"), { timeout: 120_000 })
      .toContain(`${first + 10} lb`);
    await page.keyboard.press("Control+z");
    await expect.poll(load).toBe(String(first + 5));
    await page.keyboard.press("Control+Shift+z");
    await expect.poll(load).toBe(String(first + 10));
    await page.locator(".effect").getByRole("button", { name: "Back to the advice" }).click();
    await expect.poll(load).toBe(advised);
    await page.locator(".effect").getByRole("button", { name: "Undo" }).click();
    await expect.poll(load).toBe(String(first + 10));
    await card().getByRole("button", { name: "back to the advised load" }).click();
    await expect.poll(load).toBe(advised);
  });

  it("refuses a load beyond a limit, with the reason and the limits", async () => {
    await field().fill("400");
    await field().press("Enter");
    const refusal = card().getByRole("alert");
    await expect
      .poll(() => refusal.textContent())
      .toMatch(/Not set: 400\slb is more than .*\d+\slb to \d+\slb may be set/);
    expect(await field().getAttribute("aria-invalid")).toBe("true");
    await expect.poll(() => card().locator(".zone-step strong").textContent()).toBe(`${advised}\u00a0lb`);
    expect(await violations(page)).toEqual([]);
    await field().fill(advised);
    await field().press("Enter");
    await expect.poll(() => refusal.textContent()).toBe("");
  });

  it("says in the ledger the load that was set by hand, and the advised one once it is taken back", async () => {
    const ledger = page.locator(".entries").first();
    const set = `${Number(advised) + 5}\u00a0lb`;
    await field().fill(String(Number(advised) + 5));
    await field().press("Enter");
    await expect.poll(load).toBe(String(Number(advised) + 5));
    await page.getByRole("button", { name: "What went wrong" }).click();
    await expect.poll(() => ledger.textContent(), { timeout: 120_000 }).toContain(`clay loam ${set}`);
    await page.getByRole("button", { name: "What to set" }).click();
    await card().getByRole("button", { name: "back to the advised load" }).click();
    await expect.poll(load).toBe(advised);
    await page.getByRole("button", { name: "What went wrong" }).click();
    await expect
      .poll(() => ledger.textContent(), { timeout: 120_000 })
      .toContain(`clay loam ${advised}\u00a0lb`);
    await page.getByRole("button", { name: "What to set" }).click();
  });

  it("leads from what comes first to its entry in the ledger", async () => {
    const link = page.locator(".first-list a").first();
    const number = /\d+/.exec((await link.textContent())!)![0];
    await link.click();
    const entry = page.locator(".entry.chosen");
    expect(await entry.locator(".entry-number").textContent()).toBe(number);
    await page.getByRole("button", { name: "What to set" }).click();
    await page.locator(".zone-card").first().waitFor();
  });

  it("shows today, prescribed and change on the map, numbered, the strip hatched", async () => {
    expect(((await drawn(page, "load-discs", "number")) as string[]).sort()).toEqual(
      expect.arrayContaining(["1", "2", "3"]),
    );
    expect(await drawn(page, "load-strips", "proofStrip")).toEqual([true]);
    expect(await drawn(page, "load-ground", "said")).not.toContain("0 lb");
    const legend = page.locator(".load-legend");
    for (const mode of ["Today", "Change"]) {
      await page.locator(".map-modes").getByRole("button", { name: mode }).click();
      await mapSettled(page);
      const onMap = (await drawn(page, "load-said", "said")) as string[];
      const said = await legend.locator(".load-entries strong").allTextContents();
      expect(said.map((text) => text.replace("\u00a0", " "))).toEqual(expect.arrayContaining(onMap));
    }
    expect(await drawn(page, "load-ground", "said")).toContain("0 lb");
    expect(await mapErrors(page)).toEqual([]);
    await picture(page, "prescription-change");
  });

  it("takes the state of the ground and the channel, and shows the force in figures", async () => {
    await page.getByRole("radio", { name: /^Damp/ }).check();
    await expect.poll(() => card().locator(".zone-step").textContent()).toContain("damp ground");
    await page.getByRole("radio", { name: /^Fit/ }).check();
    expect(await page.locator(".pick-channel").textContent()).toContain("not the force added");
    await page.locator("details.files > summary").click();
    const machine = page.locator(".no-channel button");
    expect(await machine.isDisabled()).toBe(true);
    expect(await page.locator(".no-channel").textContent()).toMatch(/nobody has said/);
    await page.getByRole("radio", { name: /^Force added/ }).check();
    await expect.poll(() => page.locator(".formula li").count()).toBeGreaterThan(3);
    await machine.waitFor({ state: "detached" });
    expect(await card().textContent()).toMatch(/Sent to the machine: \d+\slb added force/);
    const names = page.locator(".file-list button:first-child");
    await expect
      .poll(async () => (await names.allTextContents()).filter((name) => name.startsWith("task-")))
      .toHaveLength(6);
    const opening = watched.context.waitForEvent("page");
    await page.getByRole("button", { name: "Open to print" }).click();
    const sheet = await opening;
    await sheet.locator("h1").waitFor();
    expect(await sheet.title()).toContain("Larkspur Draw");
    // The page's policy allows no style in a page's text; the sheet has its own all the same.
    expect(await sheet.evaluate(() => document.adoptedStyleSheets[0]?.cssRules.length ?? 0)).toBeGreaterThan(
      10,
    );
    expect(await sheet.locator(".page").getAttribute("style")).toContain("--zoom");
    await sheet.close();
    const download = page.waitForEvent("download");
    await page.locator(".file-list button", { hasText: ".zip" }).first().click();
    const bytes = await readFile(await (await download).path());
    expect(bytes.subarray(0, 2).toString()).toBe("PK");
  });

  it("fits a phone, and goes back to the ledger with the map as it was", async () => {
    await page.setViewportSize(PHONE);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.width);
    expect(await violations(page)).toEqual([]);
    await picture(page, "prescription-phone");
    await page.setViewportSize(DESK);
    await page.getByRole("button", { name: "What went wrong" }).click();
    await mapSettled(page);
    expect((await drawn(page, "number", "number")).length).toBeGreaterThanOrEqual(3);
    expect(await page.locator(".ledger").isVisible()).toBe(true);
    expect(watched.complaints).toEqual([]);
    expect(watched.outside).toEqual([]);
  });
});
