import { expect, it } from "vitest";
import { zoneWords } from "../../web/map/zone-words.ts";

it("says of a soil zone what its name does not", () => {
  const zone = { zone: 0, name: "BeA", texture: "silt loam", drainage: "somewhat poorly drained" } as const;
  expect(zoneWords(zone)).toBe("BeA: silt loam, somewhat poorly drained");
  expect(zoneWords({ ...zone, drainage: null })).toBe("BeA: silt loam");
  expect(zoneWords({ ...zone, name: "Bennington silt loam" })).toBe(
    "Bennington silt loam: somewhat poorly drained",
  );
  expect(zoneWords({ ...zone, texture: null, drainage: null })).toBe("BeA");
});
