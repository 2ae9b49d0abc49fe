import { describe, expect, it } from "vitest";
import { cabSheet } from "../../src/write/cab-sheet.ts";
import { prescriptionCsv } from "../../src/write/prescription-csv.ts";
import { prescriptionFiles } from "../../src/write/prescription-files.ts";
import { FIXTURE_FRAME, prescriptionFixture } from "../support/prescription-fixture.ts";

const html = cabSheet(prescriptionFixture(), FIXTURE_FRAME);

/** What a reader sees, without the markup. */
const shown = html
  .replace(/<style>.*?<\/style>/s, "")
  .replace(/<[^>]+>/g, " ")
  .replace(/\s+/g, " ");

describe("the cab sheet", () => {
  it("gives each zone what to key in before all, the loads behind it, range, outcome and few words", () => {
    expect(html.match(/<td class="key">\d+<\/td>/g)).toHaveLength(3);
    expect(shown).toContain("KEY IN, lb fit ground load behind it, lb load if dry, lb load if damp, lb");
    expect(shown).toMatch(/1, 5 sand 7\.9 ac · today 92 210 110 130 75 100–145 Change/);
    expect(shown).toContain("Ran at 92 lb. 24 counts: 2.1 plants in 100 expected (0.8 to 3.4).");
    expect(shown).toContain("HELD BACK. Today's load stays: row unit 7 carries no load: mend it first.");
  });

  it("says what to settle first, the squeeze test, where to dig, proof strips, the formula and the cautions", () => {
    for (const words of [
      "Settle first, before any load is changed F3 Row unit 7: mend before planting.",
      "FIT makes a ball that crumbles",
      "WAIT shines, ribbons or sticks like putty",
      "Dig row 12 (centre), row 1 (wing), row 9 (wheel track).",
      "no. 4 on sand: 180 lb",
      "180 lb logged + 120 lb wanted - 92 lb logged on the wheels = 208 lb",
      "in the field 190 lb, outside 185 lb, position lost 195 lb",
      "Weight the bar can spare is not known.",
      "Dig behind the bar &amp; check before planting the field.",
    ])
      expect(shown).toContain(words);
  });

  it("draws every zone, strips hatched, and takes nothing from outside", () => {
    expect(html.match(/class="zone/g)).toHaveLength(5);
    expect(html.match(/class="zone strip"/g)).toHaveLength(1);
    expect(html).toContain("Test &quot;Field&quot; &lt;A&amp;B&gt;");
    expect(html).not.toMatch(/<script|https?:\/\/|src=/);
  });

  it("sets type smaller the more there is to say", () => {
    const { decisions } = prescriptionFixture();
    const zoomOf = (text: string) => Number(/--zoom:([\d.]+)/.exec(text)![1]);
    const many = Array.from({ length: 12 }, (_, k) => ({ ...decisions[0]!, soilZone: `soil ${k}` }));
    expect(zoomOf(html)).toBeGreaterThan(0.95);
    expect(zoomOf(cabSheet(prescriptionFixture({ decisions: many }), FIXTURE_FRAME))).toBeLessThan(0.9);
  });

  it("shows loads on the wheels and the reason where there is no channel", () => {
    const none = prescriptionFixture({
      channel: { quantity: null, formula: "", reason: "the log has no added force" },
    });
    const text = cabSheet(none, FIXTURE_FRAME);
    expect(text).toContain("<b>No file for the machine.</b> The log has no added force");
    expect(text).not.toContain("KEY IN");
  });
});

describe("prescription.csv", () => {
  const rows = prescriptionCsv(prescriptionFixture(), FIXTURE_FRAME).trimEnd().split("\r\n");

  it("has a line a soil zone with loads in pounds, or in newtons where metric is chosen", () => {
    expect(rows).toHaveLength(4);
    const heads = rows[0]!.split(",");
    const sand = rows[1]!.split(",");
    const cell = (name: string) => sand[heads.indexOf(name)];
    expect(["dry_lbf", "fit_lbf", "damp_lbf", "added_force_lbf", "pressure_psi"].map(cell)).toEqual([
      "130",
      "120",
      "75",
      "210",
      "304.6",
    ]);
    expect(["range_low_lbf", "range_high_lbf", "outcome", "grade"].map(cell)).toEqual([
      "100",
      "145",
      "change",
      "settled",
    ]);
    const metric = prescriptionCsv(prescriptionFixture(), FIXTURE_FRAME, "metric").split("\r\n");
    const at = metric[0]!.split(",").indexOf("fit_n");
    expect(metric[1]!.split(",")[at]).toBe("533.8");
    expect(metric[0]).not.toMatch(/_lbf|_ac|_psi/);
  });

  it("defuses names a spreadsheet would run", () => {
    const { decisions } = prescriptionFixture();
    const evil = prescriptionFixture({
      decisions: [{ ...decisions[0]!, soilZone: '=HYPERLINK("x")', reason: "+cmd" }],
    });
    const text = prescriptionCsv(evil, FIXTURE_FRAME);
    expect(text).toContain(`"'=HYPERLINK(""x"")"`);
    expect(text).toContain(",'+cmd,");
  });
});

describe("the files of a prescription", () => {
  it("say in a note where a zone is smaller than a cell and where a task cannot be written", () => {
    const fixture = prescriptionFixture();
    const coarse = { ...fixture.settings, gridCellM: 60 };
    const { notes, files } = prescriptionFiles({ ...fixture, settings: coarse }, FIXTURE_FRAME);
    expect(notes).toEqual([
      expect.stringContaining("that of one row unit (ISO 11783-11 DDI 426"),
      expect.stringMatching(/^The cells of the grid are \d+(\.\d+)? m: at 60 m/),
    ]);
    expect(files.filter(({ name }) => name.startsWith("task-fit-"))).toHaveLength(2);
    const margin = { quantity: "margin", formula: "", reason: null } as const;
    const refused = prescriptionFiles({ ...fixture, channel: margin }, FIXTURE_FRAME);
    expect(refused.notes).toEqual([expect.stringContaining("has no number for it")]);
    expect(refused.files.map(({ name }) => name)).toContain("rates-fit-margin.zip");
  });
});
