/** One line of words for a place on the map: a piece of ground, a stand count or a dig. */
import type { CountProperties } from "../../src/findings/count-features.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";
import type { DigProperties, MapLayers } from "../../src/report/map-layers.ts";
import type { Ground } from "../protocol/ground.ts";
import { formatKnown, formatPercent, formatQuantity } from "./format.ts";
import { VARIABLE_ORDER, VARIABLES } from "./variables.ts";

export function groundReadout(ground: Ground, layers: MapLayers, i: number, system: UnitSystem): string {
  const parts: string[] = [];
  if (ground.pass[i]! > 0) parts.push(`pass ${ground.pass[i]}`);
  if (ground.rowUnit[i]! > 0) parts.push(`row unit ${ground.rowUnit[i]}`);
  const zone = layers.zoneNames[ground.zone[i]!];
  if (zone) parts.push(zone);
  for (const name of VARIABLE_ORDER) {
    const value = ground.values[name]?.[i];
    if (value === undefined || Number.isNaN(value)) continue;
    parts.push(
      `${VARIABLES[name].title.toLowerCase()} ${formatQuantity(value, VARIABLES[name].kind, system)}`,
    );
  }
  return parts.join(" · ");
}

export function countReadout(count: CountProperties, usual: number | null, system: UnitSystem): string {
  const parts = [`stand count ${count.spot}`, formatKnown(count.standPerHa, "plants", system)];
  if (count.standPerHa !== null && usual !== null) {
    const off = count.standPerHa / usual - 1;
    parts.push(
      Math.abs(off) < 0.005
        ? "as usual here"
        : `${formatPercent(Math.abs(off))} ${off < 0 ? "below" : "above"} the middle of the counts`,
    );
  }
  if (count.lateShare !== null) parts.push(`${formatPercent(count.lateShare)} late`);
  if (count.rowUnit > 0) parts.push(`row unit ${count.rowUnit}`);
  if (count.method) parts.push(count.method);
  return parts.join(" · ");
}

export function digReadout(dig: DigProperties, system: UnitSystem): string {
  const parts = [`dig ${dig.dig}`];
  if (dig.depthMm !== null) parts.push(`seed at ${formatQuantity(dig.depthMm, "depth", system)}`);
  if (dig.rowUnit > 0) parts.push(`row unit ${dig.rowUnit}`);
  if (dig.smear) parts.push(`sidewall smear: ${dig.smear}`);
  if (dig.furrow) parts.push(`furrow ${dig.furrow}`);
  if (dig.moisture) parts.push(`soil ${dig.moisture}`);
  if (dig.seedState) parts.push(`seed ${dig.seedState}`);
  return parts.join(" · ");
}
