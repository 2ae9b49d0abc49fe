/** Where the rows of a case lie: lanes, passes, spots, degrees. */
import { parseQuantity } from "../../src/quantities/units.ts";
import type { By, CaseSetup, Spot, Zone } from "./case-setup.ts";

const METRES_PER_DEGREE_NORTH = 111_075;
const ORIGIN = { longitude: -93.6, latitude: 42 };
const METRES_PER_DEGREE_EAST = METRES_PER_DEGREE_NORTH * Math.cos((ORIGIN.latitude * Math.PI) / 180);

const FOOT_M = parseQuantity("1 ft", "m");
const INCH_M = parseQuantity("1 in", "m");
const ACRE_M2 = 43_560 * FOOT_M ** 2;

/** Degrees of a place in metres east and north of the field's corner. */
export function degreesAt(x: number, y: number): [longitude: number, latitude: number] {
  return [
    round(ORIGIN.longitude + x / METRES_PER_DEGREE_EAST, 7),
    round(ORIGIN.latitude + y / METRES_PER_DEGREE_NORTH, 7),
  ];
}

export function valueAt<Value>(by: By<Value>, spot: Spot): Value {
  return typeof by === "function" ? (by as (spot: Spot) => Value)(spot) : by;
}

export function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

export class CaseGround {
  readonly spacingM: number;
  readonly barM: number;
  /** Lane of each pass. */
  readonly lanes: readonly number[];
  private readonly setup: CaseSetup;

  constructor(setup: CaseSetup) {
    this.setup = setup;
    this.spacingM = setup.rowSpacingIn * INCH_M;
    this.barM = setup.rows * this.spacingM;
    const lanes = Math.round(setup.widthM / this.barM);
    this.lanes = setup.lanes ?? Array.from({ length: lanes }, (_, lane) => lane);
  }

  /** Metres of one row that are 1/1000 ac. */
  get thousandthM(): number {
    return ACRE_M2 / 1000 / this.spacingM;
  }

  /** Acres of a length of one row, m. */
  acresOf(lengthM: number): number {
    return (lengthM * this.spacingM) / ACRE_M2;
  }

  isNorthward(pass: number): boolean {
    return pass % 2 === 1;
  }

  /** The row of a pass at a way north of the south end. */
  spot(pass: number, row: number, y: number): Spot {
    const { setup } = this;
    const north = this.isNorthward(pass);
    const right = (row - (setup.rows + 1) / 2) * this.spacingM;
    const middle = setup.eastM + (this.lanes[pass - 1]! + 0.5) * this.barM;
    const x = middle + (north ? right : -right);
    return {
      x,
      y,
      row,
      pass,
      north,
      zone: nameAt(setup.soil, x, y),
      lot: nameAt(setup.lots, x, y),
      passes: this.lanes.length,
      date: setup.dateOf(pass, this.lanes.length),
      fromEndM: Math.min(y, setup.lengthM - y),
    };
  }

  /** The last pass planted at a place, and the first of `rows` rows side by side that lie there. */
  rowsAt(x: number, rows: number): { pass: number; row: number } {
    const lane = Math.floor((x - this.setup.eastM) / this.barM);
    const pass = this.lanes.lastIndexOf(lane) + 1;
    if (pass === 0) throw new Error(`no pass lies at ${x} m`);
    const inside = x - this.setup.eastM - lane * this.barM;
    const fromLeft = this.isNorthward(pass) ? inside : this.barM - inside;
    const row = Math.round(fromLeft / this.spacingM - rows / 2) + 1;
    return { pass, row: Math.min(Math.max(row, 1), this.setup.rows - rows + 1) };
  }
}

function nameAt(zones: readonly Zone[] | null, x: number, y: number): string {
  return zones?.find((z) => x >= z.west && x < z.east && y >= z.south && y < z.north)?.name ?? "";
}

/** Metres east and north of the field's corner of a place in degrees. */
export function metresAt([longitude, latitude]: readonly [number, number]): [x: number, y: number] {
  return [
    (longitude - ORIGIN.longitude) * METRES_PER_DEGREE_EAST,
    (latitude - ORIGIN.latitude) * METRES_PER_DEGREE_NORTH,
  ];
}
