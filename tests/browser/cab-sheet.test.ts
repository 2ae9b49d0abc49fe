/** The cab sheet printed: one page of A4 and of Letter, with few zones and with many. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { cabSheet } from "../../src/write/cab-sheet.ts";
import { FIXTURE_FRAME, prescriptionFixture } from "../support/prescription-fixture.ts";
import { launch, PATIENCE } from "./support/browser.ts";

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
}, PATIENCE);
afterAll(() => browser?.close());

const { decisions } = prescriptionFixture();
const SHEETS = {
  three: decisions,
  ten: Array.from({ length: 10 }, (_, k) => ({
    ...decisions[k % 3]!,
    soilZone: `zone with a long name ${k}`,
  })),
};

it.each(["three", "ten"] as const)(
  "prints %s zones on one page, nothing wider than the paper",
  async (count) => {
    const page = await browser.newPage({ viewport: { width: 718, height: 900 } });
    await page.setContent(cabSheet(prescriptionFixture({ decisions: SHEETS[count] }), FIXTURE_FRAME));
    for (const format of ["A4", "Letter"] as const) {
      const pdf = (await page.pdf({ format })).toString("latin1");
      expect(pdf.match(/\/Type\s*\/Page\b/g), format).toHaveLength(1);
    }
    await page.emulateMedia({ media: "print" });
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    await page.close();
  },
  PATIENCE,
);
