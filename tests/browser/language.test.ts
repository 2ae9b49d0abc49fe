/** The page in the language chosen in the settings, without loading it anew; English where nothing is chosen. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { GERMAN } from "../../web/words/texts/de/german.ts";
import { ENGLISH } from "../../web/words/texts/en/english.ts";
import { SPANISH } from "../../web/words/texts/es/spanish.ts";
import { violations } from "./support/accessible.ts";
import { DESK, launch, ledgerShown, PATIENCE, PHONE, picture } from "./support/browser.ts";
import { serveNoField, serveSample } from "./support/servers.ts";

type Said = Readonly<Record<string, Readonly<Record<string, unknown>> | undefined>>;

const NARROW_DESK = { width: 1024, height: 768 };

let browser: Browser;
let server: RunningServer;

beforeAll(async () => {
  [browser, server] = [await launch(), await serveSample()];
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

/** English labels that the translation says otherwise; figures and names that are alike in both say nothing. */
function labelsOf(translation: Said): string[] {
  const own = new Set(Object.values(translation).flatMap((topic) => Object.values(topic ?? {})));
  return Object.entries(ENGLISH as Said).flatMap(([topic, said]) =>
    Object.entries(said ?? {}).flatMap(([name, text]) =>
      typeof text === "string" && translation[topic]?.[name] !== text && !own.has(text) ? [text.trim()] : [],
    ),
  );
}

/** Of these labels those that stand alone in a shown text or in a name for assistive technology. */
async function left(page: Page, labels: readonly string[]): Promise<string[]> {
  return page.evaluate((wanted) => {
    const found = new Set<string>();
    const known = new Set(wanted);
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const text = node.textContent?.trim() ?? "";
      if (known.has(text) && node.parentElement?.checkVisibility()) found.add(text);
    }
    for (const element of document.querySelectorAll("[aria-label]")) {
      const name = element.getAttribute("aria-label") ?? "";
      if (known.has(name)) found.add(name);
    }
    return [...found];
  }, labels);
}

/** A context of a German browser whose reader has chosen German before. */
async function chosenGerman(viewport: { width: number; height: number }) {
  const context = await browser.newContext({ locale: "de-DE", viewport, reducedMotion: "reduce" });
  await context.addInitScript(() => {
    const key = "evenstand language";
    if (localStorage.getItem(key) === null) localStorage.setItem(key, "de");
  });
  return context;
}

const outgrows = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);

async function openedIn(viewport: { width: number; height: number }): Promise<Page> {
  const context = await chosenGerman(viewport);
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  await page.goto(server.address);
  await ledgerShown(page);
  return page;
}

describe("the page in the reader's language", () => {
  it("is English in a German browser until another is chosen, as its German is not whole", async () => {
    const empty = await serveNoField();
    const context = await browser.newContext({ locale: "de-DE", viewport: PHONE, reducedMotion: "reduce" });
    const page = await context.newPage();
    try {
      await page.goto(empty.address);
      await page.getByRole("heading", { name: ENGLISH.welcome.title }).waitFor();
      expect(await page.getAttribute("html", "lang")).toBe("en");
    } finally {
      await context.close();
      await empty.close();
    }
  });

  it("welcomes in German once that is chosen", async () => {
    const empty = await serveNoField();
    const context = await chosenGerman(PHONE);
    const page = await context.newPage();
    try {
      await page.goto(empty.address);
      await page.getByRole("heading", { name: GERMAN.welcome!.title! }).waitFor();
      expect(await page.getAttribute("html", "lang")).toBe("de");
      expect(await left(page, labelsOf(GERMAN))).toEqual([]);
      expect(await violations(page)).toEqual([]);
      expect(await outgrows(page)).toBe(false);
      await picture(page, "german-welcome-phone");
    } finally {
      await context.close();
      await empty.close();
    }
  });

  it.each([
    ["phone", PHONE],
    ["narrow", NARROW_DESK],
    ["desk", DESK],
  ] as const)("is German or Spanish throughout on a %s", async (screen, viewport) => {
    const page = await openedIn(viewport);
    const faults: string[] = [];
    const look = async (state: string, translation: Said) => {
      await picture(page, `${state.replaceAll(" ", "-")}-${screen}`);
      faults.push(...(await left(page, labelsOf(translation))).map((text) => `${state}: ${text}`));
      if (screen === "phone") faults.push(...(await violations(page)).map((fault) => `${state}: ${fault}`));
      if (await outgrows(page)) faults.push(`${state}: wider than the screen`);
    };
    const press = (name: string) => page.getByRole("button", { name, exact: true }).click();
    await page.locator(".entry-button").first().click();
    await look("german ledger", GERMAN);
    for (const part of ["furrow", "rows", "passes", "counts"] as const) {
      if (screen === "phone") await press(GERMAN.dock!.drawings!);
      await press(GERMAN.dock![part]!);
      await look(`german ${part}`, GERMAN);
    }
    if (screen === "phone") await press(GERMAN.dock!.ledger!);
    await press(GERMAN.along!.title!);
    await look("german take along", GERMAN);
    await page.keyboard.press("Escape");
    await press(GERMAN.header!.toSet!);
    await page.locator(".zone-card").first().waitFor();
    await look("german loads", GERMAN);
    await press(GERMAN.header!.wrong!);
    await page.evaluate(() => Object.assign(window, { before: true }));
    await press(GERMAN.settings!.title!);
    await look("german settings", GERMAN);
    await page.locator("#language").selectOption("es");
    await page.getByText(SPANISH.settings!.unchecked!).waitFor();
    await look("spanish settings", SPANISH);
    await page.keyboard.press("Escape");
    await look("spanish ledger", SPANISH);
    // Drawn anew, not loaded anew.
    expect(await page.evaluate(() => "before" in window)).toBe(true);
    expect(await page.getAttribute("html", "lang")).toBe("es");
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
