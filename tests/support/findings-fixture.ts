/** An invented findings document that uses every part of the format, for tests of what is made from it. */
import type { Finding, FindingsDocument, MeasuredKey } from "../../src/findings/findings-document.ts";

const MEASURED_KEYS = [
  "seedingDepthMm",
  "depthSdMm",
  "downForceMarginN",
  "downForceMarginP10N",
  "noLoadShare",
  "speedMetresPerSecond",
  "missesShare",
  "singulationShare",
  "multiplesShare",
  "populationPerHa",
  "standPerHa",
  "lateShare",
  "dugDepthMm",
] as const satisfies readonly MeasuredKey[];

const EMERGENCE: FindingsDocument["summary"]["emergence"] = {
  days: [
    {
      planted: "2026-04-24",
      expected: "2026-05-08",
      earliest: "2026-05-06",
      latest: null,
      degreeDaysF: { low: 100, estimate: 132.5, high: 175 },
      basis: "soil",
      lowestSoilC: 9.1,
      coldStart: true,
      coldPasses: { cold: 3, of: 12 },
      rainMm: 40,
      heaviestRain: { date: "2026-05-03", rainMm: 31, beating: true },
      words: "Planted 2026-04-24: emergence to be expected about 2026-05-08.",
    },
  ],
  flagTests: {
    spots: 2,
    plants: 60,
    lateShareByDays: 0.1,
    lateShareByDegreeDays: null,
    definitions: { byDays: "one study", byDegreeDays: "another" },
    words: "Flag tests, 60 plants at 2 spots.",
  },
  rain: [
    {
      soilZone: "clay loam",
      rainFrom: "2026-04-26T03:00",
      rainTo: "2026-04-26T09:00",
      rainMm: 12,
      timedBy: "hour",
      shareOf: "seeds",
      before: { share: 0.92, counts: 6, passes: 4 },
      after: { share: 0.85, counts: 5, passes: 3 },
      difference: -0.07,
      low: -0.15,
      high: 0.01,
      level: 0.95,
      leftOut: 3,
      words: "clay loam, planted before and after 0.47 in of rain.",
    },
  ],
};

const SHARES = { multiples: 0.1, singles: 0.75, misses: 0.15 };
const SPACING: FindingsDocument["summary"]["spacing"] = {
  spots: 1,
  spacings: 20,
  theoreticalMm: 177.8,
  meanMm: 216.9,
  sdMm: 140,
  precision: 0.116,
  bySpacings: SHARES,
  bySeeds: SHARES,
  rules: { bySpacings: "one rule", bySeeds: "another" },
  words: "20 plant spacings at 1 spot.",
};

const MONEY = { estimate: 400, low: 100, high: 900, level: 0.9, currency: "USD" };
const MONEY_BY: FindingsDocument["summary"]["moneyBy"] = {
  soilZones: [{ of: "clay loam", areaHa: 2, money: MONEY }],
  rowUnits: [{ of: "7", areaHa: 0.1, money: MONEY }],
};

const STAND: FindingsDocument["summary"]["stand"] = {
  counts: 24,
  perHa: { estimate: 74_000, low: 72_000, high: 76_000, level: 0.9 },
  ofTarget: { estimate: 0.88, low: 0.857, high: 0.905, level: 0.9 },
  lateShare: { estimate: 0.08, low: 0.05, high: 0.11, level: 0.9 },
  clustered: false,
  words: "29,900 plants/ac stand, 88 % of the target.",
};

const CONTRASTS: FindingsDocument["summary"]["contrasts"] = [
  {
    kind: "soil-zone",
    name: "silty clay",
    against: "the rest of the field",
    counts: 22,
    shortShare: { estimate: 0.21, low: 0.14, high: 0.27, level: 0.9 },
    probability: 0.99,
    pValue: 0.001,
    verdict: "short",
    words: "Silty clay is 21 % short of the rest of the field",
  },
  {
    kind: "direction",
    name: "planted northwards",
    against: "planted southwards",
    counts: 3,
    shortShare: null,
    probability: 0.02,
    pValue: null,
    verdict: "too-few",
    words: "Too few counts",
  },
];

const REPLANT: FindingsDocument["summary"]["replant"] = {
  name: "Field",
  crop: "corn",
  planted: "2026-04-24",
  lastCounted: "2026-05-20",
  populationPerHa: 84_000,
  standPerHa: { estimate: 70_000, low: 68_000, high: 72_000, counts: 20 },
  late: { share: 0.1, leafStagesBehind: 2 },
  prices: { grainPerBushel: 4.5, expectedBushelPerAcre: 200, seedPer1000: 3.75, currency: "USD" },
};

/** A finding with everything known; `changes` replace parts of it. */
export function findingFixture(changes: Partial<Finding> = {}): Finding {
  return {
    id: "F1",
    kind: "area",
    cause: "lost-ground-contact",
    detail: null,
    basis: "counted",
    probability: 0.93,
    pValue: 0.003,
    alternatives: [
      { cause: "soil-or-weather", probability: 0.05 },
      { cause: "too-shallow", probability: 0.02 },
    ],
    where: {
      geometry: {
        type: "MultiPolygon",
        coordinates: [
          [
            // Outer ring clockwise and hole counter-clockwise: both the wrong way round on purpose.
            [
              [-93.61, 42.01],
              [-93.61, 42.02],
              [-93.6, 42.02],
              [-93.6, 42.01],
              [-93.61, 42.01],
            ],
            [
              [-93.608, 42.012],
              [-93.606, 42.012],
              [-93.606, 42.0140000012],
              [-93.608, 42.012],
            ],
          ],
        ],
      },
      areaHa: 2.1,
      passes: [4, 5],
      logPasses: ["4", "5"],
      rowUnits: [],
      soilZones: ["clay loam"],
    },
    measured: Object.fromEntries(
      MEASURED_KEYS.map((key) => [
        key,
        key === "downForceMarginN"
          ? { inside: 92, elsewhere: 480, target: [267, 712] }
          : { inside: 0.5, elsewhere: null, target: null },
      ]),
    ),
    stand: {
      deficitShare: { estimate: 0.12, low: 0.08, high: 0.16, level: 0.9 },
      lateShare: { inside: 0.22, elsewhere: 0.04, target: null },
      counts: 9,
      digs: 1,
    },
    loss: {
      yieldShare: { estimate: 0.07, low: 0.04, high: 0.1, level: 0.9 },
      money: { estimate: 1312, low: 184, high: 1440, level: 0.9, currency: "USD" },
      seed: { money: 45, seeds: 12_000, currency: "USD" },
      notes: [],
    },
    remedy: {
      code: "raise-margin",
      parameter: "downForceMargin",
      from: 92,
      to: 450,
      unit: "N",
      text: "Carry more load on this ground.",
      worth: {
        verdict: "may pay within a year",
        years: { estimate: 0.5, low: 0.3, high: 2.4 },
        note: "supposes the same loss every year",
        cost: 450,
        currency: "USD",
        words: "Worth fixing before next spring? At USD 450 it may pay within a year.",
      },
    },
    words: {
      title: "Gauge wheels running light",
      place: "clay loam, north-east side",
      seen: ["gauge-wheel load: 21 lb here, 108 lb elsewhere (aim 60 lb to 160 lb)"],
      otherwise: "Could also be: soil or weather 5 %.",
      check: "Dig ten seeds here.",
      caution: "Follow the operator's manual.",
    },
    ...changes,
  };
}

export function documentFixture(findings: Finding[] = [findingFixture()]): FindingsDocument {
  return {
    schema: "evenstand/findings/1",
    field: { name: "Test Field", season: 2026, crop: "corn", planted: "2026-04-24", areaHa: 34.2 },
    settings: { seed: 1 },
    inputs: [
      {
        role: "plantingLog",
        file: "planting.zip",
        sha256: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        records: 100,
        used: 99,
        leftOut: 1,
        notes: [
          {
            reason: "not a number",
            effect: "left out",
            count: 1,
            field: "DEPTH_IN",
            firstRecord: 17,
            value: "*****",
          },
        ],
      },
    ],
    summary: {
      affectedHa: findings.length > 0 ? 2.1 : 0,
      nothingFoundHa: findings.length > 0 ? 32.1 : 34.2,
      notJudged: [{ what: "singulation", why: "the log has no such column" }],
      sentence: findings.length > 0 ? "One place falls short." : "Tested and even.",
      form: findings.length > 0 ? "places" : "even",
      wanted: [{ key: "speed", asked: "the target speed", why: "it does not show" }],
      stand: STAND,
      contrasts: CONTRASTS,
      money: null,
      moneyBy: MONEY_BY,
      ground: {
        plantedHa: 34.1,
        overlapHa: 0.4,
        skippedHa: 0.1,
        within: "boundary",
        judgedHa: 34.1,
        placedShare: 1,
        wayTimesWidthHa: 34.5,
        wayTimesSpacingHa: 34.2,
        widthM: 18.29,
        spacingM: 18.2,
        inDoubt: false,
        replanted: null,
        machines: [],
      },
      drivers: [
        {
          variable: "seedingDepth",
          unit: "mm",
          driver: "speed",
          contrast: "1 m/s faster",
          effect: -3,
          low: -4,
          high: -2,
          level: 0.95,
          passes: 30,
          words: "1 mph faster: seeding depth 0.05 in less (0.07 in less to 0.04 in less; 95 % interval)",
        },
      ],
      departingRows: [
        {
          rowUnits: [7],
          set: null,
          variable: "seedingDepth",
          unit: "mm",
          shift: -5.1,
          passes: [3, 4, 5, 6],
          pValue: 0.01,
          inFinding: false,
        },
      ],
      emergence: EMERGENCE,
      spacing: SPACING,
      replant: REPLANT,
    },
    findings,
    comparison: [
      {
        pass: 12,
        soilZone: "clay loam",
        rowUnit: null,
        variable: "seedingDepth",
        unit: "mm",
        records: 812_345_678,
        areaHa: 0.4123456,
        mean: 44.123456789,
        sd: null,
        p10: 37.8,
        p50: 44.3,
        p90: 50.6,
        shareOutside: 0.31,
        difference: -5.9,
        low: -7.4,
        high: -4.4,
        level: 0.95,
        robustSd: 4.987654321,
        shareBelow: 0.3,
        shareAbove: 0.01,
        withinTolerance: 0.69,
        spreadAlongRow: 5.25,
        noLoadShare: null,
        headland: true,
      },
      {
        pass: null,
        soilZone: '=HYPERLINK("x","y")',
        rowUnit: 7,
        variable: "downForceMargin",
        unit: "N",
        records: 5,
        areaHa: 0.1,
        mean: 500,
        sd: 20,
        p10: 470,
        p50: 500,
        p90: 530,
        shareOutside: null,
        difference: null,
        low: null,
        high: null,
        level: 0.95,
        robustSd: 19,
        shareBelow: null,
        shareAbove: null,
        withinTolerance: null,
        spreadAlongRow: null,
        noLoadShare: 0.2,
        headland: null,
      },
    ],
  };
}
