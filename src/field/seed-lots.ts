/** Which seed lot each record was planted with, from polygons of lots. */
import { booleanPointInPolygon } from "@turf/boolean-point-in-polygon";
import type { Extent } from "../ingest/index.ts";
import type { InputReport, LocalPolygon, PlantingLog } from "../vocabulary/field.ts";
import { extentOfPolygons } from "./extent.ts";
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
  let last: (typeof boxed)[number] | undefined;
  const codes = new Int32Array(log.recordCount);
  for (let record = 0; record < log.recordCount; record++) {
    const [x, y] = [log.x[record]!, log.y[record]!];
    // Records follow each other on the ground: the lot before is tried first.
    const lot = last && isInside(x, y, last) ? last : boxed.find((one) => isInside(x, y, one));
    if (lot) last = lot;
    codes[record] = lot?.zone ?? -1;
  }
  log.labels.seedLot = { codes, labels: lots.names };
}

function isInside(
  x: number,
  y: number,
  { rings, extent }: { rings: LocalPolygon; extent: Extent | null },
): boolean {
  if (!extent || x < extent.minX || x > extent.maxX || y < extent.minY || y > extent.maxY) return false;
  return booleanPointInPolygon([x, y], { type: "Polygon", coordinates: rings });
}
