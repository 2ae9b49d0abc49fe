/** Places that a load would mend, cut out of their soil zone with a load of their own. */
import type { Analysis } from "../findings/analysis.ts";
import { formatQuantity } from "../quantities/format.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import type { Writing } from "../texts/language.ts";
import type { LocalPolygon, SoilZones } from "../vocabulary/field.ts";
import { groundWords } from "./channel.ts";
import type { LearntZone } from "./decide.ts";
import { gatherEvidence } from "./evidence.ts";
import { holdBack } from "./hold-back.ts";
import { settledFindings } from "./settle-first.ts";

/** A finding on a soil zone. */
export interface WantedCut {
  finding: string;
  soilZone: string;
}

/** The ground of a place cut out of a soil zone. */
export interface CutPlace extends WantedCut {
  /** What it is called among the soil zones. */
  name: string;
  /** Number of the soil zone it lies in; -1 for ground without one. */
  of: number;
  polygons: LocalPolygon[];
}

export interface CutZones {
  zones: LearntZone[];
  places: CutPlace[];
  /** Why a place cannot be cut out, part of a sentence. */
  refused: (WantedCut & { why: string })[];
}

/** A place that is nearly the whole of its zone is the zone (our judgement). */
const NEARLY_WHOLE_SHARE = 0.8;

/**
 * Splits the zones: each place gets today's loads of its own ground, its soil zone those of the rest. What the counts
 * taught about load is the soil zone's for both.
 */
export function cutOut(
  analysis: Analysis,
  physics: LoadPhysics,
  zones: readonly LearntZone[],
  wanted: readonly WantedCut[],
  smallestAreaHa: number,
  writing: Writing,
): CutZones {
  const refused: CutZones["refused"] = [];
  const { field, passes } = analysis;
  const names = field.soilZones?.names ?? [];
  const zoneOfRecord = analysis.zoneOfRecord.slice();
  const findings = settledFindings(analysis);
  const places: CutPlace[] = [];
  for (const cut of wanted) {
    const refuse = (why: string): void => {
      refused.push({ ...cut, why });
    };
    const draft = findings.find(({ id }) => id === cut.finding)!.draft;
    const parent = zones.find(({ evidence }) => evidence.name === cut.soilZone)!.evidence;
    const own: number[] = [];
    let areaM2 = 0;
    for (let i = 0; i < zoneOfRecord.length; i++) {
      if (!draft.inside[i] || zoneOfRecord[i] !== parent.zone || passes.passOf[i] === 0) continue;
      own.push(i);
      areaM2 += passes.distanceM[i]! * passes.widthM[i]!;
    }
    const areaHa = areaM2 / SQUARE_METRES_PER_HECTARE;
    if (areaHa > NEARLY_WHOLE_SHARE * parent.areaHa) {
      refuse(`it is nearly all of ${cut.soilZone}, whose own load counts`);
      continue;
    }
    if (areaHa < smallestAreaHa) {
      refuse(
        `its ${formatQuantity(areaHa, "area", writing)} on ${cut.soilZone} are less than the smallest zone of ${formatQuantity(smallestAreaHa, "area", writing)}`,
      );
      continue;
    }
    for (const i of own) zoneOfRecord[i] = names.length + places.length;
    places.push({
      ...cut,
      name: `${cut.soilZone} at ${cut.finding}`,
      of: parent.zone,
      polygons: draft.polygons,
    });
  }
  if (places.length === 0) return { zones: [...zones], places, refused };
  const evidence = gatherEvidence(
    { ...analysis, zoneOfRecord, field: { ...field, soilZones: withPlaces(field.soilZones, places) } },
    physics,
  );
  const found = zones.map((zone): LearntZone => {
    const own = evidence.find((entry) => entry.zone === zone.evidence.zone);
    const { name, moisture, moistureFrom } = zone.evidence;
    return own ? { ...zone, evidence: { ...own, name, moisture, moistureFrom } } : zone;
  });
  const kept = places.filter((place, k) => {
    const own = evidence.find((entry) => entry.zone === names.length + k)!;
    const parent = zones.find(({ evidence: of }) => of.name === place.soilZone)!;
    const { moisture, moistureFrom, spots, marginRangeN, informative } = parent.evidence;
    if (own.moisture !== moisture) {
      refused.push({
        finding: place.finding,
        soilZone: place.soilZone,
        why: `it was planted on ${groundWords(own.moisture)}, the rest of ${place.soilZone} on ${groundWords(moisture)}: the load of ${place.soilZone} for the state of the ground is the one to take`,
      });
      return false;
    }
    const learnt = { ...own, place: place.finding, moistureFrom, spots, marginRangeN, informative };
    // After its own soil zone, so that they stand side by side on cards and sheet.
    const after = found.findLastIndex(
      ({ evidence: { zone } }) => zone === place.of || isCutOf(zone, place.of),
    );
    found.splice(after + 1, 0, { ...parent, evidence: learnt, heldBackBy: holdBack(learnt) });
    return true;
  });
  return kept.length === places.length ? { zones: found, places, refused } : { ...again(kept), refused };

  function isCutOf(zone: number, of: number): boolean {
    return zone >= names.length && places[zone - names.length]?.of === of;
  }

  function again(left: readonly WantedCut[]): Pick<CutZones, "zones" | "places"> {
    return cutOut(analysis, physics, zones, left, smallestAreaHa, writing);
  }
}

/** The soil map with the places as zones of their soil's kind; their ground is drawn apart. */
function withPlaces(soil: SoilZones | null, places: readonly CutPlace[]): SoilZones {
  const of = <T>(values: readonly T[] | undefined, otherwise: T): T[] => [
    ...(values ?? []),
    ...places.map((place) => values?.[place.of] ?? otherwise),
  ];
  return {
    ...soil,
    names: [...(soil?.names ?? []), ...places.map(({ name }) => name)],
    polygons: soil?.polygons ?? [],
    texture: of(soil?.texture, null),
    drainage: of(soil?.drainage, null),
  };
}
