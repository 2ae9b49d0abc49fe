/** Which seed lot each record was planted with, from polygons of lots. */
import { booleanPointInPolygon } from "@turf/turf";
import { type Extent, emptyExtent, extentOfPolygons } from "./extent.ts";
import type { InputReport, LocalPolygon, PlantingLog } from "./field.ts";
import type { NamedPolygons } from "./load-zones.ts";

/** Sets the log's seed lots by the polygon each record lies in; lots that the log carries itself stay. */
export function assignSeedLots(log: PlantingLog, lots: NamedPolygons, report: InputReport): void {
  if (log.labels.seedLot) {
    report.notes.push({
      reason: "the log carries seed lots itself; the polygons of seed lots are not used",
      effect: "kept",
      count: log.recordCount,
      field: null,
      firstRecord: null,
      value: null,
    });
    return;
  }
  const boxed = lots.polygons.map(({ zone, rings }) => ({ zone, rings, extent: extentOfPolygons([rings]) }));
  let last = { zone: -1, rings: [] as LocalPolygon, extent: emptyExtent() };
  const codes = new Int32Array(log.recordCount);
  for (let record = 0; record < log.recordCount; record++) {
    const [x, y] = [log.x[record]!, log.y[record]!];
    // Records follow each other on the ground: the lot before is tried first.
    const lot = isInside(x, y, last) ? last : boxed.find((one) => isInside(x, y, one));
    if (lot) last = lot;
    codes[record] = lot?.zone ?? -1;
  }
  log.labels.seedLot = { codes, labels: lots.names };
}

function isInside(x: number, y: number, { rings, extent }: { rings: LocalPolygon; extent: Extent }): boolean {
  if (x < extent.minimumX || x > extent.maximumX || y < extent.minimumY || y > extent.maximumY) return false;
  return booleanPointInPolygon([x, y], { type: "Polygon", coordinates: rings });
}
