/** Where the invented field is counted and dug: random spots that lie on a row of one pass. */
import type { Random } from "../src/numerics/random.ts";
import type { Position } from "./frame.ts";
import type { Ground } from "./ground.ts";
import { pick } from "./noise.ts";
import { OUTLINE, type PlantedPass, passAt, positionOn, rowOffsetM } from "./passes.ts";
import {
  BAR_WIDTH_M,
  DUSTY_SENSOR_ROW,
  type PlaceName,
  ROW_SPACING_M,
  ROW_UNITS,
  SHALLOW_ROW,
} from "./scenario.ts";

/** Rows counted or dug side by side on one pass, from the first to the last row unit. */
export interface Spot {
  position: Position;
  pass: PlantedPass;
  firstRow: number;
  lastRow: number;
}

/**
 * Spots spread over the whole field: one at random in each square of a grid; the squares are made as
 * large as gives at least `count` spots, and the surplus is dropped at random.
 * @param rows rows side by side at a spot; @param lengthM row length, all of it on one pass.
 */
export function spreadSpots(
  random: Random,
  { passes }: Ground,
  count: number,
  rows: number,
  lengthM: number,
): Spot[] {
  const east = Math.max(...OUTLINE.map(([u]) => u));
  const north = Math.max(...OUTLINE.map(([, v]) => v));
  for (let sideM = 75; ; sideM -= 0.5) {
    const spots: Spot[] = [];
    for (let v = 0; v < north; v += sideM) {
      for (let u = 0; u < east; u += sideM) {
        const spot = spotAt([u + sideM * random(), v + sideM * random()], rows, lengthM, passes);
        if (spot) spots.push(spot);
      }
    }
    if (spots.length < count) continue;
    while (spots.length > count) spots.splice(Math.floor(random() * spots.length), 1);
    return spots;
  }
}

/** The spot of so many whole rows nearest to a position; null where the pass ends too near. */
function spotAt(wanted: Position, rows: number, lengthM: number, passes: Ground["passes"]): Spot | null {
  const found = passAt(wanted, passes);
  if (!found) return null;
  const { pass, alongM, rightM } = found;
  if (alongM < lengthM / 2 || alongM > pass.lengthM - lengthM / 2) return null;
  const nearest = Math.round((rightM + BAR_WIDTH_M / 2) / ROW_SPACING_M - rows / 2) + 1;
  const firstRow = Math.max(1, Math.min(ROW_UNITS - rows + 1, nearest));
  const lastRow = firstRow + rows - 1;
  const middleM = (rowOffsetM(firstRow) + rowOffsetM(lastRow)) / 2;
  return { position: positionOn(pass, alongM, middleM), pass, firstRow, lastRow };
}

export interface Wanted {
  /** Place all of the spot lies in; null for ordinary ground. */
  place: PlaceName | null;
  /** Row unit, or any of those with nothing special. */
  rowUnit: number | "any";
  day?: 1 | 2;
}

/** One row at a random spot that fits, on no pass that is used already. */
export function oneRowSpot(
  random: Random,
  { passes, placeAt }: Ground,
  wanted: Wanted,
  lengthM: number,
  used: Set<number>,
): Spot {
  for (let attempt = 0; attempt < 100_000; attempt++) {
    const pass = pick(random, passes);
    if (used.has(pass.number) || pass.headland || (wanted.day ?? pass.day) !== pass.day) continue;
    const rowUnit = wanted.rowUnit === "any" ? 1 + Math.floor(random() * ROW_UNITS) : wanted.rowUnit;
    const special = rowUnit === SHALLOW_ROW.rowUnit || rowUnit === DUSTY_SENSOR_ROW.rowUnit;
    if (wanted.rowUnit === "any" && special) continue;
    const alongM = lengthM / 2 + random() * (pass.lengthM - lengthM);
    const at = (offsetM: number) => positionOn(pass, alongM + offsetM, rowOffsetM(rowUnit));
    const fits = [-lengthM / 2, 0, lengthM / 2].every((offset) => placeAt(at(offset), pass) === wanted.place);
    if (!fits) continue;
    used.add(pass.number);
    return { position: at(0), pass, firstRow: rowUnit, lastRow: rowUnit };
  }
  throw new RangeError(`no spot fits ${JSON.stringify(wanted)}`);
}
