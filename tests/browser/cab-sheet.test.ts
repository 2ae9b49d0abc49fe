/** The cab sheet printed: one page of A4 and of Letter, with few zones and with many. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Prescription } from "../../src/prescription/prescription.ts";
import { cabSheet } from "../../src/write/cab-sheet.ts";
import { FIXTURE_FRAME, prescriptionFixture } from "../support/prescription-fixture.ts";
import { violations } from "./support/accessible.ts";
import { launch, PATIENCE } from "./support/browser.ts";

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
}, PATIENCE);
afterAll(() => browser?.close());

const { decisions } = prescriptionFixture();
const SHEETS = {
  three: decisions,
  five: Array.from({ length: 5 }, (_, k) => ({ ...decisions[k % 3]!, soilZone: `clay loam at F${k + 1}` })),
  ten: Array.from({ length: 10 }, (_, k) => ({
    ...decisions[k % 3]!,
    soilZone: `zone with a long name ${k}`,
  })),
};

/** Much to settle, a long formula, limits that gave way: about what the invented sample field has to say. */
const MUCH: Partial<Prescription> = {
  advice: [
    ...[1, 2, 3].map((k) => ({
      kind: "repair" as const,
      soilZone: null,
      rowUnits: [k],
      finding: `F${k}`,
      words:
        "Row unit 17: set too shallow (in every pass, planted 2026-04-24). Look at row unit 17: depth stop, gauge-wheel arms, discs. It reads 1.21 in where the others read 1.89 in.",
    })),
    ...prescriptionFixture().advice,
  ],
  channel: {
    quantity: "pressure",
    formula: `added force = today's logged added force + load to aim for - today's logged load, the soil's reaction held; ${Array.from({ length: 5 }, (_, k) => `clay loam at F${k}: 150 + 145 - 108 = 187 lb, sent as 185 lb`).join("; ")}; 50 lb of added force takes 200 psi, 400 lb of added force takes 1200 psi, in a line between`,
    reason: null,
  },
};

it.each([
  ["three", "margin"],
  ["three", "added-force"],
  ["five", "pressure"],
  ["ten", "added-force"],
] as const)(
  "prints %s zones on one page, nothing wider than the paper: %s",
  async (count, quantity) => {
    const context = await browser.newContext({ viewport: { width: 718, height: 900 } });
    const page = await context.newPage();
    const channel = { quantity, formula: "150 + 95 - 78 = 167 lb", reason: null };
    const sheet = prescriptionFixture({
      decisions: SHEETS[count],
      ...(count === "five" ? MUCH : { channel }),
    });
    await page.setContent(cabSheet(sheet, FIXTURE_FRAME));
    expect(await violations(page)).toEqual([]);
    for (const format of ["A4", "Letter"] as const) {
      const pdf = (await page.pdf({ format })).toString("latin1");
      expect(pdf.match(/\/Type\s*\/Page\b/g), format).toHaveLength(1);
    }
    await page.emulateMedia({ media: "print" });
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    await context.close();
  },
  PATIENCE,
);
