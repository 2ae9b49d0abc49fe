/** Questions about columns: what is shown of a column, the words, and the answers put into the manifest. */
import { describe, expect, it } from "vitest";
import type { RawLayer } from "../../src/ingest/layer.ts";
import { parseManifest } from "../../src/manifest/manifest.ts";
import { FIELD_SCHEMA } from "../../src/manifest/manifest-schema.ts";
import { withAnswers } from "../../web/protocol/answers.ts";
import { answerSaid, questionSaid } from "../../web/words/questions.ts";
import { questionOf } from "../../web/worker/column-glimpse.ts";

function layer(columns: RawLayer["columns"]): RawLayer {
  const recordCount = 200;
  return {
    file: "log.csv",
    recordCount,
    geometry: "point",
    x: new Float64Array(recordCount),
    y: new Float64Array(recordCount),
    polygons: null,
    columns,
    crs: { basis: "standard", name: "WGS 84, degrees", definition: "EPSG:4326" },
    notes: [],
  };
}

/** 0, 1, 2 ... 199 with a mark for "no value" and a blank. */
const speed = Float64Array.from({ length: 200 }, (_, i) => (i === 3 ? -9999 : i === 5 ? Number.NaN : i));
const speedQuestion = questionOf(
  {
    role: "plantingLog",
    variable: "speed",
    question: "the unit cannot be told",
    lines: [
      '"speed": {"column":"V","unit":"mi/h"}',
      '"speed": {"column":"V","unit":"km/h"}',
      '"speed": null',
    ],
  },
  layer([{ kind: "number", name: "V", values: speed }]),
);

describe("a question about a column", () => {
  it("shows every value once: in a bar, beyond the bars, or missing", () => {
    const [column] = speedQuestion.columns;
    const { counts, beyond, least, most, low } = column!.histogram!;
    expect(counts.reduce((sum, count) => sum + count, 0) + beyond + column!.missing).toBe(200);
    expect(column!.missing).toBe(1);
    expect([least, most]).toEqual([-9999, 199]);
    expect(low).toBeGreaterThanOrEqual(0);
    expect(column!.samples).toEqual(["0", "1", "2", "-9999", "4", "6"]);
    // Of the 199 values sorted, the 100th.
    expect(column!.middle).toBe(100);
  });

  it("asks in plain words and says what each unit would mean", () => {
    expect(questionSaid(speedQuestion)).toBe("In what unit is V, the speed?");
    const said = speedQuestion.answers.map((answer) => answerSaid(speedQuestion, answer, "metric"));
    // 100 mi/h = 160.9344 km/h exactly.
    expect(said).toEqual([
      "miles an hour: the middle value would be 160.9 km/h",
      "kilometres an hour: the middle value would be 100.0 km/h",
      "Can't tell: leave the speed out",
    ]);
  });

  it("shows of a column of text its labels, and of one column a row unit the first few", () => {
    const codes = Int32Array.from({ length: 200 }, (_, i) => (i % 4) - 1);
    const labels = ["a", "b", "c"];
    const names = Array.from({ length: 24 }, (_, i) => `D_${i + 1}`);
    const columns = names.map((name) => ({ kind: "text" as const, name, codes, labels }));
    const question = questionOf(
      {
        role: "plantingLog",
        variable: "seedingDepth",
        question: "not sure",
        lines: [`"seedingDepth": ${JSON.stringify(names)}`, '"seedingDepth": null'],
      },
      layer(columns),
    );
    expect(question.columns.map(({ name }) => name)).toEqual(["D_1", "D_2", "D_3"]);
    expect(question.columns[0]).toMatchObject({ missing: 50, samples: ["a", "b", "c"], histogram: null });
    expect(questionSaid(question)).toBe("Is D_1 to D_24 the seeding depth?");
    expect(question.answers.map((answer) => answerSaid(question, answer, "farm"))).toEqual([
      "Yes",
      "No: leave the seeding depth out",
    ]);
  });

  it("puts answers beside what the manifest already says, and the manifest still passes its check", () => {
    const manifest = {
      schema: FIELD_SCHEMA,
      plantingLog: { file: "log.csv", columns: { population: "SEEDS" } },
    };
    const answered = withAnswers(manifest, [speedQuestion], [speedQuestion.answers[1]!]);
    expect(parseManifest(answered).plantingLog.columns).toEqual({
      population: "SEEDS",
      speed: { column: "V", unit: "km/h" },
    });
    expect(manifest.plantingLog.columns).toEqual({ population: "SEEDS" });
  });
});
