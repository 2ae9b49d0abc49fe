/** The records of a loaded field as drawable ground. Runs in the worker. */
import type { Passes } from "../../src/passes/passes.ts";
import type { Field } from "../../src/vocabulary/field.ts";
import { PLANTING_VARIABLES } from "../../src/vocabulary/variables.ts";
import { emptyGround, type Ground, mercatorPerMetre, mercatorX, mercatorY } from "../protocol/ground.ts";

/** A record on no pass is drawn as a small square, this many metres wide. */
const SQUARE_M = 2;

/** Each record covers the ground it stands for. @param zoneOfRecord soil zone of each record */
export function groundFromRecords(field: Field, passes: Passes, zoneOfRecord: Int32Array): Ground {
  const { log, frame } = field;
  const count = log.recordCount;
  const first = count > 0 ? frame.toLonLat(log.x[0]!, log.y[0]!) : ([0, 0] as [number, number]);
  const ground = emptyGround(count, "records", first[0], first[1]);
  const middle = barMiddles(field, passes);
  for (let i = 0; i < count; i++) {
    const pass = passes.passOf[i] ?? 0;
    const moment = passes.momentOf[i] ?? -1;
    const heading = pass > 0 ? (passes.headingDeg[i]! * Math.PI) / 180 : 0;
    const onPass = pass > 0 && moment >= 0 && Number.isFinite(heading);
    const offset = onPass ? passes.offsetM[i]! || 0 : 0;
    const x = log.x[i]! + offset * Math.cos(heading);
    const y = log.y[i]! - offset * Math.sin(heading);
    const centreX = onPass ? middle.x[moment]! : x;
    const centreY = onPass ? middle.y[moment]! : y;
    const [longitude, latitude] = frame.toLonLat(centreX, centreY);
    const scale = mercatorPerMetre(latitude);
    const half = ((onPass ? passes.distanceM[i]! : SQUARE_M) / 2) * scale;
    const sideM = (x - centreX) * Math.cos(heading) - (y - centreY) * Math.sin(heading);
    ground.centre[2 * i] = mercatorX(longitude) - ground.origin[0];
    ground.centre[2 * i + 1] = mercatorY(latitude) - ground.origin[1];
    ground.along[2 * i] = Math.sin(heading) * half;
    ground.along[2 * i + 1] = -Math.cos(heading) * half;
    ground.lateral[2 * i] = sideM * scale;
    ground.lateral[2 * i + 1] = ((onPass ? passes.widthM[i]! : SQUARE_M) / 2) * scale;
    ground.pass[i] = pass;
    ground.rowUnit[i] = passes.rowUnitOf[i] ?? 0;
    ground.zone[i] = zoneOfRecord[i] ?? -1;
    ground.alongM[i] = passes.alongM[i] ?? 0;
  }
  for (const variable of PLANTING_VARIABLES) {
    const values = log.values[variable];
    if (values) ground.values[variable] = Float32Array.from(values);
  }
  return ground;
}

/** Middle of the bar at each moment: the mean of the places its records stand for. */
function barMiddles(field: Field, passes: Passes): { x: Float64Array; y: Float64Array } {
  const x = new Float64Array(passes.momentCount);
  const y = new Float64Array(passes.momentCount);
  const records = new Int32Array(passes.momentCount);
  for (let i = 0; i < field.log.recordCount; i++) {
    const moment = passes.momentOf[i]!;
    if (passes.passOf[i] === 0 || moment < 0) continue;
    const heading = (passes.headingDeg[i]! * Math.PI) / 180;
    const offset = passes.offsetM[i]! || 0;
    x[moment] = x[moment]! + field.log.x[i]! + offset * Math.cos(heading);
    y[moment] = y[moment]! + field.log.y[i]! - offset * Math.sin(heading);
    records[moment] = records[moment]! + 1;
  }
  for (let k = 0; k < passes.momentCount; k++) {
    const n = records[k] || 1;
    x[k] = x[k]! / n;
    y[k] = y[k]! / n;
  }
  return { x, y };
}
