/**
 * Connected places where the planting log lets a loss of stand be expected. The log alone proves nothing: in a forgiving
 * spring such places come up well.
 */
import type { Cells } from "../cells/cells.ts";
import type { Neighbours } from "../cells/neighbours.ts";
import { closeHoles, connectedParts } from "../cells/neighbours.ts";

export interface GuidedOptions {
  /** Smallest expected loss of stand for a cell to belong to a place, share (our judgement). */
  minimumLoss: number;
  /** Smallest place, m2: 0.2 ha, about what can be seen on the ground and driven to (our judgement). */
  minimumAreaM2: number;
  /** Places of different factors with at least this share of their joint cells in common are one (our judgement). */
  mergeShare: number;
}

const GUIDED_DEFAULTS: GuidedOptions = { minimumLoss: 0.025, minimumAreaM2: 2000, mergeShare: 0.6 };

/** A connected place where the log predicts a loss. */
export interface RiskRegion {
  /** Factors behind it, the largest mean loss first. */
  factors: string[];
  /** Cell indices, ascending. */
  cells: Int32Array;
  areaM2: number;
  /** Mean predicted loss of stand by its factors together, share. */
  meanLoss: number;
}

/**
 * Finds the places.
 * @param losses predicted loss of stand by factor, share, one entry a cell (0 where none)
 * @returns regions by factor order and place; of two that cover about the same ground one is kept, with both factors.
 */
export function findRiskRegions(
  cells: Cells,
  neighbours: Neighbours,
  losses: Readonly<Record<string, Float64Array>>,
  options: Partial<GuidedOptions> = {},
): RiskRegion[] {
  const settings = { ...GUIDED_DEFAULTS, ...options };
  const found: { factors: string[]; cells: Int32Array }[] = [];
  for (const [factor, loss] of Object.entries(losses)) {
    const smooth = smoothAlongPass(cells, loss);
    const marked = Uint8Array.from(smooth, (value) => (value >= settings.minimumLoss ? 1 : 0));
    closeHoles(marked, neighbours);
    for (const part of connectedParts(marked, neighbours)) {
      if (areaOf(cells, part) < settings.minimumAreaM2) continue;
      mergeInto(found, factor, part, settings.mergeShare);
    }
  }
  return found.map((region) => {
    const meanOf = (factor: string): number => meanAt(losses[factor]!, region.cells);
    const factors = [...region.factors].sort((a, b) => meanOf(b) - meanOf(a));
    return {
      factors,
      cells: region.cells,
      areaM2: areaOf(cells, region.cells),
      meanLoss: factors.reduce((sum, factor) => sum + meanOf(factor), 0),
    };
  });
}

/** Mean of each cell and the pieces before and after it on its pass, so that one noisy cell neither makes nor splits a place. */
function smoothAlongPass(cells: Cells, values: Float64Array): Float64Array {
  const order = [...cells.pass.keys()].sort(
    (a, b) => cells.pass[a]! - cells.pass[b]! || cells.piece[a]! - cells.piece[b]!,
  );
  const smooth = new Float64Array(values.length);
  order.forEach((cell, position) => {
    let sum = values[cell]!;
    let count = 1;
    for (const step of [-1, 1]) {
      const other = order[position + step];
      if (other === undefined || cells.pass[other] !== cells.pass[cell]) continue;
      if (cells.piece[other] !== cells.piece[cell]! + step) continue;
      sum += values[other]!;
      count++;
    }
    smooth[cell] = sum / count;
  });
  return smooth;
}

function mergeInto(
  found: { factors: string[]; cells: Int32Array }[],
  factor: string,
  part: Int32Array,
  mergeShare: number,
): void {
  const own = new Set(part);
  for (const region of found) {
    if (region.factors.includes(factor)) continue;
    const shared = region.cells.reduce((count, cell) => count + (own.has(cell) ? 1 : 0), 0);
    const joint = region.cells.length + part.length - shared;
    if (shared < mergeShare * joint) continue;
    region.factors.push(factor);
    region.cells = Int32Array.from(new Set([...region.cells, ...part])).sort();
    return;
  }
  found.push({ factors: [factor], cells: part });
}

function areaOf(cells: Cells, members: Int32Array): number {
  let area = 0;
  for (const cell of members) area += cells.areaM2[cell]!;
  return area;
}

function meanAt(values: Float64Array, members: Int32Array): number {
  let sum = 0;
  for (const member of members) sum += values[member]!;
  return sum / members.length;
}
