import { describe, expect, it } from "vitest";
import type { WantedAnswer } from "../../src/field/wanted-answers.ts";
import type { MeanStand } from "../../src/stand/mean-stand.ts";
import type { ContrastResult } from "../../src/stand-model/contrast.ts";
import { writingIn } from "../../src/texts/language.ts";
import { type HeadlineInput, headline } from "../../src/words/headline.ts";
import { buildField } from "../support/field-builder.ts";
import { findingFixture } from "../support/findings-fixture.ts";

const field = buildField({
  x: new Float64Array(2),
  y: new Float64Array(2),
  values: { downForceMargin: new Float64Array(2), speed: new Float64Array(2) },
});

const share = (estimate: number) => ({ estimate, low: estimate - 0.02, high: estimate + 0.02, level: 0.9 });

function standOf(changes: Partial<MeanStand> = {}): MeanStand {
  return {
    counts: 60,
    perHa: { estimate: 79_000, low: 77_000, high: 81_000, level: 0.9 },
    ofTarget: share(0.94),
    lateShare: null,
    crowded: null,
    speaksForField: true,
    plainPerHa: 79_000,
    ...changes,
  };
}

function contrast(changes: Partial<ContrastResult> = {}): ContrastResult {
  return {
    kind: "soil-zone",
    name: "silty clay",
    against: "the rest of the field",
    counts: 22,
    shortShare: { estimate: 0.21, low: 0.14, high: 0.27, level: 0.9 },
    probability: 0.98,
    pValue: 0.001,
    verdict: "short",
    ...changes,
  };
}

const wantedDepth: WantedAnswer = { key: "seedingDepth", asked: "the target depth", why: "" };
const wantedPrice: WantedAnswer = { key: "grain", asked: "the price of grain", why: "" };

function said(changes: Partial<HeadlineInput> = {}) {
  return headline({
    field,
    findings: [],
    departures: [],
    loadDoubted: false,
    contrasts: [],
    stand: standOf(),
    wanted: [],
    affectedHa: 0,
    areaHa: 15,
    money: null,
    writing: writingIn("farm"),
    ...changes,
  });
}

const FULL = "Tested and even on 37.1 ac: 32,000 plants/ac stand, 94 % of the target.";

describe("a load that cannot be one", () => {
  it("is never called even", () => {
    const open = said({ loadDoubted: true });
    expect(open.form).toBe("unsettled");
    expect(open.sentence).toMatch(
      /^Not enough to say on 37.1 ac: the load that the log carries cannot be one/,
    );
  });
});

describe("tested and even", () => {
  it("says the stand, its share of the target, what was tested and what was not", () => {
    const even = said({
      contrasts: [contrast({ verdict: "tested" }), contrast({ kind: "field", verdict: "tested" })],
    });
    expect(even).toEqual({
      form: "even",
      sentence: `${FULL} Tested with 60 counts: the field against its target, soil zones and single places; in the log gauge-wheel load and speed. Not judged: depth, skips and rate.`,
    });
  });

  it("the log alone says so, and on target only where every target is known", () => {
    expect(said({ stand: null }).sentence).toBe(
      "Log only: gauge-wheel load and speed are even and on target on 37.1 ac; whether the plants stand was not counted. Not judged: depth, skips and rate.",
    );
    const speed: WantedAnswer = { key: "speed", asked: "the target speed", why: "" };
    expect(said({ stand: null, wanted: [speed, wantedPrice] }).sentence).toMatch(
      /^Log only: gauge-wheel load and speed are even on 37.1 ac;/,
    );
  });

  it("never over a field clearly under its target, late all over, or with something that could be short", () => {
    const short = said({ stand: standOf({ ofTarget: share(0.76) }) });
    expect(short.form).toBe("places");
    expect(short.sentence).toMatch(/^The whole field is short: 76 % of its target stands/);
    expect(said({ stand: standOf({ lateShare: share(0.3) }) }).form).toBe("places");
    const open = said({ contrasts: [contrast({ verdict: "could-be", probability: 0.7 })] });
    expect(open.form).toBe("unsettled");
    expect(open.sentence).toContain("Could be: silty clay, 21 % short of the rest of the field");
    // The interval reaches sound ground.
    expect(said({ stand: standOf({ ofTarget: share(0.89) }) }).form).toBe("even");
  });
});

describe("places found", () => {
  it("counted and at risk, with ground and money", () => {
    const findings = [
      findingFixture(),
      findingFixture({ basis: "predicted" }),
      findingFixture({ basis: "cleared" }),
    ];
    expect(said({ findings, affectedHa: 2.1, money: 1312 })).toEqual({
      form: "places",
      sentence:
        "1 place where plants are short and 1 place at risk, from the log only, on 5.2 ac of 37.1 ac, about USD 1,300.",
    });
  });

  it("a soil zone, the whole field and sets of rows are named, each once", () => {
    const zone = findingFixture({
      kind: "soil-zone",
      where: { ...findingFixture().where, soilZones: ["silty clay"] },
    });
    const rows = findingFixture({
      kind: "section",
      where: { ...findingFixture().where, rowUnits: [9, 10, 11, 12] },
    });
    const findings = [zone, rows, findingFixture()];
    expect(said({ findings, contrasts: [contrast()], affectedHa: 4 }).sentence).toBe(
      "Silty clay, 5.2 ac, is 21 % short of the rest of the field; rows 9-12, 5.2 ac, are 12 % short; 1 place where plants are short, on 9.9 ac of 37.1 ac.",
    );
  });

  it("a contrast without a finding is a place found", () => {
    const half = contrast({ kind: "bar-half", name: "the right half of the bar", against: "the left half" });
    expect(said({ contrasts: [half] })).toEqual({
      form: "places",
      sentence: "The right half of the bar is 21 % short of the left half.",
    });
    expect(said({ contrasts: [{ ...half, probability: 0.74 }] }).sentence).toBe(
      "The right half of the bar is probably 21 % short of the left half.",
    );
  });
});

describe("not enough to say", () => {
  it("few counts: the answers and the counts that would tell", () => {
    const few = said({ stand: standOf({ counts: 6 }), wanted: [wantedDepth, wantedPrice] });
    expect(few.form).toBe("unsettled");
    expect(few.sentence).toBe(
      'Not enough to say on 37.1 ac: 6 counts tell how the plants stand where they were made, not where the field is short. This would tell: the target depth and 6 more counts over the field ("evenstand scout" says where).',
    );
  });

  it("counts in one spot, and a log without targets", () => {
    expect(said({ stand: standOf({ speaksForField: false }) }).form).toBe("unsettled");
    const alone = said({ stand: null, wanted: [wantedDepth] });
    expect(alone.form).toBe("unsettled");
    expect(alone.sentence).toContain("depart nowhere from the rest of the field");
    expect(alone.sentence).not.toMatch(/nothing wrong/i);
  });

  it("a log that shows neither depth nor load is not called even", () => {
    const bare = buildField({
      x: new Float64Array(2),
      y: new Float64Array(2),
      values: { population: new Float64Array(2) },
    });
    expect(said({ field: bare, stand: null }).form).toBe("unsettled");
  });
});
