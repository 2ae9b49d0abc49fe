/** Cases in which a part of the field as a whole is short: zone, day, lot, half of the bar, all of it. */
import { describe, expect } from "vitest";
import { WIDTH_M, type Zone } from "./case-setup.ts";
import { caseTest } from "./case-test.ts";
import { analyseCase } from "./field-builder.ts";
import { contrastOf, counted, probabilityOf, saysNothingWrong, shortOnes, troubles } from "./verdict.ts";

const HALVES: readonly Zone[] = [
  { name: "lot 17", west: -10, east: WIDTH_M / 2, south: -10, north: 420 },
  { name: "lot 18", west: WIDTH_M / 2, east: WIDTH_M + 10, south: -10, north: 420 },
];

describe("a part of the field is short as a whole", () => {
  caseTest("A3", "soybeans thin on the clay after rain: the zone, crust or wet, dig", async () => {
    const result = await analyseCase({
      crop: "soybean",
      rowSpacingIn: 15,
      target: 140_000,
      depthIn: 1.5,
      emerged: ({ zone }) => (zone === "silty clay" ? 0.68 : 0.93),
      late: ({ zone }) => (zone === "silty clay" ? 0.25 : 0.04),
      counts: { number: 50 },
      weather: { rainMm: { "2026-04-25": 35 } },
      manifest: {
        targets: { seedingDepth: "1.5 in" },
        prices: { grain: "11 USD/bu", expectedYield: "55 bu/ac" },
      },
    });
    expect(contrastOf(result, "soil-zone", "silty clay")?.verdict).toBe("short");
    const zone = counted(result).find(({ where }) => where.soilZones.includes("silty clay"));
    expect(zone).toMatchObject({ kind: "soil-zone" });
    expect(probabilityOf(zone!, "soil-or-weather") + probabilityOf(zone!, "not-in-the-log")).toBeGreaterThan(
      0.5,
    );
    expect(zone!.probability).toBeLessThan(0.9);
    expect(result.printed).toMatch(/crust|wet/);
    expect(result.printed).toMatch(/\bdig\b/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A7", "half the bar 15 % short: compare the halves; lot, hopper or wing", async () => {
    const result = await analyseCase({
      emerged: ({ row }) => (row > 8 ? 0.8 : 0.94),
      counts: { number: 90 },
    });
    expect(contrastOf(result, "bar-half", /right/)?.verdict).toBe("short");
    const half = counted(result).find(({ kind }) => kind === "section");
    expect(half!.where.rowUnits).toEqual([9, 10, 11, 12, 13, 14, 15, 16]);
    expect(result.printed).toMatch(/\blot\b|hopper/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A8 with lots", "half the field of a bad lot: the lot", async () => {
    const result = await analyseCase({
      emerged: ({ lot }) => (lot === "lot 18" ? 0.81 : 0.94),
      lots: HALVES,
    });
    expect(contrastOf(result, "seed-lot", "lot 18")?.verdict).toBe("short");
    const [first] = counted(result);
    expect(first!.cause).toBe("seed-lot");
    expect(result.printed).toContain("lot 18");
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A8 without lots", "the later passes short: a change from some pass on", async () => {
    const result = await analyseCase({
      emerged: ({ pass, passes }) => (pass > passes / 2 ? 0.81 : 0.94),
    });
    expect(contrastOf(result, "change-point")?.verdict).toBe("short");
    const from = Number(/from pass (\d+) on/.exec(result.printed)?.[1]);
    expect(Math.abs(from - 16)).toBeLessThanOrEqual(3);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A10", "the whole first day short after a cold snap: the day, cold", async () => {
    const isFirst = (pass: number, passes: number): boolean => pass <= passes / 2;
    const result = await analyseCase({
      dateOf: (pass, passes) => (isFirst(pass, passes) ? "2026-04-24" : "2026-05-02"),
      emerged: ({ date }) => (date === "2026-04-24" ? 0.81 : 0.94),
      late: ({ date }) => (date === "2026-04-24" ? 0.25 : 0.04),
      weather: {
        soilC: {
          "2026-04-24": 10,
          "2026-04-25": 7,
          "2026-04-26": 6,
          "2026-04-27": 6,
          "2026-04-28": 7,
          "2026-04-29": 8,
        },
        airC: {
          "2026-04-25": [0, 8],
          "2026-04-26": [-1, 7],
          "2026-04-27": [0, 8],
          "2026-04-28": [1, 10],
        },
      },
    });
    expect(contrastOf(result, "planting-day", /2026-04-24|april 24/i)?.verdict).toBe("short");
    const ground = counted(result).reduce((sum, { where }) => Math.max(sum, where.areaHa), 0);
    expect(ground).toBeGreaterThan(0.8 * (result.document.field.areaHa / 2));
    expect(result.printed).toMatch(/\bcold\b|\bcool/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A12", "sandy loam 20 % short, digs dry and swollen: the seed lay dry", async () => {
    const result = await analyseCase({
      emerged: ({ zone }) => (zone === "sandy loam" ? 0.75 : 0.94),
      weather: {},
      digs: [60, 140, 230, 310].map((x, index) => ({
        x,
        y: 320 + 15 * index,
        depthIn: 2,
        smear: "none",
        furrow: "closed",
        moisture: "dry",
        seedState: "swollen",
      })),
    });
    expect(contrastOf(result, "soil-zone", "sandy loam")?.verdict).toBe("short");
    const zone = counted(result).find(({ where }) => where.soilZones.includes("sandy loam"));
    expect(zone!.cause).toBe("dry-seedbed");
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A15", "76 % up everywhere: the field against its target; seed, season or counts", async () => {
    const result = await analyseCase({ emerged: 0.76 });
    expect(contrastOf(result, "field")?.verdict).toBe("short");
    const { stand, sentence } = result.document.summary;
    expect(stand!.ofTarget!.estimate).toBeGreaterThan(0.71);
    expect(stand!.ofTarget!.estimate).toBeLessThan(0.8);
    expect(sentence.toLowerCase()).toMatch(/field/);
    expect(result.printed).toMatch(/\bseed\b/);
    expect(result.printed).toMatch(/how the counts|row length|counts were made/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A16", "track rows 12 % short and heavier: count track rows against plain rows", async () => {
    const isTrack = (row: number): boolean => [5, 6, 11, 12].includes(row);
    const result = await analyseCase({
      records: "row",
      loadLbf: ({ row }) => (isTrack(row) ? 170 : 110),
      emerged: ({ row }) => (isTrack(row) ? 0.83 : 0.94),
      counts: { number: 90 },
      manifest: { planter: { wheelTrackRows: [5, 6, 11, 12] } },
    });
    expect(contrastOf(result, "track-rows")).toBeDefined();
    expect(result.printed).toMatch(/track rows/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A19", "automatic force: clay 10 % short at an even load: the zone, not the load", async () => {
    const result = await analyseCase({
      emerged: ({ zone }) => (zone === "silty clay" ? 0.84 : 0.94),
      moreColumns: { DOWN_FORCE_LBF: ({ zone }) => (zone === "silty clay" ? 320 : 120) },
      counts: { number: 90 },
    });
    expect(["short", "could-be"]).toContain(contrastOf(result, "soil-zone", "silty clay")?.verdict);
    for (const finding of counted(result)) {
      expect(probabilityOf(finding, "excess-down-force")).toBeLessThan(0.5);
      expect(finding.probability).toBeLessThan(0.9);
    }
    expect(result.printed).toContain("silty clay");
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A34", "a sound field: tested and even, with the mean stand", async () => {
    const result = await analyseCase();
    expect(troubles(result)).toEqual([]);
    expect(shortOnes(result)).toEqual([]);
    const { stand, contrasts } = result.document.summary;
    expect(stand!.ofTarget!.estimate).toBeGreaterThan(0.9);
    expect(stand!.counts).toBe(60);
    expect(contrasts.filter(({ verdict }) => verdict === "tested").length).toBeGreaterThan(4);
    expect(result.printed).toMatch(/3[12],\d{3} plants\/ac/);
    expect(saysNothingWrong(result)).toBe(true);
  });
});
