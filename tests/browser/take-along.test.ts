/** What is taken along from the page: tables, pieces and sheets as the command writes them, and a picture of the map. */
import { execFile } from "node:child_process";
import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { unzipSync } from "fflate";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import {
  DESK,
  launch,
  ledgerShown,
  mapSettled,
  openTakeAlong,
  PATIENCE,
  picture,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { ROOT, SAMPLE, serveSample } from "./support/servers.ts";

let browser: Browser;
let server: RunningServer;
let watched: WatchedPage;
let written: string;

const command = (...words: string[]) =>
  promisify(execFile)(process.execPath, [join(ROOT, "dist/src/cli/main.js"), ...words], {
    maxBuffer: 2 ** 26,
  });

beforeAll(async () => {
  written = await mkdtemp(join(tmpdir(), "evenstand-along-"));
  server = await serveSample();
  browser = await launch();
  watched = await watchedPage(browser, DESK);
  await watched.page.goto(server.address);
  await command("analyse", SAMPLE, "--out", join(written, "results"));
  await command("scout", SAMPLE, "--out", join(written, "scouting"));
  await command("prescribe", SAMPLE, "--out", join(written, "prescription"));
  await ledgerShown(watched.page);
  await mapSettled(watched.page);
});

afterAll(async () => {
  await watched?.close();
  await browser?.close();
  await server?.close();
});

async function taken(name: string): Promise<Buffer> {
  const { page } = watched;
  if (!(await page.locator("#menu-along").isVisible())) await openTakeAlong(page);
  const [download] = await Promise.all([
    page.waitForEvent("download", { timeout: PATIENCE }),
    page.locator("#menu-along").getByRole("button", { name, exact: true }).click(),
  ]);
  expect(download.suggestedFilename()).toBe(name);
  return readFile(await download.path());
}

describe("taking along", () => {
  it.each([
    ["results", "passes.csv"],
    ["results", "findings.geojson"],
    ["results", "report.html"],
    ["scouting", "scout.gpx"],
  ])("gives the same bytes as the command: %s/%s", async (folder, name) => {
    const bytes = await taken(name);
    expect(bytes.length).toBeGreaterThan(100);
    expect(bytes.equals(await readFile(join(written, folder, name)))).toBe(true);
  });

  it("gives sheets to print that break no rule of access", async () => {
    const { context } = watched;
    for (const [folder, name] of [
      ["scouting", "scout.html"],
      ["prescription", "cab-sheet.html"],
    ] as const) {
      const page = await context.newPage();
      await page.goto(pathToFileURL(join(written, folder, name)).href);
      expect(await violations(page), name).toEqual([]);
      await page.close();
    }
  });

  it("gives everything in one zip, each file the command's to the byte", async () => {
    const files = unzipSync(await taken("everything.zip"));
    const names = Object.keys(files);
    for (const [folder, least] of [
      ["results", 7],
      ["scouting", 5],
      ["prescription", 6],
    ] as const)
      expect(names.filter((name) => name.startsWith(`${folder}/`)).length).toBe(least);
    for (const name of names)
      expect(Buffer.from(files[name]!).equals(await readFile(join(written, name))), name).toBe(true);
  });

  it("gives the map as a picture with legend, scale and north", async () => {
    const png = await taken("Larkspur Draw-map.png");
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    const { page } = watched;
    const seen = await page.evaluate(async (base64) => {
      const image = new Image();
      image.src = `data:image/png;base64,${base64}`;
      await image.decode();
      const canvas = document.createElement("canvas");
      [canvas.width, canvas.height] = [image.width, image.height];
      const context = canvas.getContext("2d", { willReadFrequently: true })!;
      context.drawImage(image, 0, 0);
      const map = document.querySelector(".maplibregl-canvas")!;
      const at = (x: number, y: number) => [...context.getImageData(x, y, 1, 1).data.slice(0, 3)];
      const under = 62 + map.clientHeight + 16;
      const ink = (left: number, top: number, width: number, height: number) => {
        const { data } = context.getImageData(left, top, width, height);
        return data.filter((value, i) => i % 4 === 0 && value < 90).length;
      };
      return {
        width: image.width,
        height: image.height,
        map: [map.clientWidth, map.clientHeight],
        lowest: at(19, under + 7),
        highest: at(16 + 240 - 4, under + 7),
        north: ink(map.clientWidth - 34, 74, 16, 22),
        scale: ink(image.width - 200, under, 190, 30),
        legend: ink(16, under + 60, 500, 60),
      };
    }, png.toString("base64"));
    expect(seen.width).toBe(seen.map[0]);
    expect(seen.height).toBeGreaterThan(seen.map[1]! + 62 + 100);
    // The ends of the ramp around a target: orange below, purple above.
    expect(seen.lowest).toEqual([127, 59, 8]);
    expect(seen.highest).toEqual([45, 0, 75]);
    for (const part of [seen.north, seen.scale, seen.legend]) expect(part).toBeGreaterThan(40);
  });

  it("complains of nothing and asks nothing of another machine", async () => {
    await picture(watched.page, "take-along");
    expect(watched.complaints).toEqual([]);
    expect(watched.outside).toEqual([]);
  });
});
