import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { editDistance, nearestWord } from "../../src/numerics/nearest-name.ts";

const word = fc.string({ maxLength: 12 }).map((text) => text.toLowerCase());

describe("editDistance", () => {
  // The pair every text on the measure uses: kitten, sitting, 3 edits (Levenshtein 1966 measure).
  it.each([
    ["kitten", "sitting", 3],
    ["plantinglog", "plantingLog", 0],
    ["", "abc", 3],
    ["colunm", "column", 2],
  ])("%s to %s is %d", (first, second, distance) => {
    expect(editDistance(first, second)).toBe(distance);
  });

  it("is a measure: symmetric, zero for equals only, and never shorter by a detour", () => {
    fc.assert(
      fc.property(word, word, word, (a, b, c) => {
        expect(editDistance(a, b)).toBe(editDistance(b, a));
        expect(editDistance(a, b) === 0).toBe(a === b);
        expect(editDistance(a, c)).toBeLessThanOrEqual(editDistance(a, b) + editDistance(b, c));
      }),
    );
  });

  it("finds the nearest word, the first of equals, and none among none", () => {
    expect(nearestWord("depht", ["speed", "depth", "depths"])).toBe("depth");
    expect(nearestWord("ab", ["aa", "bb"])).toBe("aa");
    expect(nearestWord("depth", [])).toBeNull();
  });
});
