/** A prescription wrongly used: each case is refused with its reason, or what is written is safe. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "../../src/quantities/units.ts";
import { fakeIo } from "../support/fake-io.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";
import { type LoadFieldOptions, writeLoadField } from "./support/load-field.ts";

const base = temporaryFolder();
let next = 0;

async function prescribe(options: LoadFieldOptions, ...argv: string[]) {
  const out = `out-${++next}`;
  const field = writeLoadField(join(base, `field-${next}`), options);
  const io = fakeIo(base);
  const code = await run(["prescribe", field, "--out", out, ...argv], io);
  const files = code === 0 ? readdirSync(join(base, out)) : [];
  const text = (name: string) => readFileSync(join(base, out, name), "utf8");
  return {
    code,
    said: `${io.written.out}\n${io.written.err}`.replace(/\s+/g, " "),
    rates: files.filter((name) => /^(rates|task)-/.test(name)),
    document: code === 0 ? JSON.parse(text("prescription.json")) : null,
    text,
  };
}

const loadOf = (document: { decisions: { soilZone: string }[] }, soil: string) =>
  document.decisions.find(({ soilZone }) => soilZone === soil) as unknown as {
    outcome: string;
    currentMarginN: number;
    currentForceN: number | null;
    prescribedN: Record<string, number>;
    gainShare: { estimate: number };
  };

describe("the prescription, wrongly used", () => {
  it("sound: clay pressed on damp ground is lowered, and files are written", async () => {
    const { code, rates, document } = await prescribe({}, "--moisture", "damp", "--channel", "added-force");
    expect(code).toBe(0);
    expect(rates.length).toBeGreaterThan(2);
    const clay = loadOf(document, "silty clay");
    expect(clay.outcome).toBe("change");
    // B8: damp ground may be relieved by more than the step that holds a load up.
    expect(clay.currentMarginN - clay.prescribedN.damp!).toBeGreaterThan(45 * LBF);
    expect(clay.currentMarginN - clay.prescribedN.damp!).toBeLessThan(85 * LBF);
    expect(clay.gainShare.estimate).toBeGreaterThan(0);
  });

  it("B1: limits or a band at 300 to 890 lb are refused, and a band no load of which helps changes nothing", async () => {
    const limits = await prescribe({}, "--minimum", "300 lbf", "--maximum", "890 lbf");
    expect(limits.code).toBe(2);
    expect(limits.said).toContain('--maximum is "890 lbf", which cannot be; 20 lbf to 350 lbf');
    const band = await prescribe({ targets: { downForceMargin: ["300 lbf", "890 lbf"] } });
    expect(band.code).not.toBe(0);
    expect(band.said).toContain("Largest load: 890 lb cannot be");
    const high = await prescribe({}, "--minimum", "300 lbf", "--maximum", "340 lbf", "--channel", "margin");
    expect(high.code).toBe(0);
    expect(high.rates).toEqual([]);
    expect(high.said).toContain("No file of rates is written: no zone changes");
  });

  it("B2: force logged while lifted refuses the channel, or leaves those records out and keeps the step", async () => {
    const lifted = await prescribe(
      { logged: (record, { pass }) => (pass % 3 === 0 ? { ...record, forceLbf: -60 } : record) },
      ...["--channel", "added-force", "--moisture", "damp"],
    );
    expect(lifted.rates).toEqual([]);
    expect(lifted.said).toContain("have an added force below zero, as when row units are lifted");
    const few = await prescribe(
      { logged: (record, { k }) => (k < 2 ? { loadLbf: 0, forceLbf: -60 } : record) },
      ...["--channel", "added-force", "--moisture", "damp"],
    );
    for (const { currentForceN } of few.document.decisions) expect(currentForceN / LBF).toBeCloseTo(150, 3);
    for (const { rates } of few.document.zones) {
      expect(rates.forceN).toBeLessThanOrEqual(192.5 * LBF);
      expect(rates.forceN).toBeGreaterThanOrEqual(67.5 * LBF);
    }
  });

  it("B3: newtons under a pound's name break the sum of weight, force and load", async () => {
    const force = await prescribe(
      { logged: (record) => ({ ...record, forceLbf: record.forceLbf * LBF }) },
      ...["--channel", "added-force"],
    );
    expect(force.rates).toEqual([]);
    expect(force.said).toMatch(/newtons under a pound's name/);
    const load = await prescribe({
      logged: (record) => ({ ...record, loadLbf: record.loadLbf * LBF }),
    });
    expect(load.code).toBe(3);
    expect(load.said).toMatch(/newtons under a pound's name/);
  });

  it.each([
    [
      "bar for psi",
      [
        ["100 lbf", "300 bar"],
        ["300 lbf", "700 bar"],
      ],
      "hydraulic",
      "is no pressure of hydraulic",
    ],
    [
      "kPa for psi",
      [
        ["100 lbf", "300 kPa"],
        ["300 lbf", "700 kPa"],
      ],
      "hydraulic",
      "is no pressure of hydraulic",
    ],
    [
      "nobody says the system",
      [
        ["100 lbf", "300 psi"],
        ["300 lbf", "700 psi"],
      ],
      null,
      "air bags or hydraulic",
    ],
    [
      "a line too short to reach",
      [
        ["300 lbf", "700 psi"],
        ["380 lbf", "900 psi"],
      ],
      "hydraulic",
      "not carried on",
    ],
    [
      "points that touch",
      [
        ["100 lbf", "300 psi"],
        ["120 lbf", "340 psi"],
      ],
      "hydraulic",
      "too close together",
    ],
  ])("B4: %s", async (_, points, system, words) => {
    const { rates, said } = await prescribe(
      { prescription: { channel: "pressure", cylinder: { points }, ...(system ? { system } : {}) } },
      ...["--moisture", "damp"],
    );
    expect(rates).toEqual([]);
    expect(said).toContain(words);
  });

  it("B4: a falling line is refused, a right one is written in psi between its points", async () => {
    const falling = await prescribe({
      prescription: {
        cylinder: {
          points: [
            ["100 lbf", "700 psi"],
            ["300 lbf", "300 psi"],
          ],
        },
      },
    });
    expect(falling.code).toBe(3);
    const right = await prescribe(
      {
        prescription: {
          channel: "pressure",
          system: "hydraulic",
          cylinder: {
            points: [
              ["50 lbf", "200 psi"],
              ["300 lbf", "700 psi"],
            ],
          },
        },
      },
      ...["--moisture", "damp"],
    );
    expect(right.rates.length).toBeGreaterThan(2);
    for (const { rates } of right.document.zones) {
      expect(rates.pressurePa / 6894.757).toBeGreaterThan(200);
      expect(rates.pressurePa / 6894.757).toBeLessThan(700);
    }
  });

  it("B6: load and force columns swapped", async () => {
    const { code, said } = await prescribe({
      logged: ({ loadLbf, forceLbf }) => ({ loadLbf: forceLbf, forceLbf: loadLbf }),
    });
    expect(code).toBe(3);
    expect(said).toContain("swapped");
  });

  it("B7: no counts, no change, no file of rates; a flat one where it is asked for", async () => {
    const none = await prescribe({ counts: 0 }, "--channel", "added-force");
    expect(none.code).toBe(0);
    expect(none.rates).toEqual([]);
    for (const { outcome } of none.document.decisions) expect(outcome).toBe("no-evidence");
    const flat = await prescribe({ counts: 0 }, "--channel", "added-force", "--flat");
    const sent = flat.document.zones.map(({ rates }: { rates: { forceN: number } }) => rates.forceN);
    if (flat.rates.length > 0) expect(new Set(sent).size).toBe(1);
    else expect(flat.said).toContain("would cost more plants than they bring");
  });

  it("B9: a boundary half a field off is refused, a soil map over a third writes no rates", async () => {
    const boundary = await prescribe({ boundaryShare: 1, boundaryEast: 160 });
    expect(boundary.code).toBe(3);
    expect(boundary.said).toMatch(/\d+ % of the planted ground lies outside the boundary/);
    const soil = await prescribe({ soilShare: 0.34 }, "--moisture", "damp", "--channel", "margin");
    expect(soil.rates).toEqual([]);
    expect(soil.said).toMatch(/the soil map leaves out \d+ % of the planted ground/);
  });

  it("B10: soil names swapped are told by last year's advice", async () => {
    const { said } = await prescribe({
      names: ["sandy loam", "silt loam", "silty clay"],
      prescription: { last: { "silty clay": "210 lbf", "sandy loam": "120 lbf" } },
    });
    expect(said).toContain("fit last year's advice with the names exchanged");
  });

  it("B11: one number in a zone's attributes", async () => {
    const { text } = await prescribe({}, "--moisture", "damp", "--channel", "added-force");
    for (const { properties } of JSON.parse(text("rates-damp.geojson")).features) {
      const numbers = Object.entries(properties).filter(([, value]) => typeof value === "number");
      expect(numbers.map(([name]) => name)).toEqual(["FORCE_LBF"]);
    }
  });

  it.each([
    ["--maximum", "160"],
    ["--maximum=-160 lbf"],
    ["--minimum", "200 lbf", "--maximum", "100 lbf"],
    ["--rate-step", "0 lbf"],
    ["--outside", "0 lbf"],
  ])("B12: %s %s", async (...argv) => {
    expect((await prescribe({}, ...argv)).code).toBe(2);
  });
});
