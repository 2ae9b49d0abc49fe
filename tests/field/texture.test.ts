import { describe, expect, it } from "vitest";
import { textureOf } from "../../src/field/texture.ts";

describe("textureOf", () => {
  it.each([
    ["silty clay", "clay"],
    ["Sandy clay loam", "clay loam"],
    ["silty clay loam", "clay loam"],
    ["Fine sandy loam, 0 to 2 percent slopes", "sandy loam"],
    ["Loamy sand", "sand"],
    ["Bennington silt loam", "silt loam"],
    ["Condit-Bennington silt loams", "silt loam"],
    ["Loam", "loam"],
    ["clay_loam_2", "clay loam"],
    ["SiCL", "clay loam"],
    ["muck", null],
    ["zone C", null],
    ["Clayton", null],
    ["3", null],
  ])("%s", (name, texture) => {
    expect(textureOf(name)).toBe(texture);
  });
});
