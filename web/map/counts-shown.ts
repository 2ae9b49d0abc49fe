/** How many of the counts are drawn and listed, where not all are. */
import type { MapLayers } from "../../src/report/map-layers.ts";
import { groupThousands } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";

/** "4,000 of the 40,000 stand counts are drawn and listed; the findings rest on all of them". */
export function countsShown({ counts, countsInAll }: Pick<MapLayers, "counts" | "countsInAll">): string {
  const shown = groupThousands(String(counts.features.length));
  return texts.value.tables.countsShown(shown, groupThousands(String(countsInAll ?? counts.features.length)));
}
