/** Cases that the log alone decides: risks, departures, and what no log can be believed in. */
import { describe, expect } from "vitest";
import type { Spot } from "./case-setup.ts";
import { caseTest } from "./case-test.ts";
import { analyseCase, analyseFiles, buildCase, runCase, writeCase } from "./field-builder.ts";
import { isAbout, saysNothingWrong, troubles } from "./verdict.ts";

describe("the log alone", () => {
  caseTest("A1", "silty clay at 28 lb, no counts: a risk; dig there", async () => {
    const result = await analyseCase({
      loadLbf: ({ zone }) => (zone === "silty clay" ? 28 : 110),
      counts: null,
    });
    const light = troubles(result).find(({ where }) => where.soilZones.includes("silty clay"));
    expect(light).toMatchObject({ cause: "lost-ground-contact", basis: "predicted" });
    expect(`${light!.words.check} ${light!.remedy.text}`).toMatch(/\b[Dd]ig\b/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A4", "fewer seeds in some passes: the rate, no yield lost, seed saved", async () => {
    const isLow = (pass: number): boolean => pass >= 20 && pass <= 26;
    const result = await analyseCase({
      rowSpacingIn: 20,
      target: 36_000,
      rate: ({ pass }) => (isLow(pass) ? 32_400 : 36_000),
    });
    const low = troubles(result).find(({ cause }) => cause === "rate-off-target");
    expect(low!.where.passes).toEqual([20, 21, 22, 23, 24, 25, 26]);
    expect(low!.loss.yieldShare?.estimate ?? 0).toBeLessThan(0.005);
    expect(result.said).toMatch(/seed[^.]*(saved|less)/);
  });

  caseTest("A6", "a force logged as load, 250 and 330 lb, spread 8: no load is that steady", async () => {
    const files = buildCase({
      loadLbf: ({ zone }) => (zone === "silty clay" ? 330 : 250),
      loadSpreadLbf: 8,
      counts: null,
    });
    const folder = writeCase(files);
    const { code, out, err } = await runCase(folder, "analyse", "field", "--out", "out");
    const said = `${out} ${err}`.replaceAll(/\s+/g, " ");
    expect(said).toMatch(/LOAD_LBF/);
    expect(said).toMatch(/setting|steady|down force|spread/);
    if (code !== 0) return;
    const result = await analyseFiles(files);
    expect(troubles(result).filter(({ cause }) => cause === "excess-down-force")).toEqual([]);
  });

  caseTest("A18", "all meters clogging: a drift through the day", async () => {
    const result = await analyseCase({
      skips: ({ pass, passes }) => 0.01 + (0.06 * pass) / passes,
      doubles: 0.004,
    });
    const clogging = troubles(result).find(({ cause }) => cause === "misses");
    const words = [
      clogging!.detail,
      clogging!.words.title,
      ...clogging!.words.seen,
      clogging!.remedy.text,
    ].join(" ");
    expect(words).toMatch(/trend|drift|rising|rises|rose|growing|grows|more and more|from pass to pass/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A26", "load in psi: which unit, and of which column", async () => {
    const folder = writeCase(buildCase({ rename: { LOAD_LBF: "LOAD_PSI" } }));
    const { out, err } = await runCase(folder, "analyse", "field", "--out", "out");
    expect(`${out} ${err}`).toMatch(/LOAD_PSI/);
    expect(`${out} ${err}`).toMatch(/\bpsi\b/);
  });

  caseTest("A28", "6.6 % skips on every row: meters, the whole field", async () => {
    const result = await analyseCase({ records: "row", skips: 0.066, counts: { number: 60 } });
    const everywhere = troubles(result).find(({ cause }) => cause === "misses");
    expect(everywhere).toMatchObject({ kind: "field" });
    expect(everywhere!.words.title).toMatch(/skips/i);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A30", "four pounds over the band, no counts: nothing", async () => {
    const result = await analyseCase({ loadLbf: 164, counts: null });
    expect(troubles(result)).toEqual([]);
  });

  caseTest("A31", "bounce behind a fair mean: time without load", async () => {
    const result = await analyseCase({ loadLbf: 95, loadSpreadLbf: 90, counts: null, stepM: 4 });
    const light = troubles(result).find(({ cause }) => cause === "lost-ground-contact");
    expect(light).toBeDefined();
    expect(result.said).toMatch(/without load|no load|without weight|at zero|off the ground/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A32", "no targets, no source of depth: a strong departure is listed", async () => {
    const isOff = ({ x, y }: Spot): boolean => x < 219 && y < 200;
    const result = await analyseCase({
      depthIn: (spot) => (isOff(spot) ? 1.45 : 1.95),
      loadLbf: (spot) => (isOff(spot) ? 35 : 115),
      counts: null,
      manifest: { targets: null, plantingLog: { columns: null } },
    });
    const [first] = troubles(result);
    expect(first).toMatchObject({ basis: "predicted" });
    expect(isAbout(first!, [110, 100], 40)).toBe(true);
    expect(first!.where.areaHa).toBeGreaterThan(3.5);
    expect(result.printed).toMatch(/ran at [1-4]\d lbf?, the rest at 1[01]\d lbf?/);
    expect(result.printed).toMatch(/no target/);
    expect(saysNothingWrong(result)).toBe(false);
  });
});
