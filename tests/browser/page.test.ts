/** The page with the sample field, in a real browser, served as `evenstand open` serves it. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RunningServer } from "../../src/cli/browser/server.ts";
import { violations } from "./support/accessible.ts";
import {
  choose,
  clickPlace,
  DESK,
  drawn,
  launch,
  ledgerShown,
  mapErrors,
  mapSettled,
  picture,
  pictures,
  pixelsAround,
  type WatchedPage,
  watchedPage,
} from "./support/browser.ts";
import { serveSample } from "./support/servers.ts";

let browser: Browser;
let server: RunningServer;
let watched: WatchedPage;
let page: Page;

beforeAll(async () => {
  server = await serveSample();
  browser = await launch();
  watched = await watchedPage(browser, DESK);
  page = watched.page;
  const start = Date.now();
  await page.goto(server.address);
  await page.locator("h1").waitFor();
  const painted = Date.now() - start;
  await ledgerShown(page);
  process.stdout.write(
    `page: first words after ${painted} ms, ledger after ${Date.now() - start} ms; pictures in ${pictures}\n`,
  );
  await mapSettled(page);
});

afterAll(async () => {
  await browser?.close();
  await server?.close();
});

describe("the page with a field", () => {
  it("ranks the ledger by money and says what each finding rests on", async () => {
    await picture(page, "desk");
    expect(await page.locator("h1").textContent()).toContain("Larkspur Draw");
    const money = await page.locator("ol.entries").first().locator(".entry-button .money").allTextContents();
    const sums = money.map((text) => Number(text.replaceAll(/[^\d-]/g, "")));
    expect(sums.length).toBeGreaterThanOrEqual(3);
    expect(sums).toEqual([...sums].sort((a, b) => b - a));
    for (const said of await page.locator(".entry-sure > span:first-child").allTextContents()) {
      expect(said).toMatch(/counts?|digs?|from the log only/);
    }
    expect(await page.locator(".ledger").textContent()).toContain("Without a finding");
  });

  it("draws soil, passes, groups, counts and digs on the map", async () => {
    expect((await drawn(page, "zone-marks", "ground")).sort()).toEqual([
      "clay",
      "clay-loam",
      "sandy-loam",
      "silt-loam",
    ]);
    expect((await drawn(page, "pass-threads", "pass")).length).toBeGreaterThan(20);
    expect((await drawn(page, "counts", "spot")).length).toBe(120);
    expect((await drawn(page, "digs", "dig")).length).toBeGreaterThan(10);
    const entries = await page.locator(".entry-number").allTextContents();
    const onMap = (await drawn(page, "number", "number")) as string[];
    expect(onMap.length).toBeGreaterThanOrEqual(3);
    expect(entries).toEqual(expect.arrayContaining(onMap));
    expect(await mapErrors(page)).toEqual([]);
  });

  it("colours the passes by the chosen variable and leaves them plain when asked", async () => {
    const middle = await placeOfNumber("1");
    const chooser = page.getByLabel("Passes coloured by");
    await chooser.selectOption("downForceMargin");
    await mapSettled(page);
    const coloured = await pixelsAround(page, middle, 60);
    await chooser.selectOption("");
    await mapSettled(page);
    const plain = await pixelsAround(page, middle, 60);
    expect(saturated(coloured)).toBeGreaterThan(0.2);
    expect(saturated(plain)).toBeLessThan(0.05);
    await chooser.selectOption("downForceMargin");
  });

  it("selects on the map what is selected in the ledger, by keyboard", async () => {
    const first = page.locator(".entry-button").first();
    await first.focus();
    await page.keyboard.press("Enter");
    await expectSelected(0);
    await mapSettled(page);
    expect(await chosenOnMap()).toEqual([await idOfEntry(0)]);
    expect(await page.locator(".detail .measured tbody tr").count()).toBeGreaterThan(1);
    expect(await page.locator(".detail").textContent()).toContain("What else it could be");
    await picture(page, "desk-selected");
  });

  it("says in an opened entry what digs and a clean log showed beyond the figures", async () => {
    const seenOf = async (title: string) => {
      await page.locator(".entry-button", { hasText: title }).click();
      const list = page.locator(".entry.chosen .seen");
      expect(await list.textContent()).toContain("What was seen");
      return (await list.locator("li").allTextContents()).join("; ");
    };
    expect(await seenOf("Pressed too hard")).toMatch(/digs: furrow wall smeared in \d+ of \d+/);
    expect(await seenOf("Crust over the seed")).toMatch(/the log is as elsewhere here: depth/);
    await page.locator(".entry-button").first().click();
  });

  it("shows the whole scale bar beside every part", async () => {
    for (const part of ["Passes by soil", "Furrow"]) {
      await page.getByRole("button", { name: part, exact: true }).click();
      await mapSettled(page);
      // A long read-out under the map must not widen the page.
      const [longitude, latitude] = await placeOfNumber("1");
      const at = await page.evaluate((place) => window.evenstandMap.project(place), [longitude, latitude] as [
        number,
        number,
      ]);
      const box = (await page.locator(".maplibregl-canvas").boundingBox())!;
      await page.mouse.move(box.x + at.x + 20, box.y + at.y + 20);
      expect(await page.locator(".readout").textContent()).toMatch(/^(pass \d+ · row unit|stand count \d+)/);
      const room = await page.evaluate(() => {
        const bar = document.querySelector(".maplibregl-ctrl-scale")!;
        const [inner, outer] = [bar, document.querySelector(".map-pane")!].map((e) =>
          e.getBoundingClientRect(),
        );
        return {
          right: Math.min(outer!.right, window.innerWidth) - inner!.right,
          below: outer!.bottom - inner!.bottom,
          cut: bar.scrollWidth > bar.clientWidth || bar.scrollHeight > bar.clientHeight,
        };
      });
      expect(room.right, part).toBeGreaterThan(8);
      expect(room.below, part).toBeGreaterThan(8);
      expect(room.cut, part).toBe(false);
    }
  });

  it("goes back to the whole field, and selects in the ledger what is clicked on the map", async () => {
    await page.locator(".entry-button").nth(2).click();
    await expectSelected(2);
    await page.getByRole("button", { name: "Whole field" }).click();
    expect(await page.locator(".entry.chosen").count()).toBe(0);
    await mapSettled(page);
    await clickPlace(page, await placeOfNumber("2"));
    await expectSelected(1);
  });

  it("moves along the furrow with the arrow keys and reads the place out", async () => {
    const furrow = page.getByRole("slider", { name: /Furrow of pass/ });
    await furrow.focus();
    await page.keyboard.press("ArrowRight");
    const readout = page.locator(".readout");
    const before = (await readout.textContent()) ?? "";
    expect(before).toMatch(/pass \d+ · row unit \d+ · .*seeding depth \d\.\d\d\sin/);
    const unit = Number(/row unit (\d+)/.exec(before)![1]);
    await page.keyboard.press(unit > 1 ? "ArrowUp" : "ArrowDown");
    const after = (await readout.textContent()) ?? "";
    expect(Number(/row unit (\d+)/.exec(after)![1])).toBe(unit > 1 ? unit - 1 : 2);
    await page.keyboard.press("ArrowRight");
    expect(await readout.textContent()).not.toBe(after);
    expect(await drawn(page, "cursor", "nothing").then((found) => found.length)).toBe(1);
  });

  it("speaks metric when asked", async () => {
    await choose(page, { units: "metric" });
    expect(await page.locator(".top").textContent()).toMatch(/\d+(\.\d)?\sha/);
    expect(await page.locator(".ramp-numbers").textContent()).toMatch(/\sN$/);
    // The sentences follow too: summary, what was seen, remedies, what could not be judged.
    await page.locator(".headline-sentence", { hasText: /\d\sha of \d/ }).waitFor();
    const entries = page.locator("li.entry .entry-button");
    for (let i = 0; i < (await entries.count()); i++) {
      if ((await entries.nth(i).getAttribute("aria-expanded")) === "false") await entries.nth(i).click();
      // The columns of a file and the answers of a manifest keep the units they were written in.
      const said = await page.locator(".ledger > :not(.rests-on)").evaluateAll((parts) =>
        parts
          .map((part) => {
            const copy = part.cloneNode(true) as Element;
            copy.querySelector(".answers-used")?.remove();
            return copy.textContent;
          })
          .join(" "),
      );
      expect(said.match(/\d\s(lb|in|mph|ac|ft|F)\b.{0,20}|.{0,20}(plants|seeds)\/ac/g) ?? []).toEqual([]);
    }
    await entries.nth(1).click();
    // Every word of the small drawing lies inside it.
    const outside = await page.locator(".entry.chosen .small-strip svg").evaluate((drawing) => {
      const { left } = drawing.getBoundingClientRect();
      return [...drawing.querySelectorAll("text")].filter((text) => text.getBoundingClientRect().left < left)
        .length;
    });
    expect(outside).toBe(0);
    await picture(page, "desk-metric");
    await choose(page, { units: "acres, inches" });
    // Whatever variable the last finding put on the map, its scale is in farm units again.
    expect(await page.locator(".ramp-numbers").textContent()).toMatch(/\s(lb|in|mph|seeds\/ac)$/);
    await page.locator(".headline-sentence", { hasText: /\d\sac of \d/ }).waitFor();
  });

  it("labels the row unit that stands apart and sorts the passes", async () => {
    await page.getByRole("button", { name: "Row units" }).click();
    const depth = page.locator(".row-units figure", { hasText: "Seeding depth" });
    expect(await depth.getByRole("slider").getAttribute("aria-label")).toMatch(/24 row units.*row unit 17/);
    await page.getByRole("button", { name: "Passes by soil" }).click();
    await page.getByRole("button", { name: "Mean", exact: true }).click();
    const means = () =>
      page
        .locator("table.sortable tbody td:nth-child(4)")
        .allTextContents()
        .then((cells) => cells.map((text) => Number(text.replaceAll(/[^\d.-]/g, ""))));
    const upwards = await means();
    expect(upwards.length).toBeGreaterThan(20);
    expect(upwards).toEqual([...upwards].sort((a, b) => a - b));
    await page.getByRole("button", { name: "Mean", exact: true }).click();
    const downwards = await means();
    expect(downwards).toEqual([...downwards].sort((a, b) => b - a));
    await picture(page, "desk-passes");
  });

  it("reads row units out by keyboard against the ordinary spread, and takes one to the map", async () => {
    await page.getByRole("button", { name: "Row units" }).click();
    const depth = page.locator(".row-units figure", { hasText: "Seeding depth" });
    expect(await depth.locator(".unit-band").count()).toBe(1);
    const slider = depth.getByRole("slider");
    await slider.focus();
    await page.keyboard.press("End");
    expect(await slider.getAttribute("aria-valuenow")).toBe("24");
    for (let i = 0; i < 7; i++) await page.keyboard.press("ArrowLeft");
    expect(await page.locator(".readout").textContent()).toMatch(
      /^row unit 17: seeding depth 1\.\d\d\sin · -0\.\d\d against the others at the same moments \(95\s% interval/,
    );
    // The unit set too shallow lies outside the spread of the others.
    const { dot, band } = await depth.evaluate((figure) => ({
      dot: Number(figure.querySelector(".unit.named circle")!.getAttribute("cy")),
      band: ["y", "height"].map((name) => Number(figure.querySelector(".unit-band")!.getAttribute(name))),
    }));
    expect(dot).toBeGreaterThan(band[0]! + band[1]!);
    await page.keyboard.press("Enter");
    await mapSettled(page);
    expect(await page.locator(".legend-shown p").textContent()).toMatch(
      /^Shown: row unit 17: [\d,]+ of [\d,]+ records\.$/,
    );
    expect(await page.getByLabel("Passes coloured by").inputValue()).toBe("seedingDepth");
    await picture(page, "desk-row-units");
    await page.getByRole("button", { name: "Show all" }).click();
    expect(await page.locator(".legend-shown p").textContent()).toBe("");
  });

  it("shows on the map only the chosen pass, soil, day and row unit, says so, and goes back", async () => {
    await page.locator(".entry-button").nth(1).click();
    await page.getByRole("button", { name: "Furrow", exact: true }).click();
    await page.getByRole("button", { name: "Legend" }).click();
    await page.locator(".legend-filter summary").click();
    await page.getByLabel("Passes coloured by").selectOption("downForceMargin");
    const field = await page.evaluate(() => window.evenstandMap.getCenter().toArray() as [number, number]);
    const coloured = async () => {
      await mapSettled(page);
      return pixelsAround(page, field, 200);
    };
    const whole = await coloured();
    const said = page.locator(".legend-shown p");
    await page.getByLabel("Soil", { exact: true }).selectOption({ label: "silty clay" });
    expect(await said.textContent()).toMatch(/^Shown: silty clay: [\d,]+ of [\d,]+ records\.$/);
    const clayOnly = await coloured();
    expect(differing(whole, clayOnly)).toBeGreaterThan(0.05);
    const days = await page.getByLabel("Day", { exact: true }).locator("option").allTextContents();
    expect(days).toEqual(["all", "Apr\u00a024, 2026", "Apr\u00a027, 2026"]);
    await page.getByLabel("Day", { exact: true }).selectOption("2026-04-27");
    expect(await said.textContent()).toMatch(/^Shown: silty clay, planted Apr.27,.2026: /);
    await mapSettled(page);
    const threads = (await drawn(page, "pass-threads", "pass")) as number[];
    const all = await page.getByLabel("Pass", { exact: true }).locator("option").count();
    expect(threads.length).toBeGreaterThan(2);
    expect(threads.length).toBeLessThan(all - 1);
    await page.getByLabel("Pass", { exact: true }).selectOption(String(threads[0]));
    await mapSettled(page);
    expect(await drawn(page, "pass-threads", "pass")).toEqual([threads[0]]);
    await picture(page, "desk-filter");
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Show all" }).click();
    expect(differing(await coloured(), whole)).toBeLessThan(0.002);
    await page.getByRole("button", { name: "Legend" }).click();
  });

  it("shows passes by soil as a heat table that the arrow keys walk and Enter takes to the map", async () => {
    await page.getByRole("button", { name: "Passes by soil" }).click();
    await page.getByLabel("Passes and soils by").selectOption("downForceMargin");
    const heat = page.locator("table.heat-table");
    const soils = (await heat.locator("thead th").allTextContents()).slice(1);
    expect(soils).toEqual(["clay loam", "sandy loam", "silt loam", "silty clay"]);
    // Every mean of the list stands in its cell.
    const list = await page.locator("table.sortable tbody tr").evaluateAll((rows) =>
      rows.map((row) => {
        const [pass, soil, , mean] = [...row.querySelectorAll("td")].map((cell) => cell.textContent.trim());
        return { pass: pass!, soil: soil!, mean: mean!.split(/\s/)[0]! };
      }),
    );
    const shown = await heat
      .locator("tbody tr")
      .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent.trim())));
    const filled = shown.flatMap((row) => row.slice(1)).filter((text) => text !== "").length;
    expect(filled).toBe(list.length);
    for (const { pass, soil, mean } of list) {
      expect(shown.find((row) => row[0] === pass)?.[1 + soils.indexOf(soil)], `${pass} ${soil}`).toBe(mean);
    }
    // One stop of the tab key; the arrows move from there.
    expect(await heat.locator('button[tabindex="0"]').count()).toBe(1);
    await heat.locator('button[tabindex="0"]').focus();
    for (let i = 0; i < 25; i++) await page.keyboard.press("ArrowDown");
    for (const key of ["ArrowRight", "ArrowRight", "ArrowRight", "ArrowRight"])
      await page.keyboard.press(key);
    const readout = (await page.locator(".readout").textContent()) ?? "";
    expect(readout).toMatch(
      /^pass 26\sin silty clay: gauge-wheel load \d+\slb · \+\d+ against the other passes there \(95\s% interval/,
    );
    await page.keyboard.press("Enter");
    await mapSettled(page);
    expect(await drawn(page, "pass-chosen", "pass")).toEqual([26]);
    expect(await heat.locator("tr.chosen th").textContent()).toBe("26");
    await picture(page, "desk-heat");
    await page.getByRole("button", { name: "Furrow", exact: true }).click();
    expect(await page.getByRole("slider", { name: /Furrow of pass 26/ }).count()).toBe(1);
  });

  it("shows a count on the map from its list", async () => {
    await page.getByRole("button", { name: "Counts and digs" }).click();
    await page.getByRole("button", { name: "Show count 7 on the map" }).click();
    expect(await page.locator(".readout").textContent()).toMatch(/stand count 7 · [\d,]+\splants\/ac/);
    await mapSettled(page);
    expect(await drawn(page, "counts", "spot")).toContain(7);
  });

  it("breaks no rule of access in any of its parts", async () => {
    for (const part of ["Furrow", "Row units", "Passes by soil", "Counts and digs"]) {
      await page.getByRole("button", { name: part, exact: true }).click();
      expect(await violations(page), part).toEqual([]);
    }
  });

  it("asks nothing of any other machine and complains of nothing", () => {
    expect(watched.outside).toEqual([]);
    expect(watched.complaints).toEqual([]);
  });
});

async function expectSelected(entry: number): Promise<void> {
  await page.waitForFunction(
    (index) => document.querySelectorAll(".entry-button")[index]?.getAttribute("aria-expanded") === "true",
    entry,
    { timeout: 120_000 },
  );
}

function idOfEntry(entry: number): Promise<string> {
  return page
    .locator("li.entry")
    .nth(entry)
    .getAttribute("id")
    .then((id) => id!.replace("entry-", ""));
}

/** Findings whose state on the map is "chosen". */
async function chosenOnMap(): Promise<string[]> {
  const ids = (await drawn(page, "finding-line", "id")) as string[];
  return page.evaluate(
    (all) => all.filter((id) => window.evenstandMap.getFeatureState({ source: "findings", id }).chosen),
    ids,
  );
}

function placeOfNumber(number: string): Promise<[number, number]> {
  return page.evaluate((wanted) => {
    const found = window.evenstandMap
      .queryRenderedFeatures({ layers: ["number"] })
      .find((feature) => feature.properties.number === wanted);
    const { coordinates } = found!.geometry as GeoJSON.Point;
    return coordinates as [number, number];
  }, number);
}

/** Share of pixels that differ clearly between two pictures of one place. */
function differing(first: number[], second: number[]): number {
  let apart = 0;
  for (let i = 0; i < first.length; i += 3) {
    const steps = [0, 1, 2].map((k) => Math.abs(first[i + k]! - second[i + k]!));
    if (Math.max(...steps) > 30) apart++;
  }
  return apart / (first.length / 3);
}

/** Share of pixels with real colour: the soil and the threads are near grey. */
function saturated(rgb: number[]): number {
  let strong = 0;
  for (let i = 0; i < rgb.length; i += 3) {
    const [red, green, blue] = [rgb[i]!, rgb[i + 1]!, rgb[i + 2]!];
    if (Math.max(red, green, blue) - Math.min(red, green, blue) > 70) strong++;
  }
  return strong / (rgb.length / 3);
}
