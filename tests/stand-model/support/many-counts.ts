/** The small field with one place where the wheels ran light and plants are missing, counted as often as a test likes. */
import type { Analysis } from "../../../src/findings/analysis.ts";
import { seededRandom } from "../../../src/numerics/random.ts";
import { analysed, isLight } from "../../support/light-field.ts";
import { BAR_WIDTH_M, degrees, LENGTH_M, PASSES, SMALL_MANIFEST } from "../../support/small-field.ts";

export const EAST_M = PASSES * BAR_WIDTH_M;

/** Where count k of so many lies, m from the field's corner. */
export type Placing = (k: number, count: number, random: () => number) => [east: number, north: number];

/** Spread evenly over a field widened about its middle by a factor. */
export const spread =
  (times: number): Placing =>
  (_, __, random) => [EAST_M * (0.5 + times * (random() - 0.5)), LENGTH_M * (0.5 + times * (random() - 0.5))];
export const atOneSpot: Placing = () => [EAST_M / 4, LENGTH_M / 2];
export const onALine: Placing = (k, count) => [EAST_M / 4, (LENGTH_M * (k + 0.5)) / count];

/** Analyses the field with so many counts; in the light place a fifth of the plants is missing. */
export async function countedSoOften(count: number, placing: Placing): Promise<Analysis> {
  const random = seededRandom(21);
  const lines = ["lon,lat,plants,rows_counted,row_length_ft,row_spacing_in"];
  for (let k = 0; k < count; k++) {
    const place = degrees(...placing(k, count, random));
    const plants = Math.round(
      136 * (0.93 + 0.05 * (random() - 0.5)) * (isLight(place as [number, number]) ? 0.8 : 1),
    );
    lines.push([...place, plants, 4, 17.5, 30].join(","));
  }
  return analysed(
    { "counts.csv": `${lines.join("\n")}\n` },
    { ...SMALL_MANIFEST, standCounts: { file: "counts.csv" } },
  );
}
