import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NothingToAnalyseError } from "../../src/errors.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import { adjustedRandIndex } from "../support/adjusted-rand.ts";
import { type DrivenLine, drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const PLANTER = { rowUnits: 8, rowSpacingM: 0.762 };
const WIDTH = 8 * 0.762;

describe("passes", () => {
  it.each([
    ["row-unit records with clock times", false, true],
    ["row-unit records in file order", false, false],
    ["whole-bar records with clock times", true, true],
    ["whole-bar records in file order", true, false],
  ])("up and down: %s", (_title, bar, clock) => {
    const log = drive(upAndDown(7, WIDTH, 200), { ...PLANTER, bar });
    const passes = findPasses(
      buildField({
        ...log,
        values: { rowUnit: log.rowUnit, ...(clock ? { time: log.time } : {}) },
        hasClockTime: clock,
        layout: bar ? "bar" : "row-unit",
        planter: PLANTER,
      }),
    );
    expect(Array.from(passes.passOf)).toEqual(log.line.map((line) => line + 1));
    expect(Array.from(passes.momentOf)).toEqual(log.moment);
    expect(passes.passes.map((pass) => Math.round(pass.headingDeg) % 360)).toEqual([
      0, 180, 0, 180, 0, 180, 0,
    ]);
    expect(passes.passes.map((pass) => pass.moments)).toEqual(Array(7).fill(100));
    expect(passes.passes[0]!.lengthM).toBeCloseTo(200, 6);
    expect(passes.passes[0]!.areaM2).toBeCloseTo(200 * WIDTH, 6);
    expect(passes.passes[0]!.date).toBe(clock ? "2026-04-24" : null);
  });

  it("lifting over a waterway and going on stays one pass; places keep their way from the start", () => {
    const [first, ...rest] = upAndDown(3, WIDTH, 200);
    const log = drive([{ ...first!, lifted: [[80, 120]] }, ...rest], { ...PLANTER, bar: true });
    const passes = findPasses(buildField({ ...log, planter: PLANTER }));
    expect(passes.passes).toHaveLength(3);
    expect(passes.passes[0]!.lengthM).toBeCloseTo(160, 6);
    expect(passes.alongM[log.line.lastIndexOf(0)]).toBeCloseTo(198, 6);
  });

  it("records marked as lifted are of no pass", () => {
    const log = drive(upAndDown(2, WIDTH, 100), { ...PLANTER, bar: true });
    const working = log.x.map((_, record) => (record % 50 < 10 ? 0 : 1));
    const passes = findPasses(buildField({ ...log, values: { working }, planter: PLANTER }));
    expect(Array.from(passes.passOf, (pass) => (pass === 0 ? 0 : 1))).toEqual(working);
    expect(passes.passes.map((pass) => pass.records)).toEqual([40, 40]);
  });

  it("a lap is cut at its corners, a gentle bend is not", () => {
    const lap: DrivenLine = {
      way: [
        [0, 0],
        [0, 300],
        [200, 300],
        [200, 0],
      ],
    };
    const log = drive([lap], { ...PLANTER, bar: true });
    const corner = findPasses(buildField({ ...log, planter: PLANTER }));
    expect(corner.passes.map((pass) => Math.round(pass.headingDeg / 10) * 10)).toEqual([0, 90, 180]);
    const bend = Array.from({ length: 200 }, (_, k) => k * 0.01);
    const curve = findPasses(
      buildField({
        x: bend.map((angle) => 200 * (1 - Math.cos(angle))),
        y: bend.map((angle) => 200 * Math.sin(angle)),
        planter: PLANTER,
      }),
    );
    expect(curve.passes).toHaveLength(1);
  });

  it("always driven the same way: each return starts a pass, with clock times and without", () => {
    const log = drive(upAndDown(6, WIDTH, 150, true), { ...PLANTER, bar: true });
    for (const clock of [true, false]) {
      const values = clock ? { time: log.time } : {};
      const passes = findPasses(buildField({ ...log, values, hasClockTime: clock, planter: PLANTER }));
      expect(Array.from(passes.passOf)).toEqual(log.line.map((line) => line + 1));
    }
  });

  it("the log's own number cuts where it changes off the line, not on a resume, and is kept as a label", () => {
    // Six lines up and down, then two in one direction: without clock times only the log tells these apart.
    const lines = upAndDown(6, WIDTH, 150);
    lines.push({ way: [[6 * WIDTH, 0], [6 * WIDTH, 150]], lifted: [[60, 90]] }); // biome-ignore format: one line
    lines.push({ way: [[7 * WIDTH, 0], [7 * WIDTH, 150]] }); // biome-ignore format: one line
    const log = drive(lines, { ...PLANTER, bar: true });
    const number = log.line.map((line, record) =>
      line === 6 && log.y[record]! > 75 ? "7b" : String(line + 1),
    );
    const field = buildField({ ...log, labels: { pass: number }, planter: PLANTER });
    const withNumber = findPasses(field);
    expect(withNumber.passes).toHaveLength(8);
    expect(withNumber.passes[6]!.logPasses).toEqual(["7", "7b"]);
    const without = findPasses(field, { useLogPass: false });
    expect(without.passes).toHaveLength(7);
    expect(without.passes[6]!.logPasses).toEqual(["7", "7b", "8"]);
    expect(without.method).toContain("without clock times");
  });

  it.each([false, true])(
    "rounds at the edge, then work inside: headland is what goes round (from the far side: %s)",
    (far) => {
      const field = { east: 300, north: 400 };
      const round = (inset: number): DrivenLine[] => {
        const [w, s, e, n] = [inset, inset, field.east - inset, field.north - inset];
        return [
          { way: [[w, s], [w, n]] }, // biome-ignore format: one line
          { way: [[w, n], [e, n]] }, // biome-ignore format: one line
          { way: [[e, n], [e, s]] }, // biome-ignore format: one line
          { way: [[e, s], [w + WIDTH, s]] }, // biome-ignore format: one line
        ];
      };
      const rounds = [...round(WIDTH / 2), ...round(1.5 * WIDTH)];
      // The work inside follows the last side by a corner, or turns back beside the side before it.
      if (far) rounds.pop();
      const inner = upAndDown(45, WIDTH, field.north - 4 * WIDTH).map(({ way }) => ({
        way: way.map(([x, y]): [number, number] => [
          far ? field.east - 2.5 * WIDTH - x : x + 2.5 * WIDTH,
          y + 2 * WIDTH,
        ]),
      }));
      const log = drive([...rounds, ...inner], { ...PLANTER, bar: true });
      const passes = findPasses(buildField({ ...log, planter: PLANTER }));
      expect(passes.passes).toHaveLength(rounds.length + 45);
      expect(passes.passes.filter((pass) => pass.headland).map((pass) => pass.number)).toEqual(
        rounds.map((_, index) => index + 1),
      );
    },
  );

  it("any order of lines, lengths and noise of position: the lines are found again", () => {
    const line = fc.record({
      length: fc.integer({ min: 60, max: 300 }),
      noise: fc.integer({ min: 0, max: 99 }),
    });
    fc.assert(
      fc.property(fc.array(line, { minLength: 2, maxLength: 6 }), (parts) => {
        const lines = parts.map(({ length }, index) => upAndDown(index + 1, WIDTH, length)[index]!);
        const log = drive(lines, { ...PLANTER, bar: true });
        const wobble = (record: number, k: number) => 0.05 * Math.sin(record * (1.7 + k) + parts[0]!.noise);
        const passes = findPasses(
          buildField({
            x: log.x.map((x, record) => x + wobble(record, 0)),
            y: log.y.map((y, record) => y + wobble(record, 1)),
            planter: PLANTER,
          }),
        );
        expect(adjustedRandIndex(passes.passOf, log.line)).toBe(1);
      }),
      { numRuns: 40 },
    );
  });

  it("a log without any usable record is refused by name", () => {
    expect(() => findPasses(buildField({ x: [Number.NaN], y: [1] }))).toThrow(NothingToAnalyseError);
  });
});

describe("moments", () => {
  it("a file that lists one row unit after the other gives the same moments", () => {
    const log = drive(upAndDown(3, WIDTH, 60), PLANTER);
    const order = log.x.map((_, record) => record).sort((a, b) => log.rowUnit[a]! - log.rowUnit[b]! || a - b);
    const sorted = <T>(column: T[]): T[] => order.map((record) => column[record]!);
    for (const clock of [true, false]) {
      const passes = findPasses(
        buildField({
          x: sorted(log.x),
          y: sorted(log.y),
          values: { rowUnit: sorted(log.rowUnit), ...(clock ? { time: sorted(log.time) } : {}) },
          labels: { pass: sorted(log.line).map(String) },
          hasClockTime: clock,
          layout: "row-unit",
          planter: PLANTER,
        }),
      );
      expect(Array.from(passes.momentOf)).toEqual(sorted(log.moment));
      expect(Array.from(passes.passOf)).toEqual(sorted(log.line).map((line) => line + 1));
    }
  });

  it("several moments within one second are told apart by the row unit that shows up again", () => {
    const log = drive(upAndDown(2, WIDTH, 60), { ...PLANTER, stepM: 0.5 });
    const passes = findPasses(
      buildField({
        ...log,
        values: { rowUnit: log.rowUnit, time: log.time.map((seconds) => Math.floor(seconds / 5) * 5) },
        hasClockTime: true,
        layout: "row-unit",
        planter: PLANTER,
      }),
    );
    expect(Array.from(passes.momentOf)).toEqual(log.moment);
  });

  it("units switched off by section control do not look like a turn", () => {
    const log = drive(upAndDown(3, WIDTH, 120), PLANTER);
    // A slanting edge: one unit after the other is off over the last 40 m of each pass.
    const kept = log.x.flatMap((_, record) =>
      log.y[record]! > 80 + 5 * log.rowUnit[record]! ? [] : [record],
    );
    const pick = <T>(column: T[]): T[] => kept.map((record) => column[record]!);
    const passes = findPasses(
      buildField({
        x: pick(log.x),
        y: pick(log.y),
        values: { rowUnit: pick(log.rowUnit) },
        layout: "row-unit",
        planter: PLANTER,
      }),
    );
    expect(passes.passes).toHaveLength(3);
    const heading = pick(log.headingDeg);
    passes.headingDeg.forEach((found, record) => {
      expect(Math.cos(((found - heading[record]!) * Math.PI) / 180)).toBeGreaterThan(0.9999);
    });
  });
});

describe("row units", () => {
  it("without numbers they are counted from the left in the direction of travel", () => {
    const log = drive(upAndDown(3, WIDTH, 40), PLANTER);
    const passes = findPasses(
      buildField({ ...log, values: { time: log.time }, hasClockTime: true, layout: "row-unit" }),
    );
    expect(Array.from(passes.rowUnitOf)).toEqual(log.rowUnit);
    expect(passes.rowUnitCount).toBe(8);
    expect(passes.widthM[0]).toBeCloseTo(0.762, 6);
  });

  it("numbers that change sides with the direction are replaced", () => {
    const log = drive(upAndDown(4, WIDTH, 40), PLANTER);
    const fromWest = log.rowUnit.map((unit, record) => (log.headingDeg[record]! > 90 ? 9 - unit : unit));
    const passes = findPasses(
      buildField({
        ...log,
        values: { rowUnit: fromWest, time: log.time },
        hasClockTime: true,
        layout: "row-unit",
      }),
    );
    expect(Array.from(passes.rowUnitOf)).toEqual(log.rowUnit);
    expect(passes.method).toContain("change sides");
  });

  const log = drive(upAndDown(2, WIDTH, 40), PLANTER);
  const bar = drive(upAndDown(2, WIDTH, 40), { ...PLANTER, bar: true });
  const atBar = (lateralOffset?: number[]) =>
    findPasses(
      buildField({
        x: log.moment.map((moment) => bar.x[moment]!),
        y: log.moment.map((moment) => bar.y[moment]!),
        values: { rowUnit: log.rowUnit, ...(lateralOffset ? { lateralOffset } : {}) },
        layout: "row-unit",
        planter: PLANTER,
      }),
    );

  it("an offset of the bar moves all units, one by section control none, one by unit stands as it is", () => {
    expect(atBar(log.x.map(() => 0.2)).offsetM[0]).toBeCloseTo(0.2 - 3.5 * 0.762, 9);
    expect(atBar(log.moment.map((moment) => (moment > 9 ? 1 : 0))).offsetM[160]).toBeCloseTo(-3.5 * 0.762, 9);
    expect(atBar(log.rowUnit.map((unit) => unit - 5)).offsetM[0]).toBe(-4);
  });

  it("units that all carry the bar's position are set beside it", () => {
    const passes = atBar();
    expect(passes.offsetM[0]).toBeCloseTo(-3.5 * 0.762, 9);
    expect(passes.offsetM[7]).toBeCloseTo(3.5 * 0.762, 9);
    expect(passes.passes.map((pass) => pass.areaM2)).toEqual([
      expect.closeTo(40 * WIDTH, 6),
      expect.closeTo(40 * WIDTH, 6),
    ]);
  });
});
