import { expect, it } from "vitest";
import { studySize } from "../support/study-size.ts";
import { askWrongly } from "./support/wrong-prescriptions.ts";

const RUNS = studySize(2000, 200);

it("of 2,000 prescriptions asked for wrongly at random none writes above the ceilings, to a loss, or other than the sheet says", async () => {
  const { refused, written } = await askWrongly(1000, RUNS);
  expect(refused).toBeGreaterThan(RUNS / 10);
  expect(written).toBeGreaterThan(0);
}, 7_200_000);
