/** Cases about single row units, and about passes that are not what they seem. */
import { describe, expect } from "vitest";
import { LENGTH_M, WIDTH_M, type Zone } from "./case-setup.ts";
import { caseTest } from "./case-test.ts";
import { analyseCase, analyseFiles, buildCase } from "./field-builder.ts";
import { counted, probabilityOf, saysNothingWrong, troubles } from "./verdict.ts";

const BAR_M = 12.192;
const ROW_M = 0.762;

describe("row units", () => {
  caseTest(
    "A13",
    "row 5 reads shallow, the stand is fine: sensor at least as likely; dig row 5",
    async () => {
      const result = await analyseCase({
        records: "row",
        depthIn: ({ row }) => (row === 5 ? 1.1 : 2),
        counts: { number: 60 },
      });
      const row = result.document.findings.find(({ where }) => where.rowUnits.includes(5));
      expect(row!.where.rowUnits).toEqual([5]);
      expect(probabilityOf(row!, "sensor-fault")).toBeGreaterThanOrEqual(probabilityOf(row!, "too-shallow"));
      expect(`${row!.words.check} ${row!.remedy.text}`).toMatch(/\b[Dd]ig\b/);
      expect(result.printed).not.toMatch(/it plants at 1\.1/);
    },
  );

  caseTest("A17", "row 7 clogging from 0 to 9 % skips: a rising trend", async () => {
    const result = await analyseCase({
      records: "row",
      skips: ({ row, pass, passes }) => (row === 7 ? (0.09 * pass) / passes : 0.015),
    });
    const row = troubles(result).find(({ where }) => where.rowUnits.includes(7));
    expect(row).toMatchObject({ cause: "misses" });
    expect(row!.where.rowUnits).toEqual([7]);
    const words = [row!.detail, row!.words.title, ...row!.words.seen, row!.remedy.text].join(" ");
    expect(words).toMatch(/trend|rising|rises|rose|growing|grows|more and more|from pass to pass/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A33", "a soil border inside the bar: no row unit", async () => {
    const borders = [0, 2, 4, 6, 8, 10, 12, 14].map((k) => 2 * k * BAR_M + 5 * ROW_M);
    const soil: Zone[] = borders.map((west, index) => ({
      name: index % 2 === 0 ? "silty clay" : "sandy loam",
      west: index === 0 ? -10 : west,
      east: borders[index + 1] ?? WIDTH_M + 10,
      south: -10,
      north: LENGTH_M + 10,
    }));
    const result = await analyseCase({
      records: "row",
      soil,
      loadLbf: ({ zone }) => (zone === "silty clay" ? 85 : 140),
      depthIn: ({ zone }) => (zone === "silty clay" ? 1.85 : 2.1),
    });
    expect(troubles(result).filter(({ where }) => where.rowUnits.length > 0)).toEqual([]);
  });
});

describe("passes", () => {
  caseTest("A23", "a third planted again after four weeks: replanted", async () => {
    const lanes = Array.from({ length: 30 }, (_, lane) => lane);
    const result = await analyseCase({
      lanes: [...lanes, ...lanes.slice(0, 10)],
      dateOf: (pass) => (pass <= 30 ? "2026-04-24" : "2026-05-22"),
    });
    expect(result.printed).toMatch(/replant|planted again/);
    expect(troubles(result).filter(({ cause }) => cause === "planted-twice")).toEqual([]);
  });

  caseTest("A24", "two planters in one log: two machines", async () => {
    const half = WIDTH_M / 2;
    const wide = buildCase({ widthM: half, moreColumns: { MACHINE: "planter 1" } });
    const narrow = buildCase({
      rows: 8,
      eastM: half,
      widthM: half,
      seed: 2,
      moreColumns: { MACHINE: "planter 2" },
    });
    const whole = buildCase({ manifest: { planter: { rowUnits: null } } });
    const [head, ...first] = wide["planting.csv"]!.trim().split("\n");
    const second = narrow["planting.csv"]!.trim().split("\n").slice(1);
    const timeOf = (line: string): string => line.split(",")[2]!;
    const lines = [...first, ...second].sort((a, b) => (timeOf(a) < timeOf(b) ? -1 : 1));
    const result = await analyseFiles({ ...whole, "planting.csv": `${[head, ...lines].join("\n")}\n` });
    expect(result.printed).toMatch(/two (planters|machines)|2 (planters|machines)/);
    expect(result.document.field.areaHa).toBeGreaterThan(14);
    expect(result.document.summary.ground?.overlapHa ?? 0).toBeLessThan(1);
    const passes = new Set(
      result.document.comparison.map(({ pass }) => pass).filter((pass) => pass !== null),
    );
    expect(passes.size).toBeLessThan(60);
    expect(counted(result)).toEqual([]);
  });
});
