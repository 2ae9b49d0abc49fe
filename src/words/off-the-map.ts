/** Planted ground that the soil map does not reach: said, since every comparison of soils is silent there. */
import type { NotJudged } from "../findings/findings-document.ts";
import { formatPercent } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import type { Field } from "../vocabulary/field.ts";

/** Up to this share of the planted ground is the edge of a map (our judgement). */
const EDGE_SHARE = 0.05;

/**
 * @param pieceAreaM2 ground of each record, m2
 * @param zoneOfRecord number of the soil zone, -1 outside all of them
 * @param passOf 0 for a record on no pass
 */
export function offTheMap(
  writing: Writing,
  { soilZones }: Field,
  pieceAreaM2: Float64Array,
  zoneOfRecord: Int32Array,
  passOf: Int32Array,
): NotJudged[] {
  if (!soilZones) return [];
  let [all, outside] = [0, 0];
  for (let record = 0; record < pieceAreaM2.length; record++) {
    if (passOf[record] === 0) continue;
    all += pieceAreaM2[record]!;
    if (zoneOfRecord[record]! < 0) outside += pieceAreaM2[record]!;
  }
  const share = outside / all;
  if (!(share > EDGE_SHARE)) return [];
  return [
    {
      what: `the soil on ${formatPercent(share, 0, writing.locale)} of the planted ground`,
      why: "the soil map does not reach it, so that soils are compared on the rest only; is it this field's map?",
    },
  ];
}
