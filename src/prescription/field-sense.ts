/** Whether log, boundary and soil map can be what they are taken for: asked before a load is prescribed. */
import { joinSoilZones } from "../compare/soil-join.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { Passes } from "../passes/passes.ts";
import { groupBy, type RecordGroups } from "../passes/record-groups.ts";
import { formatQuantity, type UnitSystem } from "../quantities/format.ts";
import { type LoadPhysics, loadPhysics } from "../quantities/load-physics.ts";
import type { Field } from "../vocabulary/field.ts";
import { LIMITS } from "./limits.ts";
import type { Guard, ZoneDecision } from "./prescription.ts";

/**
 * What was found before, by the field itself (its loads, its weights: another field, another answer) and the units of the
 * words: report and prescription both ask.
 */
const known = new WeakMap<Field, Map<UnitSystem, LoadPhysics>>();

/** Whether the log's load and force can be what they are called, on each soil zone. */
export function physicsOf(
  analysis: Pick<Analysis, "field" | "passes" | "zoneOfRecord">,
  units: UnitSystem,
): LoadPhysics {
  const inUnits = known.get(analysis.field) ?? new Map<UnitSystem, LoadPhysics>();
  known.set(analysis.field, inUnits);
  const physics = inUnits.get(units) ?? lookAt(analysis, units);
  inUnits.set(units, physics);
  return physics;
}

function lookAt(
  { field, passes, zoneOfRecord }: Pick<Analysis, "field" | "passes" | "zoneOfRecord">,
  units: UnitSystem,
): LoadPhysics {
  const { start, records } = plantedByZone(passes, zoneOfRecord, field.soilZones?.names.length ?? 0);
  const { downForceMargin, downForce } = field.log.values;
  return loadPhysics({
    load: downForceMargin ?? null,
    force: downForce ?? null,
    rowUnitWeightN: field.planter.rowUnitWeightN,
    rowUnits: field.planter.rowUnits,
    groups: Array.from({ length: start.length - 1 }, (_, place) => ({
      name: field.soilZones?.names[place - 1] ?? "",
      records: records.subarray(start[place]!, start[place + 1]!),
    })).filter((group) => group.records.length > 0),
    say: (newtons) => formatQuantity(newtons, "force", units),
  });
}

/** Planted records by soil zone, those of none first: place 0 is zone -1. */
export function plantedByZone(passes: Passes, zoneOfRecord: Int32Array, zones: number): RecordGroups {
  const place = new Int32Array(zoneOfRecord.length);
  for (let record = 0; record < place.length; record++)
    place[record] = passes.passOf[record]! > 0 ? zoneOfRecord[record]! + 1 : -1;
  return groupBy(place, zones + 1);
}

/** Two soil zones whose loads today fit each other's advice of last year far better than their own. */
export function soilNamesGuard(decisions: readonly ZoneDecision[]): Guard[] {
  const known = decisions.filter((entry) => entry.lastAdvisedN !== null && entry.currentMarginN !== null);
  const off = (today: ZoneDecision, advice: ZoneDecision): number =>
    Math.abs(today.currentMarginN! - advice.lastAdvisedN!);
  const pairs = known.flatMap((a, k) =>
    known.slice(k + 1).flatMap((b) => {
      const [own, crossed] = [off(a, a) + off(b, b), off(a, b) + off(b, a)];
      return own > LIMITS.largestStep.value && crossed < own / 3 ? [`${a.soilZone} and ${b.soilZone}`] : [];
    }),
  );
  if (pairs.length === 0) return [];
  return [
    {
      code: "soil-names",
      result: "refused",
      words: `The loads logged on ${pairs.join(", ")} fit last year's advice with the names exchanged: look whether the soil map has them swapped before anything is driven from these files.`,
    },
  ];
}

/** Share of the planted ground, by records, that lies outside the boundary given; 0 where none is. */
export function outsideBoundaryShare({ field, passes }: Analysis): number {
  if (field.boundary === null) return 0;
  const polygons = field.boundary.map((rings) => ({ zone: 0, rings }));
  const inside = joinSoilZones({
    log: field.log,
    soilZones: { names: ["field"], polygons, texture: [null], drainage: [null] },
  });
  let [out, all] = [0, 0];
  for (let i = 0; i < inside.length; i++) {
    if (passes.passOf[i] === 0) continue;
    const areaM2 = passes.distanceM[i]! * passes.widthM[i]!;
    all += areaM2;
    if (inside[i] === -1) out += areaM2;
  }
  return all > 0 ? out / all : 0;
}
