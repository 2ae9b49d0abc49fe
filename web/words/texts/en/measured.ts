/** Figures of a finding, in the rows of its table: the library's names with a capital. */
import type { MeasuredKey } from "../../../../src/findings/findings-document.ts";
import { measuredWords, upperFirst } from "../../../../src/words/finding-words.ts";
import { MEASURED_ORDER } from "../../measured-order.ts";

export const measured = Object.fromEntries(
  MEASURED_ORDER.map((key) => [key, upperFirst(measuredWords(key).name)]),
) as Record<MeasuredKey, string>;
