import { describe, expect, it } from "vitest";
import { run } from "../../src/cli/run.ts";
import { convert } from "../../src/quantities/units.ts";
import { REPLANT_CAUTIONS, type ReplantPlan } from "../../src/replant/replant-plan.ts";
import { fakeIo } from "../support/fake-io.ts";
import { collection, degrees, point, SMALL_MANIFEST, writeSmallField } from "../support/small-field.ts";
import { temporaryFolder } from "../support/temporary-folder.ts";

const base = temporaryFolder();
const PRICED = {
  ...SMALL_MANIFEST,
  planted: "2026-04-28",
  prices: { grain: "4.50 USD/bu", expectedYield: "200 bu/ac", seed: "3.75 USD/1000" },
};
const COSTS = ["--destroy-cost", "12 USD/ac", "--plant-cost", "18.50 USD/ac"];

let folders = 0;
function fieldFolder(changes: Record<string, unknown> = {}): string {
  return writeSmallField(`${base}/${++folders}`, { "field.json": PRICED, ...changes });
}

function counts(date: string | null) {
  return collection(
    [20, 60, 100, 140].map((east, k) =>
      point(degrees(east, 100), {
        PLANTS: 17 + (k % 2),
        ROW_LENGTH_FT: 17.424,
        ...(date ? { DATE: date } : {}),
      }),
    ),
  );
}

async function replant(folder: string, ...argv: string[]) {
  const io = fakeIo(base);
  const code = await run(["replant", folder, ...argv], io);
  return { code, ...io.written };
}

describe("evenstand replant", () => {
  it("weighs the field by its counts, every table of the crop shown, cautions first", async () => {
    const { code, out } = await replant(fieldFolder({ "counts.geojson": counts("2026-05-18") }), ...COSTS);
    expect(code).toBe(0);
    const flat = out.replaceAll(/\s+/g, " ");
    for (const caution of REPLANT_CAUTIONS) expect(flat).toContain(caution);
    for (const word of ["adjuster", "labels of the herbicides", "extension office"])
      expect(flat).toContain(word);
    expect(flat.indexOf("adjuster")).toBeLessThan(flat.indexOf("The whole field"));
    expect(flat).toContain("Illinois 1994");
    expect(flat).toContain("Iowa (older table)");
    expect(flat).toContain("the published tables differ by");
    expect(flat).toContain("replanting on 2026-05-28: 10 days after the last count");
  });

  it("gives the same figures as JSON: cost, stand, the published shares", async () => {
    const folder = fieldFolder({ "counts.geojson": counts("2026-05-18") });
    const { code, out } = await replant(folder, "--json", "--gaps", "none", "--on", "2026-05-30", ...COSTS);
    expect(code).toBe(0);
    const plan = JSON.parse(out) as ReplantPlan;
    // 12 + 18.50 + 34,000 seeds at 3.75 USD a thousand.
    expect(plan.settings.costPerAcre).toBeCloseTo(12 + 18.5 + 34 * 3.75, 9);
    expect(convert(plan.settings.replantStandPerHa, "plants/ha", "plants/ac")).toBeCloseTo(0.925 * 34_000, 6);
    const [field] = plan.places;
    expect(field).toMatchObject({ id: "field", counts: 4 });
    // Counts of 17, 18, 17, 18 plants on a thousandth of an acre.
    expect(convert(field!.standPerHa.estimate, "plants/ha", "plants/ac")).toBeCloseTo(17_500, 0);
    expect(field!.standPerHa.low).toBeLessThan(field!.standPerHa.estimate);
    expect(field!.byTable.map(({ table }) => table)).toHaveLength(3);
    // 17,500 plants/ac: 87 % in the rows of both Apr 25 and Apr 30 of the 1994 table.
    expect(field!.byTable[0]!.keepShare!).toBeCloseTo(0.87, 5);
    expect(plan.field).toEqual({
      name: "Small Field",
      crop: "corn",
      planted: "2026-04-28",
      replanted: "2026-05-30",
    });
  });

  it("names the costs left blank and counts them as nothing", async () => {
    const folder = fieldFolder({ "counts.geojson": counts("2026-05-18") });
    const { out } = await replant(folder, "--json");
    const plan = JSON.parse(out) as ReplantPlan;
    expect(plan.settings.costs).toMatchObject({ destroy: null, plant: null, insurance: null });
    expect(plan.notes.join(" ")).toContain("destroying the stand (--destroy-cost), planting (--plant-cost)");
  });

  it("takes a stand, prices and the insurer's payment from the command line", async () => {
    const folder = fieldFolder({
      "field.json": { ...SMALL_MANIFEST, planted: "2026-04-28", standCounts: undefined },
      "counts.geojson": null,
    });
    const argv = ["--json", "--on", "2026-05-20", "--stand", "12000 plants/ac", "--grain", "4.50 USD/bu"];
    const more = ["--expected-yield", "200 bu/ac", "--seed-cost", "40 USD/ac", "--insurance", "30 USD/ac"];
    const { code, out, err } = await replant(folder, ...argv, ...more, ...COSTS);
    expect(err).toBe("");
    expect(code).toBe(0);
    const plan = JSON.parse(out) as ReplantPlan;
    expect(plan.settings.costPerAcre).toBeCloseTo(12 + 18.5 + 40 - 30, 9);
    expect(plan.places[0]!.byTable[0]!.verdict).toBe("replant");
  });

  it.each([
    [["--on", "28 May"], 2, "--on"],
    [["--destroy-cost", "12 per acre"], 2, "--destroy-cost"],
    [["--destroy-cost", "12 EUR/ac"], 2, "EUR"],
    [["--stand", "many"], 2, "--stand"],
    [["--stand", "1e308 plants/ac"], 2, "0 plants/ac to 4,046,856 plants/ac"],
    [["--replant-stand", "-5 plants/ac"], 2, "0 plants/ac to 4,046,856 plants/ac"],
    [["--plant-cost", `${"9".repeat(400)} USD/ac`], 2, "up to 1000000000 is accepted"],
    [["--gaps", "huge"], 2, "unknown, none, small, large"],
    [["--on", "2026-04-01"], 3, "is not after the planting on 2026-04-28"],
  ])("refuses %o", async (argv, exitCode, says) => {
    const { code, err } = await replant(fieldFolder({ "counts.geojson": counts("2026-05-18") }), ...argv);
    expect(code).toBe(exitCode);
    expect(err).toContain(says);
  });

  it("asks for a date where the counts have none: there is no clock", async () => {
    const { code, err } = await replant(fieldFolder({ "counts.geojson": counts(null) }));
    expect(code).toBe(3);
    expect(err).toContain("give --on");
  });

  it("asks for a stand where nobody counted, and refuses a crop without a table", async () => {
    const bare = { ...PRICED, standCounts: undefined };
    const none = await replant(
      fieldFolder({ "field.json": bare, "counts.geojson": null }),
      "--on",
      "2026-05-20",
    );
    expect(none.code).toBe(3);
    expect(none.err).toContain("--stand");
    const other = await replant(
      fieldFolder({ "field.json": { ...PRICED, prices: undefined, crop: "other" } }),
      "--on",
      "2026-05-20",
    );
    expect(other.code).toBe(3);
    expect(other.err).toContain("corn and soybean only");
  });

  it("weighs soybeans by their own table", async () => {
    const crop = {
      ...PRICED,
      crop: "soybean",
      targets: { population: "140000 seeds/ac" },
      prices: { grain: "10.50 USD/bu", expectedYield: "60 bu/ac" },
    };
    const argv = ["--json", "--on", "2026-06-10", "--stand", "70000 plants/ac", ...COSTS];
    const { code, out } = await replant(fieldFolder({ "field.json": crop }), ...argv);
    expect(code).toBe(0);
    const [field] = (JSON.parse(out) as ReplantPlan).places;
    expect(field!.byTable.map(({ table }) => table)).toEqual([
      "soybean stand and planting date, extension figures",
    ]);
    expect(field!.byTable[0]!.replantShare).toBeCloseTo(0.88, 10);
    expect(field!.notes.join(" ")).toContain("40 %");
  });
});
