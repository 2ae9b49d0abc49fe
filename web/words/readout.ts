/** One line of words for a place on the map: a piece of ground, a stand count or a dig. */
import type { CountProperties } from "../../src/findings/count-features.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import type { DigProperties, MapLayers } from "../../src/report/map-layers.ts";
import type { Ground } from "../protocol/ground.ts";
import { formatKnown, formatPercent, formatQuantity } from "./format.ts";
import { texts } from "./texts/texts.ts";
import { VARIABLE_ORDER, VARIABLES } from "./variables.ts";

export function groundReadout(ground: Ground, layers: MapLayers, i: number, system: UnitSystem): string {
  const parts: string[] = [];
  if (ground.pass[i]! > 0) parts.push(texts.value.map.partPass(String(ground.pass[i])));
  if (ground.rowUnit[i]! > 0) parts.push(texts.value.map.partRowUnit(String(ground.rowUnit[i])));
  const zone = layers.zoneNames[ground.zone[i]!];
  if (zone) parts.push(zone);
  for (const name of VARIABLE_ORDER) {
    const value = ground.values[name]?.[i];
    if (value === undefined || Number.isNaN(value)) continue;
    parts.push(`${VARIABLES[name].named} ${formatQuantity(value, VARIABLES[name].kind, system)}`);
  }
  return parts.join(" · ");
}

export function countReadout(count: CountProperties, usual: number | null, system: UnitSystem): string {
  const parts = [
    texts.value.map.readCount(String(count.spot)),
    formatKnown(count.standPerHa, "plants", system),
  ];
  if (count.standPerHa !== null && usual !== null) {
    const off = count.standPerHa / usual - 1;
    parts.push(
      Math.abs(off) < 0.005
        ? texts.value.map.asUsual
        : texts.value.map.offMiddle(formatPercent(Math.abs(off)), off < 0),
    );
  }
  if (count.lateShare !== null) parts.push(texts.value.map.late(formatPercent(count.lateShare)));
  if (count.rowUnit > 0) parts.push(texts.value.map.partRowUnit(String(count.rowUnit)));
  if (count.method) parts.push(count.method);
  return parts.join(" · ");
}

export function digReadout(dig: DigProperties, system: UnitSystem): string {
  const parts = [texts.value.map.readDig(String(dig.dig))];
  if (dig.depthMm !== null) parts.push(texts.value.map.seedAt(formatQuantity(dig.depthMm, "depth", system)));
  if (dig.rowUnit > 0) parts.push(texts.value.map.partRowUnit(String(dig.rowUnit)));
  if (dig.smear) parts.push(texts.value.map.smear(String(dig.smear)));
  if (dig.furrow) parts.push(texts.value.map.furrowIs(String(dig.furrow)));
  if (dig.moisture) parts.push(texts.value.map.soilIs(String(dig.moisture)));
  if (dig.seedState) parts.push(texts.value.map.seedIs(String(dig.seedState)));
  return parts.join(" · ");
}
