import { expect, it } from "vitest";
import { askWrongly } from "./support/wrong-prescriptions.ts";

it("no prescription asked for wrongly at random writes above the ceilings, to a loss, or other than the sheet says", async () => {
  const { refused, written } = await askWrongly(1, 40);
  expect(refused).toBeGreaterThan(0);
  expect(written).toBeGreaterThan(0);
});
