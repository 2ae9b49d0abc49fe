import { describe } from "vitest";
import { holdsWith } from "./support/many-counts-hold.ts";

describe("forty thousand counts, as a flight gives them", () => {
  holdsWith(40_000);
});
