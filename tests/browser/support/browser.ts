/** A real Chromium with software rendering, and pages that remember everything that went wrong on them. */
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";

const ARGUMENTS = [
  "--no-sandbox",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--use-gl=angle",
  "--use-angle=swiftshader",
  "--enable-unsafe-swiftshader",
  "--disable-gpu-compositing",
];

export const DESK = { width: 1440, height: 900 };
export const PHONE = { width: 390, height: 844 };

/** Longest wait for an analysis on a busy machine, milliseconds. */
export const PATIENCE = 120_000;

/** Where pictures of the pages go, for people to look at. */
export const pictures = process.env.EVENSTAND_PICTURES ?? mkdtempSync(join(tmpdir(), "evenstand-pages-"));

/** @param more further arguments of Chromium. */
export async function launch(more: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.EVENSTAND_CHROMIUM || "/usr/bin/chromium",
    headless: true,
    args: [...ARGUMENTS, ...more],
  });
}

export interface WatchedPage {
  page: Page;
  context: BrowserContext;
  /** Console errors and warnings, uncaught errors. */
  complaints: string[];
  /** Addresses asked for that are neither this machine nor inside the page. */
  outside: string[];
  close(): Promise<void>;
}

/** @param expected complaints that belong to the test, e.g. the 404 of a server without a field. */
export async function watchedPage(
  browser: Browser,
  viewport: { width: number; height: number },
  expected: RegExp | null = null,
): Promise<WatchedPage> {
  const context = await browser.newContext({ viewport, reducedMotion: "reduce" });
  const page = await context.newPage();
  const complaints: string[] = [];
  const outside: string[] = [];
  page.on("console", (message) => {
    const text = message.text();
    // Reading the canvas back stalls a software renderer, which Chromium remarks on.
    if (/GPU stall due to ReadPixels/.test(text) || expected?.test(text)) return;
    if (message.type() === "error" || message.type() === "warning") complaints.push(text);
  });
  page.on("pageerror", (error) => complaints.push(error.stack ?? error.message));
  page.on("request", (request) => {
    const url = new URL(request.url());
    if (["data:", "blob:", "file:"].includes(url.protocol) || url.hostname === "127.0.0.1") return;
    outside.push(request.url());
  });
  return { page, context, complaints, outside, close: () => context.close() };
}

export async function picture(page: Page, name: string): Promise<void> {
  await page.screenshot({ path: join(pictures, `${name}.png`) });
}

/** Waits for the ledger. @throws with the page's own words when it shows trouble instead. */
export async function ledgerShown(page: Page): Promise<void> {
  const trouble = page.getByRole("alert");
  await page.locator(".ledger").or(trouble).first().waitFor({ timeout: PATIENCE });
  if (await trouble.count()) throw new Error(`the page shows: ${await trouble.textContent()}`);
}

/** What went wrong inside the map. */
export function mapErrors(page: Page): Promise<string[]> {
  return page.evaluate(() => window.evenstandMapErrors);
}

/** How often and how far apart the map has to be found the same before it counts as at rest, milliseconds. */
const AT_REST = { readings: 3, apart: 100 };

/**
 * Waits until the map has drawn everything it was given and lies still: a map that is about to move (a part of
 * the page has just changed its size, a flight begins with the next frame) looks at rest for a moment.
 */
export async function mapSettled(page: Page): Promise<void> {
  const patience = Date.now() + PATIENCE;
  let [before, same] = ["", 0];
  while (same < AT_REST.readings) {
    if (Date.now() > patience) throw new Error(`the map does not come to rest: ${before}`);
    // Read from a frame of its own: what was just asked of the map is drawn with the next one.
    const now = await page.evaluate(
      () =>
        new Promise<string>((resolve) =>
          requestAnimationFrame(() =>
            requestAnimationFrame(() => {
              const map = window.evenstandMap;
              if (!map?.loaded() || map.isMoving()) return resolve("");
              const { clientWidth, clientHeight } = map.getContainer();
              const { lng, lat } = map.getCenter();
              resolve([lng, lat, map.getZoom(), clientWidth, clientHeight].join(" "));
            }),
          ),
        ),
    );
    same = now !== "" && now === before ? same + 1 : 0;
    before = now;
    if (same < AT_REST.readings) await page.waitForTimeout(AT_REST.apart);
  }
}

/** Clicks the map at a place, once more where the map has moved away from under the pointer. */
export async function clickPlace(page: Page, place: [number, number]): Promise<void> {
  const pointOf = () =>
    page.evaluate((at) => {
      const { x, y } = window.evenstandMap.project(at);
      const box = window.evenstandMap.getCanvas().getBoundingClientRect();
      return { x: box.left + x, y: box.top + y };
    }, place);
  for (;;) {
    await mapSettled(page);
    const aimed = await pointOf();
    await page.mouse.move(aimed.x, aimed.y);
    await mapSettled(page);
    const now = await pointOf();
    if (Math.hypot(now.x - aimed.x, now.y - aimed.y) > 1) continue;
    await page.mouse.click(now.x, now.y);
    return;
  }
}

/** Distinct features a layer of the map shows, by one of their properties. */
export function drawn(page: Page, layer: string, property: string): Promise<unknown[]> {
  return page.evaluate(
    ([wantedLayer, wantedProperty]) => [
      ...new Set(
        window.evenstandMap
          .queryRenderedFeatures({ layers: [wantedLayer!] })
          .map((feature) => feature.properties[wantedProperty!]),
      ),
    ],
    [layer, property],
  );
}

/** Red, green, blue of every map pixel in a square around a place, as one flat list. */
export function pixelsAround(page: Page, place: [number, number], reach: number): Promise<number[]> {
  return page.evaluate(
    ([[longitude, latitude], half]) => {
      const map = window.evenstandMap;
      const source = map.getCanvas();
      const scale = source.width / source.clientWidth;
      const { x, y } = map.project([longitude, latitude]);
      const canvas = document.createElement("canvas");
      canvas.width = 2 * half;
      canvas.height = 2 * half;
      const context = canvas.getContext("2d")!;
      context.drawImage(
        source,
        x * scale - half,
        y * scale - half,
        2 * half,
        2 * half,
        0,
        0,
        2 * half,
        2 * half,
      );
      const { data } = context.getImageData(0, 0, 2 * half, 2 * half);
      return Array.from(data).filter((_, i) => i % 4 !== 3);
    },
    [place, reach] as const,
  );
}

/** Chooses in the settings, which are closed again: units by their name, or how numbers are written. */
export async function choose(page: Page, choice: { units?: string; numbers?: string }): Promise<void> {
  await page.getByRole("button", { name: "Settings" }).click();
  if (choice.units) await page.getByLabel(choice.units, { exact: true }).check({ force: true });
  if (choice.numbers) await page.getByLabel("How numbers are written").selectOption(choice.numbers);
  await page.keyboard.press("Escape");
}

/** Opens what can be taken along. */
export async function openTakeAlong(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Take along" }).click();
}
