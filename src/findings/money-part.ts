/** The field's loss by soil zone and by row unit, beside the one by finding. */
import { type LossOfGroup, type LossOnGround, lossByGroup, type TotalLoss } from "../cost/total.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { DocumentParts } from "./document-parts.ts";
import type { MoneyBy, MoneyOfPart } from "./findings-document.ts";

/** Each part with the money of its ground, the largest first among soil zones, by number among row units. */
export function moneyByPart(
  { field, passes, zoneOfRecord }: DocumentParts,
  losses: readonly LossOnGround[],
  pieceAreaM2: Float64Array,
  total: TotalLoss,
): MoneyBy {
  const partOf =
    (nameOf: (group: number) => string) =>
    ({ group, areaM2, money }: LossOfGroup): MoneyOfPart => ({
      of: nameOf(group),
      areaHa: Number((areaM2 / SQUARE_METRES_PER_HECTARE).toFixed(3)),
      money,
    });
  const zones = zoneOfRecord ? lossByGroup(losses, pieceAreaM2, total, zoneOfRecord, 0) : [];
  const units = lossByGroup(losses, pieceAreaM2, total, passes.rowUnitOf, 1);
  return {
    soilZones: zones
      .map(partOf((zone) => field.soilZones!.names[zone]!))
      .sort((a, b) => b.money.estimate - a.money.estimate),
    rowUnits: units.map(partOf(String)),
  };
}
