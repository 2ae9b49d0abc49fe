// Stand counts of the invented field of the benchmarks, as a drone flight or a person on foot would give them: spread
// evenly over the field, with two places where the stand is thin. Waves of fixed form, the same each time.
import { writeFileSync } from "node:fs";
import { fieldSize, toDegrees } from "./invented-log.mjs";

const TARGET_PER_ACRE = 34_000;
const ROWS_COUNTED = 4;
const ROW_LENGTH_FT = 17.5;
const SPACING_IN = 30;
/** Plants on the counted rows where every targeted one stands. */
const FULL = (TARGET_PER_ACRE * ROWS_COUNTED * ROW_LENGTH_FT * (SPACING_IN / 12)) / 43_560;

/** Share of the target that stands at a place of the unit square. */
function standAt(u, v, k) {
  const patchy =
    0.02 * Math.sin(17 * u + 5 * v) +
    0.015 * Math.sin(31 * v - 11 * u) +
    0.02 * Math.sin(k * 2.399 + 7.1 * u);
  const thin = (u - 0.3) ** 2 + (v - 0.6) ** 2 < 0.1 ** 2 ? 0.25 : 0;
  const strip = u > 0.7 && u < 0.74 && v > 0.2 && v < 0.7 ? 0.18 : 0;
  return 0.95 + patchy - thin - strip;
}

/** Writes so many counts over the field of so many records, as CSV. */
export function writeCounts(path, records, counts) {
  const { width, height } = fieldSize(records);
  const columns = Math.max(1, Math.round(Math.sqrt((counts * width) / height)));
  const rows = Math.ceil(counts / columns);
  const lines = ["lon,lat,plants,rows_counted,row_length_ft,row_spacing_in"];
  for (let k = 0; k < counts; k++) {
    const u = ((k % columns) + 0.5 + 0.3 * Math.sin(k * 1.7)) / columns;
    const v = (Math.floor(k / columns) + 0.5 + 0.3 * Math.sin(k * 2.9)) / rows;
    const [longitude, latitude] = toDegrees(
      0.01 * width + 0.98 * u * width,
      0.01 * height + 0.98 * v * height,
    );
    const plants = Math.round(FULL * standAt(u, v, k));
    lines.push(
      [longitude.toFixed(7), latitude.toFixed(7), plants, ROWS_COUNTED, ROW_LENGTH_FT, SPACING_IN].join(","),
    );
  }
  writeFileSync(path, `${lines.join("\n")}\n`);
}
