/** An unfinished log dropped by itself: its first passes on one screen, in the words of the command. */
import { execFile } from "node:child_process";
import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  launch,
  ledgerShown,
  PATIENCE,
  PHONE,
  picture,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { drop } from "./support/drop.ts";
import { ROOT, serveNoField } from "./support/servers.ts";
import { smallField } from "./support/small-field.ts";

let browser: Browser;
let server: RunningServer;
let watched: WatchedPage;

beforeAll(async () => {
  server = await serveNoField();
  browser = await launch();
  watched = await watchedPage(browser, DESK);
  await watched.page.goto(server.address);
});

afterAll(async () => {
  await watched?.close();
  await browser?.close();
  await server?.close();
});

/** The log of the small field, planted an inch too shallow. */
function shallowLog(): string {
  const log = JSON.parse(smallField()[0]!.text) as { features: { properties: { DEPTH_IN: number } }[] };
  for (const { properties } of log.features) properties.DEPTH_IN -= 1;
  return JSON.stringify(log);
}

const plain = (text: string) => text.replace(/\s+/g, " ").trim();

it("offers a log alone a look at its first passes, and says what the command says", async () => {
  const { page } = watched;
  const text = shallowLog();
  await drop(page, [{ name: "planting.geojson", text }]);
  await page.getByRole("button", { name: "Look at the first passes" }).click({ timeout: PATIENCE });
  const screen = page.locator(".first-passes");
  await screen.waitFor({ timeout: PATIENCE });

  const folder = await mkdtemp(join(tmpdir(), "evenstand-first-"));
  await writeFile(join(folder, "planting.geojson"), text);
  const words = [join(ROOT, "dist/src/cli/main.js"), "check", "planting.geojson"];
  const { stdout } = await promisify(execFile)(process.execPath, words, { cwd: folder });
  const said = plain(stdout);
  const parts = await screen.locator("p:not(:has(button)), li").allTextContents();
  const compared = parts.map(plain).filter((part) => part !== "");
  expect(compared.length).toBeGreaterThan(4);
  for (const part of compared) expect(said).toContain(part);
  for (const cell of await screen.locator("tbody :is(th, td)").allTextContents())
    expect(said).toContain(plain(cell));
  const shown = plain((await screen.textContent())!);
  expect(shown).toMatch(/Depth: 1\.0\d? in on the mean, most of it shallower than/);
  expect(shown).toContain("Where to dig");
  expect(shown).toContain("operator's manual");
  expect(await violations(page)).toEqual([]);
  await picture(page, "first-passes");
  await page.setViewportSize(PHONE);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(PHONE.width);
  await picture(page, "first-passes-phone");
  await page.setViewportSize(DESK);
});

it("goes on from there to the files and to the whole work", async () => {
  const { page } = watched;
  await page.getByRole("button", { name: "Back to the files" }).click();
  await page.locator(".sorting-table").waitFor({ timeout: PATIENCE });
  await page.getByRole("button", { name: "Look at the first passes" }).click({ timeout: PATIENCE });
  await page.getByRole("button", { name: "Work out the whole log" }).click({ timeout: PATIENCE });
  await ledgerShown(page);
});

it("does not offer it where other files play a part", async () => {
  const { page } = watched;
  await page.getByRole("button", { name: "Open…" }).click({ timeout: PATIENCE });
  await drop(page, smallField());
  await page.locator(".sorting-table").waitFor({ timeout: PATIENCE });
  expect(await page.getByRole("button", { name: "Look at the first passes" }).count()).toBe(0);
});
