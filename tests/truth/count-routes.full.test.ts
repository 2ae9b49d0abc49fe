/**
 * The stand model of 600 counts by the whole matrix and by the nearest neighbours of each point, on invented fields of the
 * judge's worlds: where the two meet they have to say the same. Seeds are used for nothing else.
 */
import { describe, expect, it } from "vitest";
import { studySize } from "../support/study-size.ts";
import { compareRoutes } from "./count-routes.ts";

const FIELDS = studySize(40, 10);
const FIRST_SEED = 1_210_000;
/** A difference of the losses that does not matter, in standard errors. */
const FIFTH = 0.2;

describe(`the model of 600 counts on ${FIELDS} invented fields, by two ways`, () => {
  it("finds the same places with the same causes and losses", { timeout: 3_600_000 }, async () => {
    const fields = await compareRoutes(FIRST_SEED, FIELDS);
    const both = fields.flatMap((field) => field.both);
    const alone = fields.flatMap(({ field, exactAlone, sparseAlone }) => [
      ...exactAlone.map((name) => `${field}, whole matrix alone: ${name}`),
      ...sparseAlone.map((name) => `${field}, neighbours alone: ${name}`),
    ]);
    const errors = both.map((place) => place.errors).sort((a, b) => a - b);
    const near = errors.filter((value) => value <= FIFTH).length;
    const sameCause = both.filter((place) => place.sameCause).length;
    const verdicts = fields.reduce((sum, field) => sum + field.verdicts.all, 0);
    const differ = fields.reduce((sum, field) => sum + field.verdicts.differ, 0);
    const at = (share: number): string =>
      (errors[Math.min(errors.length - 1, Math.floor(share * errors.length))] ?? Number.NaN).toFixed(3);
    process.stdout.write(
      [
        `${fields.length} fields, ${Math.min(...fields.map(({ counts }) => counts))} to ${Math.max(...fields.map(({ counts }) => counts))} counts`,
        `places found both ways ${both.length}, one way alone ${alone.length}`,
        ...alone,
        `difference of the loss in standard errors: median ${at(0.5)}, nine in ten under ${at(0.9)}, largest ${at(1)}`,
        `within a fifth: ${near} of ${both.length}; same cause: ${sameCause} of ${both.length}`,
        `verdicts of contrasts that differ: ${differ} of ${verdicts}`,
        "",
      ].join("\n"),
    );
    expect(both.length).toBeGreaterThan(FIELDS / 4);
    expect(alone).toEqual([]);
    expect(sameCause).toBe(both.length);
    expect(near).toBe(both.length);
    expect(differ).toBeLessThanOrEqual(verdicts / 100);
  });
});
