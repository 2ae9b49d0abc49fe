import { describe, expect, it } from "vitest";
import { memoryNeeded, requireMemory } from "../../src/cli/files/memory-need.ts";

const GIB = 2 ** 30;
/** Ten million records of the benchmarks: 850 MB of table and 280 MB of positions. */
const TEN_MILLION = [
  { name: "planting.shp", bytes: 280e6 },
  { name: "planting.dbf", bytes: 850e6 },
  { name: "planting.prj", bytes: 145 },
];

describe("memory for a log", () => {
  it("grows with its bytes; what is written out in every record takes less", () => {
    expect(memoryNeeded([{ name: "log.csv", bytes: 100e6 }])).toBeGreaterThan(500e6);
    const json = memoryNeeded([{ name: "log.geojson", bytes: 300e6 }]);
    expect(json).toBeGreaterThan(500e6);
    expect(json).toBeLessThan(memoryNeeded([{ name: "log.csv", bytes: 300e6 }]));
    // How much a packed file holds is not known before it is read: never refused.
    expect(memoryNeeded([{ name: "log.zip", bytes: 50e9 }])).toBe(memoryNeeded([]));
  });

  it("a log that does not fit is refused before it is read, with the size that would do", () => {
    expect(() => requireMemory("planting.shp", TEN_MILLION, 16 * GIB)).not.toThrow();
    expect(() => requireMemory("planting.shp", TEN_MILLION, 2 * GIB)).toThrow(
      /^planting\.shp: is 1\.1 GiB large; to analyse it takes about 3\.4 GiB of memory, and this machine has 2\.0 GiB\. A log of 0\.6 GiB would do/,
    );
    // That size does.
    expect(() => requireMemory("part.shp", [{ name: "part.dbf", bytes: 0.59 * GIB }], 2 * GIB)).not.toThrow();
  });
});
