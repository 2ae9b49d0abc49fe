import { expect, it } from "vitest";
import { analyseField } from "../../src/jobs/analyse.ts";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { convert } from "../../src/quantities/units.ts";
import type { DepthSource, Field } from "../../src/vocabulary/field.ts";
import { drive, upAndDown } from "../support/driven-log.ts";
import { buildField } from "../support/field-builder.ts";

const SWATH_M = 12;
const log = drive(upAndDown(30, SWATH_M, 400), { rowUnits: 16, rowSpacingM: 0.75, bar: true, stepM: 4 });
const lb = (value: number) => convert(value, "lbf", "N");
const inches = (value: number) => convert(value, "in", "mm");

interface Block {
  /** East and north end of the block, which begins in the south-west corner, m. */
  east: number;
  north: number;
  loadLb: number;
  depthIn: number;
}

/** A log alone, 14.4 ha at 115 lb and 1.95 in with ordinary noise, but for a block. */
function fieldWith(block: Block, source: DepthSource, targets: Partial<Field["targets"]> = {}): Field {
  const random = seededRandom(17);
  const inside = log.x.map((x, i) => x < block.east && log.y[i]! < block.north);
  const field = buildField({
    x: log.x,
    y: log.y,
    values: {
      time: log.time,
      heading: log.headingDeg,
      swathWidth: log.x.map(() => SWATH_M),
      downForceMargin: inside.map((there) => lb((there ? block.loadLb : 115) + 9 * normal(random))),
      seedingDepth: inside.map((there) => inches((there ? block.depthIn : 1.95) + 0.06 * normal(random))),
      speed: log.speed.map((speed) => speed + 0.02 * normal(random)),
    },
    hasClockTime: true,
    planter: { rowUnits: 16, rowSpacingM: 0.75 },
    targets,
  });
  field.log.depthSource = source;
  return field;
}

async function findingsOf(field: Field) {
  const { document } = await analyseField(field);
  return document;
}

// 180 m x 250 m: 4.5 ha, 11 ac.
const LIGHT: Block = { east: 174, north: 250, loadLb: 35, depthIn: 1.45 };

it("11 ac at 35 lb and 1.45 in, no target, source of depth unnamed: listed as a departure, no cause settled", async () => {
  const { findings, summary } = await findingsOf(fieldWith(LIGHT, "unknown"));
  expect(findings).toHaveLength(1);
  const [finding] = findings;
  expect(finding).toMatchObject({
    kind: "area",
    basis: "predicted",
    cause: "undetermined",
    detail: "unlike-the-rest",
  });
  expect(finding!.where.areaHa).toBeCloseTo(4.5, 0);
  expect(finding!.words.seen[0]).toMatch(
    /^gauge-wheel load: 1[01]\.\d ac ran at 3[456] lb, the rest at 11[45] lb; no target was given$/,
  );
  expect(finding!.words.seen[1]).toMatch(
    /^seeding depth: 1[01]\.\d ac reads 1\.4\d in, the rest 1\.9\d in; no target was given$/,
  );
  expect(finding!.alternatives[0]).toMatchObject({ cause: "lost-ground-contact" });
  expect(finding!.alternatives[0]!.probability).toBeLessThan(0.7);
  expect(summary.sentence).toMatch(
    /^1 place planted unlike the rest of the field, from the log only, on 1[01]\.\d ac of 35\.\d ac\./,
  );
});

it("small ground, a small step, and ground within its target are no departures", async () => {
  const none: [string, Field][] = [
    ["0.4 ha", fieldWith({ ...LIGHT, east: 54, north: 80 }, "unknown")],
    ["115 against 95 lb", fieldWith({ ...LIGHT, loadLb: 95, depthIn: 1.9 }, "unknown")],
    [
      "both on target",
      fieldWith({ ...LIGHT, loadLb: 55, depthIn: 1.95 }, "unknown", { downForceMarginN: [lb(40), lb(160)] }),
    ],
  ];
  for (const [what, field] of none) expect((await findingsOf(field)).findings, what).toEqual([]);
});

it("a depth that was only set departs in nothing but its load", async () => {
  const { findings } = await findingsOf(fieldWith(LIGHT, "set"));
  expect(findings[0]!.words.seen.filter((line) => line.startsWith("depth:"))).toEqual([]);
  expect(findings[0]!.words.seen[0]).toMatch(/^gauge-wheel load/);
});
