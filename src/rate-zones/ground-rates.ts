/** Which loads are written: as many as the machine takes, and today's settings for the proof strips. */
import type { Guard } from "../prescription/prescription.ts";
import { formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import type { GroundLoad, GroundLoads } from "./ground.ts";

/** Loads of the ground, N. */
export interface RatePlan {
  /** Distinct loads, ascending. */
  values: number[];
  /** Number in `values` by number of the soil zone; the last one is for ground without a load of its own. */
  rateOfSoil: number[];
  /** Soil zones (number as above) left at today's setting on a strip, the largest first. */
  strips: { soil: number; todayN: number }[];
  /** Names of zones whose strip had to go for lack of rates. */
  stripsLeftOut: string[];
  guard: Guard;
}

/**
 * @param names names of the soil zones
 * @param squares ground of each soil zone in the field, and last of ground without a load of its own, in any unit
 */
export function planRates(
  names: readonly string[],
  squares: readonly number[],
  loads: GroundLoads,
  mostRates: number,
  proofStrips: boolean,
  writing: Writing,
): RatePlan {
  const load = (soil: number): GroundLoad => loads.soilZones[names[soil] ?? ""] ?? loads.elsewhere;
  const used = squares.flatMap((area, soil) => (area > 0 ? [soil] : []));
  if (used.length === 0) used.push(names.length);
  const members = new Map<number, number[]>();
  for (const soil of used) {
    const { marginN } = load(soil);
    members.set(marginN, [...(members.get(marginN) ?? []), soil]);
  }
  const merged: string[] = [];
  const inWords = (newtons: number): string => formatQuantity(newtons, "force", writing);
  while (members.size > Math.max(1, mostRates)) {
    const [low, high] = nearestPair(members, load);
    const both = [...members.get(low)!, ...members.get(high)!];
    const largestStep = (marginN: number): number =>
      Math.max(...both.map((soil) => Math.abs(marginN - (load(soil).todayN ?? marginN))));
    const kept = largestStep(low) <= largestStep(high) ? low : high;
    members.delete(low);
    members.delete(high);
    members.set(kept, both);
    merged.push(`${inWords(kept === low ? high : low)} became ${inWords(kept)}`);
  }
  const values = [...members.keys()].sort((a, b) => a - b);
  const rateOfSoil = squares.map(() => 0);
  for (const [value, soils] of members) for (const soil of soils) rateOfSoil[soil] = values.indexOf(value);

  const strips: RatePlan["strips"] = [];
  const stripsLeftOut: string[] = [];
  const written = new Set(values);
  for (const soil of proofStrips ? used.toSorted((a, b) => squares[b]! - squares[a]!) : []) {
    const { todayN } = load(soil);
    if (todayN === null || todayN === values[rateOfSoil[soil]!]) continue;
    if (!written.has(todayN) && written.size >= mostRates) {
      stripsLeftOut.push(names[soil] ?? "ground without a soil zone");
      continue;
    }
    written.add(todayN);
    strips.push({ soil, todayN });
  }
  return { values, rateOfSoil, strips, stripsLeftOut, guard: guardOf(merged, values.length, mostRates) };
}

/** The two loads nearest to each other; of equals those that change least from today's. */
function nearestPair(
  members: ReadonlyMap<number, readonly number[]>,
  load: (soil: number) => GroundLoad,
): [number, number] {
  const values = [...members.keys()].sort((a, b) => a - b);
  const steps = values.map((value) =>
    members.get(value)!.reduce((sum, soil) => sum + Math.abs(value - (load(soil).todayN ?? value)), 0),
  );
  let best = 0;
  for (let i = 1; i + 1 < values.length; i++) {
    const gain = values[best + 1]! - values[best]! - (values[i + 1]! - values[i]!);
    if (gain > 0 || (gain === 0 && steps[i]! + steps[i + 1]! < steps[best]! + steps[best + 1]!)) best = i;
  }
  return [values[best]!, values[best + 1]!];
}

function guardOf(merged: readonly string[], count: number, mostRates: number): Guard {
  const words =
    merged.length === 0
      ? `${count} different load${count === 1 ? "" : "s"}, at most ${mostRates} allowed.`
      : `At most ${mostRates} different loads are allowed, so the nearest were put together: ${merged.join(", ")}.`;
  return { code: "most-rates", result: merged.length === 0 ? "kept" : "changed", words };
}
