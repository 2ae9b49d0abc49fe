/** What the document says of few counts, of spacings, of disagreeing tables and of what a remedy is worth. */
import { describe, expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { prices } from "../../src/manifest/manifest-quantities.ts";
import { REMEDY_CODES } from "../../src/vocabulary/remedy-codes.ts";
import { ledgerText } from "../../src/words/ledger-text.ts";
import { analysed, isLight } from "../support/light-field.ts";
import { collection, degrees, point, SMALL_MANIFEST } from "../support/small-field.ts";

const PRICED = {
  ...SMALL_MANIFEST,
  planted: "2026-04-28",
  prices: {
    grain: "4.50 USD/bu",
    expectedYield: "200 bu/ac",
    remedies: Object.fromEntries(REMEDY_CODES.map((code) => [code, "100 USD"])),
  },
};

/** Counts on a grid of the field, a thousandth of an acre each; fewer plants where the wheels ran light. */
function counts(across: number, along: number, lightPlants: number, more: object = {}) {
  const spots = [...Array(across * along).keys()].map((k) => {
    const place = degrees(
      ((k % across) + 0.5) * (182 / across),
      (Math.floor(k / across) + 0.5) * (300 / along),
    );
    const plants = (isLight(place) ? lightPlants : 32) + ((k * 7) % 3) - 1;
    return point(place, { PLANTS: plants, ROW_LENGTH_FT: 17.424, ...(k === 0 ? more : {}) });
  });
  return collection(spots);
}

describe("few counts", () => {
  const whatOf = async (across: number, along: number) => {
    const { document } = await analysed({ "counts.geojson": counts(across, along, 24) }, SMALL_MANIFEST);
    return document.summary.notJudged.find(({ what }) => what.includes("short of plants"));
  };
  it("eight settle the mean of the field and not where it is short", async () => {
    const said = await whatOf(2, 4);
    expect(said!.what).toBe("places short of plants");
    expect(said!.why).toMatch(/^8 counts settle the mean stand of the field, [\d,]+ plants\/ac \([\d,]+/);
    expect(said!.why).toContain("takes 12 counts or more");
    expect(said!.why).toContain("evenstand scout");
  });
  it("twelve show only a large place, and say how large", async () => {
    const said = await whatOf(3, 4);
    expect(said!.what).toBe("small places short of plants");
    expect(said!.why).toMatch(/shows only if it is short by about \d+ % or more/);
  });
  it("one tells nothing of the field; thirty need no warning", async () => {
    expect((await whatOf(1, 1))!.why).toContain("nothing of the field");
    expect(await whatOf(5, 6)).toBeUndefined();
  });
});

describe("doubtful counts", () => {
  const fullNotesOf = async (file: object, more: Record<string, unknown> = {}, manifest = {}) => {
    const { document } = await analysed({ "counts.geojson": file, ...more }, { ...PRICED, ...manifest });
    return document.inputs.find(({ role }) => role === "standCounts")!.notes;
  };
  const notesOf = async (...asked: Parameters<typeof fullNotesOf>) =>
    (await fullNotesOf(...asked)).map(({ reason }) => reason);
  it("with more plants than seeds, before emergence, or of one spot twice are kept and flagged", async () => {
    const file = counts(3, 4, 31, { DATE: "2026-05-02" }) as { features: object[] };
    const many = { ...file, features: [...file.features, file.features[3]!] };
    (many.features[5] as { properties: { PLANTS: number } }).properties.PLANTS = 44;
    const days = [...Array(30).keys()].map(
      (k) => `${new Date(Date.UTC(2026, 3, 25 + k)).toISOString().slice(0, 10)},0,8,20`,
    );
    const weather = ["date,rain_mm,tmin_c,tmax_c", ...days].join("\n");
    const reasons = (
      await notesOf(many, { "weather.csv": weather }, { weather: { file: "weather.csv" } })
    ).join("\n");
    expect(reasons).toContain("more plants counted than seeds dropped there");
    expect(reasons).toContain("before the last planted rows were to be up");
    expect(reasons).toContain("two counts of one spot");
  });
  /** Stands as written, plants/ac, on a grid of the field. */
  const written = (stands: readonly number[]) =>
    collection(
      stands.map((STAND_AC, k) =>
        point(degrees(((k % 5) + 0.5) * 36, (Math.floor(k / 5) + 0.5) * 37), { STAND_AC }),
      ),
    );
  const sound = [...Array(36).keys()].map((k) => 31_000 + 250 * ((k * 7) % 9));
  it("in another unit than the others are left out, with value and record", async () => {
    // 31,400 plants/ac are 77,600 plants/ha, and 31 plants on a thousandth of an acre.
    const notes = await fullNotesOf(written([...sound, 77_600, 31, 0, 15_000]));
    const other = notes.filter(({ reason }) => reason.includes("in the unit of the other counts"));
    expect(other).toHaveLength(1);
    expect(other[0]).toMatchObject({ count: 2, effect: "left out", firstRecord: 37, field: "STAND_AC" });
    // 77,600 plants/ac x 2.47105 ac/ha.
    expect(other[0]!.value).toBe("191,754 plants/ha");
    expect(other[0]!.reason).toContain("write every count in one unit");
  });
  it("that look like plants/ac among plants/ha are kept and flagged, a poor place that goes down by steps is not", async () => {
    const like = (notes: { reason: string }[]) =>
      notes.filter(({ reason }) => reason.includes("plants/ac among"));
    const gap = await fullNotesOf(written([...sound, 12_900, 13_000, 12_700]));
    expect(like(gap)).toHaveLength(1);
    expect(like(gap)[0]).toMatchObject({ count: 3, effect: "kept" });
    expect(like(await fullNotesOf(written([...sound, 12_900, 13_000, 12_700, 16_000])))).toEqual([]);
  });
  it("outside the planted ground are left out, and told", async () => {
    const file = counts(3, 4, 31) as { features: object[] };
    const away = point(degrees(-400, 100), { PLANTS: 30, ROW_LENGTH_FT: 17.424 });
    const notes = await fullNotesOf({ ...file, features: [...file.features, away] });
    const off = notes.find(({ reason }) => reason.includes("no planted ground"));
    expect(off).toMatchObject({ count: 1, effect: "left out", value: "spot 13 of those read" });
  });
  it("are not seen in ordinary ones", async () => {
    expect((await notesOf(counts(3, 4, 31))).join("\n")).not.toMatch(
      /more plants|were to be up|one spot|no planted ground|other counts/,
    );
  });
});

describe("measured spacings", () => {
  // Worked by hand (20 spacings, 7.0 in wanted): regions 2, 15, 1, 1, 1; the counting rules are from memory.
  const LIST =
    "7.2 6.6 7.0 14.1 6.4 1.2 7.9 5.8 8.3 7.1 6.9 20.5 7.4 2.8 6.0 7.6 8.8 7.3 25.2 6.7".replaceAll(
      " ",
      "; ",
    );
  it("are judged by both rules, each named", async () => {
    const manifest = {
      ...SMALL_MANIFEST,
      // 6,272,640 / (7.0 in x 30 in): the population whose spacing is 7.0 in.
      targets: { ...SMALL_MANIFEST.targets, population: `${6_272_640 / 210} seeds/ac` },
    };
    const file = counts(3, 4, 24, { SPACINGS_IN: LIST });
    const { document } = await analysed({ "counts.geojson": file }, manifest);
    const { spacing } = document.summary;
    expect(spacing).toMatchObject({ spots: 1, spacings: 20 });
    expect(spacing!.theoreticalMm).toBeCloseTo(7 * 25.4, 3);
    expect(spacing!.bySpacings).toEqual({ multiples: 0.1, singles: 0.75, misses: 0.15 });
    expect(spacing!.bySeeds.multiples).toBeCloseTo(0.08333, 4);
    expect(spacing!.bySeeds.singles).toBeCloseTo(0.66667, 4);
    expect(spacing!.bySeeds.misses).toBeCloseTo(0.25, 4);
    expect(spacing!.precision).toBeCloseTo(0.115764, 5);
    expect(spacing!.sdMm! / 25.4).toBeCloseTo(5.51175, 4);
    expect(spacing!.words).toContain("Kachman & Smith 1995");
    expect(spacing!.words).toContain("ISO 7256-1");
    const text = ledgerText(document, { width: 200, emphasise: (line) => line });
    expect(text).toContain("20 plant spacings at 1 spot");
  });
  it("are null where nobody measured any", async () => {
    const { document } = await analysed({ "counts.geojson": counts(3, 4, 24) }, SMALL_MANIFEST);
    expect(document.summary.spacing).toBeNull();
  });
});

describe("money", () => {
  it("says where the published tables disagree, and whether the remedy pays at the user's cost", async () => {
    const { document } = await analysed({ "counts.geojson": counts(6, 8, 17) }, PRICED);
    const place = document.findings.find(({ basis }) => basis === "counted")!;
    expect(place.loss.notes.join(" ")).toMatch(
      /the published tables disagree here: \d+ % less yield by stand by planting date, Iowa \(older table\)/,
    );
    const { worth } = place.remedy;
    expect(worth).toMatchObject({ cost: 100, currency: "USD", verdict: "pays within a year" });
    expect(worth!.years!.estimate).toBeCloseTo(100 / place.loss.money!.estimate, 9);
    expect(place.loss.money!.low).toBeGreaterThan(100);
    const text = ledgerText(document, { width: 200, emphasise: (line) => line });
    expect(text).toContain("Worth fixing before next spring? At USD 100 it pays within a year");
    expect(document.summary.notJudged.map(({ what }) => what)).not.toContain("whether mending pays");
  });

  it("says where one study alone makes another loss of the late plants than all together", async () => {
    const file = counts(6, 8, 17) as { features: { properties: object }[] };
    for (const { properties } of file.features) {
      const { PLANTS } = properties as { PLANTS: number };
      Object.assign(properties, { LATE_PLANTS: PLANTS < 25 ? 0.72 * PLANTS : 0, LEAVES_BEHIND: 2 });
    }
    const { document } = await analysed({ "counts.geojson": file }, PRICED);
    const place = document.findings.find(({ basis }) => basis === "counted")!;
    expect(place.stand.lateShare!.inside).toBeCloseTo(0.72, 1);
    // Nafziger, Carter & Graham 1991: about 7.6 % at three quarters 10-12 days late; the median of the studies says 12.
    expect(place.loss.notes.join(" ")).toMatch(
      /the studies of late plants disagree here: 8 % less yield by Nafziger, Carter & Graham 1991, .* alone, 12 %/,
    );
  });

  it("is silent on small losses, where the tables agree, and makes up no cost", async () => {
    const { remedies: _, ...plain } = PRICED.prices;
    const { document } = await analysed({ "counts.geojson": counts(6, 8, 29) }, { ...PRICED, prices: plain });
    for (const { loss, remedy } of document.findings) {
      expect(loss.notes.join(" ")).not.toContain("disagree here");
      expect(remedy.worth?.verdict ?? "unknown").toBe("unknown");
      expect(remedy.worth?.cost ?? null).toBeNull();
    }
    expect(document.summary.notJudged.map(({ what }) => what)).toContain("whether mending pays");
  });

  it("prices the seed of a wrong rate apart from the yield", async () => {
    const changes = { "counts.geojson": counts(3, 4, 32) };
    const log = (await import("../support/small-field.ts")).plantingLog();
    for (const { properties } of log.features as ReturnType<typeof Object>[]) properties.SEEDS_AC = 37_400;
    const manifest = { ...PRICED, prices: { ...PRICED.prices, seed: "3.75 USD/1000" } };
    const { document } = await analysed({ ...changes, "planting.geojson": log }, manifest);
    const rate = document.findings.find(({ cause }) => cause === "rate-off-target")!;
    // 3,400 seeds/ac too many at 3.75 USD a thousand: 12.75 USD/ac.
    const acres = rate.where.areaHa / 0.40468564224;
    expect(rate.loss.seed!.money / acres).toBeCloseTo(12.75, 1);
    expect(rate.loss.notes.join(" ")).toContain("dropped beyond the target");
  });
});

describe("costs of remedies in the manifest", () => {
  const read = (given: object) => prices(parseManifest({ plantingLog: { file: "a" }, prices: given }));
  it("are read for every remedy, in the currency of the other prices", () => {
    const remedies = Object.fromEntries(REMEDY_CODES.map((code, k) => [code, `${k + 1},250 EUR`]));
    expect(read({ grain: "180 EUR/t", remedies }).remedyCosts!["lower-margin"]).toBe(2250);
    expect(read({ remedies }).currency).toBe("EUR");
    expect(read({})).not.toHaveProperty("remedyCosts");
  });
  it("name an unknown remedy, a second currency and what cannot be read", () => {
    expect(() => read({ remedies: { "service-metre": "450 USD" } })).toThrow(/service-meter/);
    expect(() => read({ grain: "4.50 USD/bu", remedies: { "set-rate": "1 EUR" } })).toThrow(/EUR.*USD/);
    expect(() => read({ remedies: { "set-rate": "cheap" } })).toThrow(ManifestError);
  });
});
