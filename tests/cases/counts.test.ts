/** Cases in which the counts themselves are the question. */
import { describe, expect } from "vitest";
import { caseTest } from "./case-test.ts";
import { analyseCase, buildCase, runCase, writeCase } from "./field-builder.ts";
import { contrastOf, counted, saysNothingWrong } from "./verdict.ts";

describe("the counts", () => {
  caseTest("A20", "counts in a hoop: read with its diameter, asked for without", async () => {
    const soybeans = {
      crop: "soybean",
      rowSpacingIn: 15,
      target: 140_000,
      manifest: { targets: { seedingDepth: "2 in" } },
    } as const;
    const read = await analyseCase({ ...soybeans, counts: { number: 60, rows: 2, hoopIn: 36 } });
    expect(read.document.summary.stand!.ofTarget!.estimate).toBeGreaterThan(0.85);
    expect(read.document.summary.stand!.ofTarget!.estimate).toBeLessThan(1);
    const folder = writeCase(
      buildCase({
        ...soybeans,
        counts: { number: 60, rows: 2, hoopIn: 36, namesHoop: false },
      }),
    );
    const { code, err } = await runCase(folder, "analyse", "field", "--out", "out");
    expect(code).toBe(3);
    expect(err).toMatch(/hoopDiameter/);
  });

  caseTest("A22", "the wrong row length everywhere: check the length first", async () => {
    const result = await analyseCase({
      rowSpacingIn: 20,
      counts: { number: 60, rowLengthFt: 17.424, standPerPlant: 1000 },
    });
    expect(result.document.summary.stand!.ofTarget!.estimate).toBeLessThan(0.7);
    expect(contrastOf(result, "field")?.verdict).toBe("short");
    expect(result.printed).toMatch(/row length|length of (the )?row|length counted/);
    expect(saysNothingWrong(result)).toBe(false);
  });

  caseTest("A22 twice", "two counts at one spot that disagree: said", async () => {
    const files = buildCase();
    const counts = JSON.parse(files["counts.geojson"]!) as { features: { properties: { PLANTS: number } }[] };
    const again = structuredClone(counts.features[10]!);
    again.properties.PLANTS = Math.round(0.55 * again.properties.PLANTS);
    counts.features.push(again);
    const folder = writeCase({ ...files, "counts.geojson": JSON.stringify(counts) });
    const { code, out } = await runCase(folder, "analyse", "field", "--out", "out");
    expect(code).toBe(0);
    expect(out.replaceAll(/\s+/g, " ")).toMatch(
      /counts\.geojson, records 11 and 61: .+ disagree by more than counting can explain/,
    );
  });

  caseTest("A27", "counts where it looked bad: the mean is declustered, and said so", async () => {
    const at = Array.from(
      { length: 10 },
      (_, k) => [100 + 12 * (k % 4), 300 + 10 * Math.floor(k / 4)] as const,
    );
    const result = await analyseCase({
      emerged: ({ x, y }) => (Math.hypot(x - 118, y - 310) < 45 ? 0.62 : 0.94),
      counts: { at: [...at, [60, 60], [300, 80], [310, 200], [250, 370]] },
    });
    const { stand } = result.document.summary;
    expect(stand!.clustered).toBe(true);
    expect(stand!.perHa.estimate / (34_000 * 2.471)).toBeGreaterThan(0.8);
    expect(result.printed).toMatch(/one spot|close together|looked bad|lie together/);
    expect(counted(result).filter(({ kind }) => kind === "field")).toEqual([]);
    // What a handful of counts settles is the same mean, not the plain one.
    const few = result.document.summary.notJudged.find(({ what }) => /short of plants/.test(what));
    const [, mean] = /Mean stand ([\d,]+) plants/.exec(stand!.words)!;
    expect(few!.why).toContain(`the mean stand of the field, ${mean} plants/ac`);
    expect(saysNothingWrong(result)).toBe(false);
  });
});
