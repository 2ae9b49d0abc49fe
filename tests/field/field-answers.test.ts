import { expect, it } from "vitest";
import { ManifestError } from "../../src/errors.ts";
import { loggedIn, wantedAnswers } from "../../src/field/wanted-answers.ts";
import { withFieldAnswers } from "../../src/manifest/field-answers.ts";
import { buildField } from "../support/field-builder.ts";

const two = new Float64Array(2);

function field() {
  const made = buildField({
    x: two,
    y: two,
    values: { seedingDepth: two, downForceMargin: two, speed: two },
  });
  made.log.depthSource = "unknown";
  const column = { column: "DEPTH_IN", variable: "seedingDepth", unit: "in", confidence: 1, reason: "" };
  made.inputs = [
    { role: "plantingLog", file: "log.csv", sha256: null, crs: "", recognised: [column], unrecognised: [], records: 2, used: 2, leftOut: 0, notes: [] }, // biome-ignore format: one line
  ];
  return made;
}

const MANIFEST = { plantingLog: { file: "log.csv" }, targets: { speed: "5.5 mi/h" } };

const wantedOf = ({ log, targets, prices }: ReturnType<typeof field>) =>
  wantedAnswers({ logged: loggedIn(log), depthSource: log.depthSource, targets, prices }).map(
    ({ key }) => key,
  );

it("what was not said is wanted, the most telling first; what the log says itself is not", () => {
  expect(wantedOf(field())).toEqual([
    "seedingDepth",
    "depthSensed",
    "downForceMargin",
    "population",
    "speed",
    "grain",
    "expectedYield",
  ]);
  const set = field();
  set.log.depthSource = "set";
  expect(wantedOf(set)).not.toContain("seedingDepth");
  set.log.values.targetPopulation = two;
  expect(wantedOf(set)).not.toContain("population");
});

it("answers stand in the field and in its manifest, beside what stood there", () => {
  const before = field();
  const { field: after, manifest } = withFieldAnswers(before, MANIFEST, {
    targets: { seedingDepth: "2 in", downForceMargin: ["60 lbf", "160 lbf"] },
    prices: { grain: "4.5 USD/bu", expectedYield: "200 bu/ac" },
    depthSource: "sensed",
  });
  expect(after.targets.seedingDepthMm).toBeCloseTo(50.8, 9);
  expect(after.targets.speedMetresPerSecond).toBeCloseTo(2.46, 2);
  expect(after.log.depthSource).toBe("sensed");
  expect(before.log.depthSource).toBe("unknown");
  expect(manifest).toMatchObject({
    plantingLog: {
      file: "log.csv",
      columns: { seedingDepth: { column: "DEPTH_IN", unit: "in", source: "sensed" } },
    },
    targets: { speed: "5.5 mi/h", seedingDepth: "2 in" },
  });
  expect(wantedOf(after)).toEqual(["population"]);
});

it("an answer that cannot be read is refused, and nothing changes", () => {
  expect(() =>
    withFieldAnswers(field(), MANIFEST, { targets: { downForceMargin: ["160 lbf", "60 lbf"] } }),
  ).toThrow(ManifestError);
});
