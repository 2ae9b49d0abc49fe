/** Cases with a spot, or with load and depth that the counts judge. */
import { describe, expect } from "vitest";
import type { Spot } from "./case-setup.ts";
import { caseTest } from "./case-test.ts";
import { analyseCase } from "./field-builder.ts";
import { counted, isAbout, saysNothingWrong, troubles } from "./verdict.ts";

const MIDDLE = [120, 290] as const;
const isIn = ({ x, y }: Spot, radiusM = 60): boolean => Math.hypot(x - MIDDLE[0], y - MIDDLE[1]) < radiusM;
const OVERCLAIMS = /nothing else comes near|not the planter|no planter setting|how sure 0 %/;

describe("a spot of the field is short", () => {
  caseTest("A2", "six counts: the mean, no places", async () => {
    const result = await analyseCase({
      loadLbf: ({ zone }) => (zone === "silty clay" ? 28 : 110),
      emerged: ({ zone }) => (zone === "silty clay" ? 0.8 : 0.94),
      counts: { number: 6 },
    });
    expect(result.document.summary.stand!.counts).toBe(6);
    expect(result.printed).toMatch(/\d plants\/ac/);
    expect(counted(result)).toEqual([]);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A5", "a crop without a yield table: the place, its deficit, no price", async () => {
    const result = await analyseCase({
      crop: "other",
      rowSpacingIn: 22,
      target: 62_000,
      emerged: (spot) => (isIn(spot, 70) ? 0.79 : 0.94),
      counts: { number: 120 },
    });
    const place = counted(result).find((finding) => isAbout(finding, MIDDLE, 50));
    expect(place).toBeDefined();
    expect(place!.loss.money).toBeNull();
    const { low, high } = place!.stand.deficitShare!;
    expect(low).toBeLessThan(0.15);
    expect(high).toBeGreaterThan(0.15);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A11", "a crust after 40 mm of rain, no digs: the place; crust likely, dig", async () => {
    const result = await analyseCase({
      emerged: (spot) => (isIn(spot) ? 0.7 : 0.94),
      counts: { number: 90 },
      weather: { rainMm: { "2026-04-25": 40 } },
    });
    const place = counted(result).find((finding) => isAbout(finding, MIDDLE, 50));
    expect(place).toBeDefined();
    expect(place!.probability).toBeLessThan(0.9);
    expect(result.printed).toMatch(/crust/);
    expect(`${place!.words.check} ${place!.words.otherwise} ${place!.remedy.text}`).toMatch(/\b[Dd]ig\b/);
    expect(result.printed).not.toMatch(OVERCLAIMS);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A14", "only the population logged: planting cannot be judged from this log", async () => {
    const result = await analyseCase({
      columns: ["time", "rate", "swath"],
      emerged: (spot) => (isIn(spot) ? 0.7 : 0.94),
      counts: { number: 90 },
    });
    const place = counted(result).find((finding) => isAbout(finding, MIDDLE, 50));
    expect(place!.probability).toBeLessThan(0.9);
    expect(result.document.summary.notJudged.map(({ what }) => what).join()).toMatch(/depth/);
    expect(result.printed).not.toMatch(OVERCLAIMS);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A21", "no soil, boundary, targets: the place; its cause open", async () => {
    const result = await analyseCase({
      soil: null,
      boundary: false,
      emerged: (spot) => (isIn(spot, 65) ? 0.75 : 0.94),
      counts: { number: 90 },
      manifest: { targets: null, prices: null },
    });
    const place = counted(result).find((finding) => isAbout(finding, MIDDLE, 50));
    expect(place!.probability).toBeLessThan(0.9);
    expect(result.printed).not.toMatch(OVERCLAIMS);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest(
    "A9",
    "the second day wet and the clay pressed: pressed, on day two, and nothing else",
    async () => {
      const isWet = ({ zone, date }: Spot): boolean => zone === "silty clay" && date === "2026-04-25";
      const result = await analyseCase({
        dateOf: (pass, passes) => (pass <= passes / 2 ? "2026-04-24" : "2026-04-25"),
        loadLbf: (spot) => (isWet(spot) ? 220 : 130),
        emerged: (spot) => (isWet(spot) ? 0.8 : 0.94),
        late: (spot) => (isWet(spot) ? 0.2 : 0.04),
        counts: { number: 90 },
        weather: { rainMm: { "2026-04-24": 32 } },
      });
      const pressed = counted(result).find(({ cause }) => cause === "excess-down-force");
      expect(pressed!.where.soilZones).toEqual(["silty clay"]);
      const later = pressed!.where.passes.filter((pass) => pass > 15);
      expect(later.length).toBeGreaterThan(0.8 * pressed!.where.passes.length);
      expect(troubles(result).filter(({ kind }) => kind === "field")).toEqual([]);
      expect(result.printed).not.toMatch(OVERCLAIMS);
      expect(saysNothingWrong(result)).toBe(false);
    },
  );

  caseTest("A25", "a high load on dry ground without harm: leave it", async () => {
    const result = await analyseCase({
      loadLbf: ({ zone }) => (zone === "sandy loam" ? 230 : 110),
      weather: {},
      counts: { number: 90 },
    });
    expect(counted(result)).toEqual([]);
    expect(troubles(result).filter(({ cause }) => cause !== "excess-down-force")).toEqual([]);
    for (const { remedy } of troubles(result)) expect(remedy.code).not.toBe("lower-margin");
  });

  caseTest("A29", "silt loam pressed while wet: smear on silt loam, no set of rows", async () => {
    const isSilt = ({ zone }: Spot): boolean => zone === "silt loam";
    const result = await analyseCase({
      loadLbf: (spot) => (isSilt(spot) ? 250 : 120),
      emerged: (spot) => (isSilt(spot) ? 0.84 : 0.94),
      late: (spot) => (isSilt(spot) ? 0.2 : 0.04),
      counts: { number: 90 },
      weather: { rainMm: { "2026-04-23": 75 } },
    });
    const pressed = counted(result).find(({ where }) => where.soilZones.includes("silt loam"));
    expect(pressed!.cause).toBe("excess-down-force");
    expect(troubles(result).filter(({ where }) => where.rowUnits.length > 0)).toEqual([]);
    expect(result.printed).toMatch(/smear|damp|wet/);
    expect(saysNothingWrong(result)).toBe(false);
  });
});
