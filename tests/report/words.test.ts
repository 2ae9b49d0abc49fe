import { describe, expect, it } from "vitest";
import type { Draft } from "../../src/causes/draft.ts";
import { CAUSE_DEFINITIONS } from "../../src/causes/evidence/cause-definitions.ts";
import type { Remedy } from "../../src/causes/evidence/remedies.ts";
import type { Finding, MeasuredKey } from "../../src/findings/findings-document.ts";
import { writingIn } from "../../src/texts/language.ts";
import { textsOf } from "../../src/texts/texts-of.ts";
import { type Basis, CAUSES, type Cause, type FindingKind } from "../../src/vocabulary/causes.ts";
import { causeName } from "../../src/words/cause-names.ts";
import {
  cautionWords,
  checkWords,
  measuredWords,
  otherwiseWords,
  placeWords,
  runsOf,
  seenWords,
  titleWords,
} from "../../src/words/finding-words.ts";
import { remedyWords } from "../../src/words/remedy-words.ts";
import { losses } from "../causes/support/parts.ts";

const KINDS: FindingKind[] = ["area", "pass", "row-unit", "section", "soil-zone", "field"];
const BASES: Basis[] = ["counted", "predicted", "cleared"];
/** Causes of a reading of single units: never of ground as a whole. */
const OF_UNITS: Cause[] = ["sensor-fault", "worn-row-unit"];

const MEASURED: Finding["measured"] = {
  seedingDepthMm: { inside: 36.1, elsewhere: 49.5, target: 50.8 },
  depthSdMm: { inside: 9.2, elsewhere: 5, target: null },
  downForceMarginN: { inside: 92, elsewhere: 480, target: [267, 712] },
  downForceMarginP10N: { inside: 0, elsewhere: 300, target: null },
  noLoadShare: { inside: 0.16, elsewhere: 0, target: null },
  speedMetresPerSecond: { inside: 3.6, elsewhere: 2.4, target: 2.37 },
  missesShare: { inside: 0.05, elsewhere: 0.015, target: null },
  singulationShare: { inside: 0.94, elsewhere: 0.98, target: null },
  multiplesShare: { inside: 0.01, elsewhere: 0.008, target: null },
  populationPerHa: { inside: 79_000, elsewhere: 83_000, target: 84_016 },
  standPerHa: { inside: 69_900, elsewhere: 78_800, target: null },
  lateShare: { inside: 0.22, elsewhere: 0.03, target: null },
  dugDepthMm: { inside: 37, elsewhere: 50, target: 50.8 },
};

function draftOf(cause: Cause, kind: FindingKind, basis: Basis, changes: Partial<Draft> = {}): Draft {
  const byRow = kind === "row-unit" || kind === "section";
  return {
    cause,
    probability: cause === "undetermined" ? 0 : 0.8,
    alternatives:
      cause === "undetermined"
        ? [
            { cause: "misses", probability: 0.5 },
            { cause: "soil-or-weather", probability: 0.5 },
          ]
        : [
            { cause: cause === "misses" ? "too-deep" : "misses", probability: 0.15 },
            { cause: "undetermined", probability: 0.05 },
          ],
    kind,
    basis,
    detail: null,
    pValue: 0.01,
    polygons: [],
    areaM2: 5000,
    inside: new Uint8Array(0),
    passes: kind === "pass" ? [4, 5, 6, 9] : [],
    rowUnits: byRow ? (kind === "section" ? [5, 6, 7, 12] : [17]) : [],
    soilZones: ["clay loam"],
    ground: "damp",
    predicted: losses(),
    deficit: null,
    spots: [],
    digs: [],
    departure: byRow ? { variable: "seedingDepth", shift: -17, from: 1, to: 9, ofPasses: 9 } : null,
    ...changes,
  };
}

function remedyOf(draft: Draft): Remedy {
  return CAUSE_DEFINITIONS[draft.cause].remedy({
    kind: draft.kind,
    ground: draft.ground,
    targets: {
      seedingDepthMm: 50.8,
      populationPerHa: 84_016,
      downForceMarginN: [267, 712],
      speedMetresPerSecond: 2.37,
    },
    marginN: 92,
    depthMm: 36.1,
    speedMetresPerSecond: 3.6,
    populationPerHa: 79_000,
    wantedPerHa: 84_016,
    missesShare: 0.05,
    usual: { depthMm: 49.5, speedMetresPerSecond: 2.4, populationPerHa: 83_000, missesShare: 0.015 },
  });
}

function wordsOf(draft: Draft, system: "farm" | "metric" = "farm") {
  return {
    title: titleWords(draft),
    check: checkWords(draft),
    caution: cautionWords(draft),
    otherwise: otherwiseWords(draft),
    remedy: remedyWords(draft, remedyOf(draft), writingIn(system)),
    place: placeWords(draft, "north side", "2026-04-24", 40),
    seen: seenWords(draft, MEASURED, [{ sign: "smeared wall", seen: 2, looked: 3 }], writingIn(system)),
  };
}

const everyDraft = CAUSES.flatMap((cause) =>
  KINDS.filter((kind) => !OF_UNITS.includes(cause) || kind === "row-unit" || kind === "section").flatMap(
    (kind) => BASES.map((basis) => draftOf(cause, kind, basis)),
  ),
);

function expectClean(text: string, where: string): void {
  expect(text.length, where).toBeGreaterThan(3);
  expect(text, where).not.toMatch(/undefined|null|NaN|Infinity|\[object/);
  // No hole where a figure or a number belongs, no dangling separator.
  expect(text, where).not.toMatch(/ {2}|\s[.,:;)]|\(\s|,\s*$|:\s*$/);
}

describe("every cause of every kind and basis", () => {
  it("has a title, a check, a caution, a remedy, a place and the rest, without a hole", () => {
    for (const draft of everyDraft) {
      for (const system of ["farm", "metric"] as const) {
        const { seen, ...texts } = wordsOf(draft, system);
        const where = `${draft.cause} ${draft.kind} ${draft.basis}`;
        for (const [name, text] of Object.entries(texts)) expectClean(text, `${where} ${name}`);
        expect(seen.length, where).toBeGreaterThan(0);
        for (const line of seen) expectClean(line, where);
      }
    }
  });

  it("has sentences that begin and end as sentences do", () => {
    for (const draft of everyDraft) {
      const { check, caution, remedy, otherwise } = wordsOf(draft);
      for (const text of [check, caution, remedy, otherwise]) expect(text).toMatch(/^[A-Z].*\.$/);
    }
  });

  it("warns wherever a machine is touched, and about treated seed wherever one digs", () => {
    const noMachine = ["watch-the-ground", "dig-and-compare"];
    for (const draft of everyDraft) {
      const { caution } = wordsOf(draft);
      expect(caution).toMatch(/gloves/);
      expect(caution).toMatch(/label/);
      if (noMachine.includes(remedyOf(draft).code)) continue;
      for (const word of ["operator's manual", "block", "stop the engine", "hydraulic pressure"])
        expect(caution, draft.cause).toContain(word);
    }
  });

  it("defers to the insurer's adjuster and local rules before a stand is worked", () => {
    const caution = cautionWords(draftOf("soil-or-weather", "area", "counted", { detail: "crust" }));
    expect(caution).toContain("insurer's adjuster");
    expect(caution).toContain("local rules");
  });

  it("names the rows it speaks of", () => {
    for (const draft of everyDraft.filter(
      ({ kind, cause }) => kind === "row-unit" && cause !== "undetermined",
    ))
      expect(titleWords(draft), draft.cause).toMatch(/17/);
  });
});

describe("a remedy says no more than is known", () => {
  const remedyText = (draft: Draft) => remedyWords(draft, remedyOf(draft), writingIn("farm"));

  it("a sensor is proved wrong only where something was counted or dug", () => {
    const text = (basis: Basis) => remedyText(draftOf("sensor-fault", "row-unit", basis));
    expect(text("cleared")).toContain("shows no harm");
    expect(text("predicted")).toContain("nothing was counted or dug");
    expect(text("predicted")).not.toContain("nothing wrong");
  });

  it("ground is called damp only where it was", () => {
    for (const ground of ["damp", "fit", "dry"] as const) {
      const text = remedyText(draftOf("excess-down-force", "area", "counted", { ground }));
      expect(/damp|dry first/.test(text)).toBe(ground === "damp");
    }
  });

  it("light wheels: of one unit, of a section, on some ground, over the whole field", () => {
    const text = (kind: FindingKind) => remedyText(draftOf("lost-ground-contact", kind, "counted"));
    expect(text("row-unit")).toContain("Row unit 17");
    expect(text("section")).toContain("rows 5-7, 12");
    expect(text("area")).toContain("One setting for the whole field cannot do that");
    expect(text("field")).toContain("over the whole field");
    expect(text("field")).not.toContain("cannot");
  });
});

describe("names", () => {
  it("each cause has its own title, phrase and definition", () => {
    for (const part of ["title", "phrase", "definition"] as const) {
      const texts = CAUSES.map((cause) => causeName(cause, "en")[part]);
      for (const text of texts) expectClean(text, part);
      expect(new Set(texts).size).toBe(CAUSES.length);
    }
    for (const text of Object.values(textsOf("en").causeDetails)) expectClean(text, "detail");
  });

  it("a detail shown by digs names the finding", () => {
    expect(titleWords(draftOf("soil-or-weather", "area", "counted", { detail: "crust" }))).toBe(
      textsOf("en").causeDetails.crust,
    );
  });

  it("undetermined names the two likeliest, and what it could be with its share", () => {
    const draft = draftOf("undetermined", "area", "counted");
    expect(titleWords(draft)).toContain(causeName("misses", "en").phrase);
    expect(titleWords(draft)).toContain(causeName("soil-or-weather", "en").phrase);
    expect(otherwiseWords(draft)).toBe(
      `Could be: ${causeName("misses", "en").phrase} 50 %, ${causeName("soil-or-weather", "en").phrase} 50 %.`,
    );
  });
});

describe("what was seen", () => {
  it("says the figure here, elsewhere and aimed at, in the reader's units", () => {
    const draft = draftOf("lost-ground-contact", "area", "counted");
    // 92 N = 20.7 lbf, 480 N = 107.9 lbf, 267 and 712 N = 60 and 160 lbf.
    expect(seenWords(draft, MEASURED, [], writingIn("farm"))[0]).toBe(
      "gauge-wheel load: 21 lb here, 108 lb elsewhere (aim 60 lb to 160 lb)",
    );
    expect(seenWords(draft, MEASURED, [], writingIn("metric"))[0]).toBe(
      "gauge-wheel load: 90 N here, 480 N elsewhere (aim 270 N to 710 N)",
    );
  });

  it("passes over what the place or the log does not have", () => {
    const draft = draftOf("lost-ground-contact", "area", "predicted");
    const only = { downForceMarginN: { inside: 92, elsewhere: null, target: null } };
    expect(seenWords(draft, only, [], writingIn("farm"))).toEqual(["gauge-wheel load: 21 lb here"]);
    expect(
      seenWords(
        draft,
        { downForceMarginN: { inside: null, elsewhere: 480, target: null } },
        [],
        writingIn("farm"),
      ),
    ).toEqual([]);
  });

  it("every measured figure has a name and a kind", () => {
    for (const key of Object.keys(MEASURED) as MeasuredKey[]) expectClean(measuredWords(key).name, key);
  });

  it("what planting does not explain shows what is as elsewhere, and what departs all the same", () => {
    const alike = { inside: 50, elsewhere: 51, target: null };
    const measured = {
      seedingDepthMm: { inside: 30, elsewhere: 50, target: null },
      speedMetresPerSecond: { ...alike, elsewhere: 50 },
      populationPerHa: alike,
    };
    expect(seenWords(draftOf("soil-or-weather", "area", "counted"), measured, [], writingIn("farm"))).toEqual(
      ["the log is as elsewhere here: speed and rate", "seeding depth: 1.18 in here, 1.97 in elsewhere"],
    );
  });
});

describe("the place", () => {
  it("runs of passes are written as runs", () => {
    expect(runsOf([13, 12, 14, 18, 15])).toBe("12-15, 18");
    expect(runsOf([3])).toBe("3");
    expect(runsOf([])).toBe("");
    expect(placeWords(draftOf("excess-speed", "pass", "counted"), "west side", null, 40)).toBe(
      "clay loam, west side, passes 4-6, 9",
    );
  });

  it("a row unit in every pass, or in some of them", () => {
    const draft = draftOf("too-shallow", "row-unit", "counted", { soilZones: [] });
    expect(placeWords(draft, "middle of the field", null, 40)).toBe("in every pass");
    expect(placeWords({ ...draft, passes: [1, 2, 3] }, "middle of the field", "2026-04-24", 40)).toBe(
      "in 3 of 40 passes, planted 2026-04-24",
    );
  });
});
