/** The set-up sheet on a phone and on paper: nothing wider than either, a planter of 24 rows on few pages. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { PAPERS } from "../../src/cli/commands/print-report.ts";
import { type SetUpPlanter, setUpSheet } from "../../src/setup/set-up-sheet.ts";
import { violations } from "./support/accessible.ts";
import { launch, PATIENCE, PHONE } from "./support/browser.ts";

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
}, PATIENCE);
afterAll(() => browser?.close());

const MOST_PAGES = 4;
const PIXELS_PER_INCH = 96;

function planter(rowUnits: number): SetUpPlanter {
  const name = `${rowUnits}-row planter with a long name of its own`;
  const item = (row: number): SetUpPlanter["items"][number] => ({
    planter: name,
    rowUnits: [row],
    parts: ["depth-stops", "arms"],
    title: `Row unit ${row}: set too shallow`,
    evidence: ["Seeding depth: 1.21 in here, 1.94 in elsewhere (aim 2.00 in)."],
    source: "Invented Forty, F5",
  });
  const load = {
    field: "Invented Forty",
    soilZone: "silty clay loam",
    damp: "60 lb",
    fit: "100 lb",
    dry: "115 lb",
  };
  return {
    name,
    rowUnits,
    fields: ["Invented Forty"],
    items: [item(17), item(4)],
    loads: [load, load, load],
  };
}

it.each([12, 24, 48])(
  "fits phone and paper with %s rows",
  async (rowUnits) => {
    const context = await browser.newContext({ viewport: PHONE });
    const page = await context.newPage();
    await page.setContent(setUpSheet([planter(rowUnits)]));
    expect(await violations(page)).toEqual([]);
    const widths = () =>
      page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
    const [wide, shown] = await widths();
    expect(wide).toBeLessThanOrEqual(shown!);
    await page.emulateMedia({ media: "print" });
    for (const paper of ["letter", "a4"] as const) {
      const { width, height } = PAPERS[paper];
      await page.setViewportSize({ width: Math.floor(width * PIXELS_PER_INCH), height: 900 });
      const [printed, room] = await widths();
      expect(printed, paper).toBeLessThanOrEqual(room!);
      const pdf = await page.pdf({ width: `${width}in`, height: `${height}in` });
      const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      expect(pages, paper).toBeGreaterThan(0);
      expect(pages, paper).toBeLessThanOrEqual(rowUnits > 24 ? MOST_PAGES + 1 : MOST_PAGES);
    }
    await context.close();
  },
  PATIENCE,
);
