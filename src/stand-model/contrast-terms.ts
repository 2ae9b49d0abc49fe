/**
 * Fixed contrasts as terms: every plain way in which a part of the field can be short as a whole. They are tested before and
 * beside any search for places, so that "nothing wrong" can name what it covers.
 */
import type { Cells } from "../cells/cells.ts";
import { turnBetween } from "../numerics/angles.ts";
import type { Passes } from "../passes/passes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Exposure } from "./exposure.ts";
import { type GroundShares, overGround } from "./ground-shares.ts";
import { overPoints, type Points } from "./points.ts";
import { type Column, optionsOf, SHORTFALL_SLABS, type Term, type TermKind } from "./terms.ts";

/** Prior probability that each acts (our judgement, tuned on simulated fields of the side that is tuned on). */
const INCLUSION: Readonly<Partial<Record<TermKind, number>>> = {
  field: 0.3,
  "soil-zone": 0.1,
  "planting-day": 0.06,
  "seed-lot": 0.06,
  "change-point": 0.05,
  "bar-half": 0.12,
  section: 0.02,
  "track-rows": 0.03,
  "end-rows": 0.03,
  direction: 0.01,
  trend: 0.02,
};

export interface ContrastContext {
  field: Field;
  passes: Passes;
  cells: Cells;
  cellOf: Int32Array;
  shares: GroundShares;
  points: Points;
  exposure: Exposure;
  /** The same for positions known better than those of a receiver in the hand; null where counts are too few to tell. */
  closeExposure: Exposure | null;
}

/** Terms of all contrasts that this field has, the field as a whole first. */
export function contrastTerms(context: ContrastContext): Term[] {
  const { field, passes, cells, exposure, points } = context;
  const terms: Term[] = [];
  const add = (kind: TermKind, name: string, columns: readonly { column: Column; label: string }[]): void => {
    const options = columns.flatMap(({ column, label }) =>
      optionsOf(column, "place", 1 / columns.length, SHORTFALL_SLABS, label),
    );
    if (options.length > 0) terms.push({ kind, name, inclusion: INCLUSION[kind]!, options });
  };
  const ofCells = (inside: (cell: number) => number): Column => {
    const values = Float64Array.from({ length: cells.count }, (_, cell) => inside(cell));
    return { points: overGround(context.shares, values), cells: values };
  };
  // Rows blurred by an error larger than that of the counts make a loss look larger than it is: the counts choose.
  const ofRows = (rows: (row: number) => boolean, label: string): { column: Column; label: string }[] =>
    [exposure, context.closeExposure].flatMap((own, k) =>
      own
        ? [
            {
              column: { points: rowColumn(points, own, rows), cells: null },
              label: k > 0 ? `${label}, placed closely` : label,
            },
          ]
        : [],
    );

  add("field", "", [
    {
      column: {
        points: new Float64Array(points.count).fill(1),
        cells: new Float64Array(cells.count).fill(1),
      },
      label: "",
    },
  ]);
  const zones = field.soilZones?.names ?? [];
  if (zones.length > 1)
    zones.forEach((name, zone) => {
      add("soil-zone", name, [{ column: ofCells((cell) => zoneShare(cells, cell, zone)), label: name }]);
    });
  const dateOf = (cell: number): string | null => passes.passes[cells.pass[cell]! - 1]?.date ?? null;
  const days = distinct([...Array(cells.count).keys()].map(dateOf));
  if (days.length > 1)
    for (const day of days)
      add("planting-day", day, [{ column: ofCells((cell) => (dateOf(cell) === day ? 1 : 0)), label: day }]);
  const lots = lotShares(context);
  if (lots.length > 1)
    for (const { name, share } of lots)
      add("seed-lot", name, [{ column: ofCells((cell) => share[cell]!), label: name }]);
  add("change-point", "", changePoints(context, ofCells));

  const { rowUnits } = exposure;
  if (rowUnits >= 4) {
    const half = rowUnits / 2;
    add(
      "bar-half",
      "left",
      ofRows((row) => row <= half, "left"),
    );
    add(
      "bar-half",
      "right",
      ofRows((row) => row > rowUnits - half, "right"),
    );
    const given = field.planter.wings.filter(([from, to]) => to - from + 1 < rowUnits);
    const wings = given.length > 0 ? given : quarters(rowUnits);
    // Two wings are the two halves.
    if (wings.length > 2 || wings.some(([from, to]) => 2 * (to - from + 1) !== rowUnits))
      for (const [from, to] of wings)
        add(
          "section",
          `${from}-${to}`,
          ofRows((row) => row >= from && row <= to, `${from}-${to}`),
        );
    const tracks = field.planter.wheelTrackRows.filter((row) => row <= rowUnits);
    if (tracks.length > 0)
      add(
        "track-rows",
        tracks.join(","),
        ofRows((row) => tracks.includes(row), ""),
      );
  }
  const headland = (cell: number): number => (passes.passes[cells.pass[cell]! - 1]?.headland ? 1 : 0);
  if ([...Array(cells.count).keys()].some((cell) => headland(cell) === 1))
    add("end-rows", "", [{ column: ofCells(headland), label: "" }]);
  const first = passes.passes.find((pass) => !pass.headland)?.headingDeg;
  if (first !== undefined) {
    const along = (cell: number): number => {
      const pass = passes.passes[cells.pass[cell]! - 1]!;
      return !pass.headland && Math.abs(turnBetween(first, pass.headingDeg)) < 90 ? 1 : 0;
    };
    const against = (cell: number): number =>
      passes.passes[cells.pass[cell]! - 1]!.headland ? 0 : 1 - along(cell);
    add("direction", "first", [{ column: ofCells(along), label: "" }]);
    add("direction", "second", [{ column: ofCells(against), label: "" }]);
  }
  const last = passes.passes.length;
  const order = (cell: number): number => (last > 1 ? (cells.pass[cell]! - 1) / (last - 1) : 0);
  add("trend", "later", [{ column: ofCells((cell) => Math.max(0, 2 * order(cell) - 1)), label: "" }]);
  return terms;
}

/** Where nobody says which rows share a hopper or a wing: four parts of the bar; none of a narrow one. */
function quarters(rowUnits: number): [number, number][] {
  if (rowUnits < 8) return [];
  return [0, 1, 2, 3].map((part) => [
    Math.round((part * rowUnits) / 4) + 1,
    Math.round(((part + 1) * rowUnits) / 4),
  ]);
}

/** Passes that a side of a change in the order of planting has at least, as a share of all. */
const SHORTEST_SIDE = 0.12;

/** A change from one pass on, or up to one: cuts between passes, either side the short one. */
function changePoints(
  { passes, cells }: ContrastContext,
  ofCells: (inside: (cell: number) => number) => Column,
): { column: Column; label: string }[] {
  const last = passes.passes.length;
  const cuts: { column: Column; label: string }[] = [];
  const from = Math.max(2, Math.ceil(SHORTEST_SIDE * last));
  const step = Math.max(1, Math.round(last / 60));
  for (let cut = from; cut <= last - from; cut += step) {
    cuts.push({ column: ofCells((cell) => (cells.pass[cell]! > cut ? 1 : 0)), label: `from ${cut + 1}` });
    cuts.push({ column: ofCells((cell) => (cells.pass[cell]! <= cut ? 1 : 0)), label: `to ${cut}` });
  }
  return cuts;
}

function zoneShare(cells: Cells, cell: number, zone: number): number {
  const shares = cells.zoneShares;
  if (!shares) return cells.zone[cell] === zone ? 1 : 0;
  for (let k = shares.start[cell]!; k < shares.start[cell + 1]!; k++)
    if (shares.zone[k] === zone) return shares.share[k]!;
  return 0;
}

/** Share of each cell's records that each seed lot has. */
function lotShares({ field, cells, cellOf }: ContrastContext): { name: string; share: Float64Array }[] {
  const lots = field.log.labels.seedLot;
  if (!lots) return [];
  const records = new Int32Array(cells.count);
  const shares = lots.labels.map((name) => ({ name, share: new Float64Array(cells.count) }));
  for (let i = 0; i < cellOf.length; i++) {
    const cell = cellOf[i]!;
    if (cell < 0) continue;
    records[cell]!++;
    const lot = lots.codes[i]!;
    if (lot >= 0) shares[lot]!.share[cell]!++;
  }
  for (const { share } of shares) for (let c = 0; c < share.length; c++) share[c]! /= records[c]! || 1;
  return shares.filter(({ share }) => share.some((value) => value > 0));
}

/** Share of the counted rows of each point for which `rows` holds; an even share where the rows are not known. */
export function rowColumn(
  points: Points,
  { rowShare, rowUnits }: Exposure,
  rows: (row: number) => boolean,
): Float64Array {
  return overPoints(points, (spot) => {
    let sum = 0;
    for (let row = 1; row <= rowUnits; row++) if (rows(row)) sum += rowShare[spot * rowUnits + row - 1]!;
    return sum;
  });
}

function distinct(values: readonly (string | null)[]): string[] {
  return [...new Set(values.filter((value) => value !== null))].sort();
}
