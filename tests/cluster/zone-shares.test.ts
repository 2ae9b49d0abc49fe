import { describe, expect, it } from "vitest";
import { largestZone, zoneSharesOf, zoneSharesText } from "../../src/cells/zone-shares.ts";

describe("shares of cells in soil zones", () => {
  // Cell 0: three records in zone 1, one in zone 0; cell 1: one in zone 0, one outside; cell 2: outside; cell 3: zone 0.
  const cellOf = Int32Array.of(0, 0, 0, 0, 1, 1, 2, 3, -1);
  const zoneOf = Int32Array.of(1, 1, 0, 1, 0, -1, -1, 0, 1);
  const shares = zoneSharesOf(cellOf, zoneOf, 4, 2);

  it("are of the cell's records, the largest first", () => {
    expect([...shares.start]).toEqual([0, 2, 3, 3, 4]);
    expect([...shares.zone]).toEqual([1, 0, 0, 0]);
    expect([...shares.share]).toEqual([0.75, 0.25, 0.5, 1]);
    expect([...largestZone(shares)]).toEqual([1, 0, -1, 0]);
  });

  it("are written out for cells on a border only", () => {
    const text = (cell: number) => zoneSharesText(shares, cell, ["clay", "loam"]);
    expect([0, 1, 2, 3].map(text)).toEqual(["loam 0.75; clay 0.25", "clay 0.50", null, null]);
  });

  it("are empty without a soil map", () => {
    const none = zoneSharesOf(cellOf, new Int32Array(9).fill(-1), 4, 0);
    expect(none.zone).toHaveLength(0);
    expect([...largestZone(none)]).toEqual([-1, -1, -1, -1]);
  });
});
