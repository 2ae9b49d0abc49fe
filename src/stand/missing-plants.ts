/**
 * Yield lost to missing plants. Two readings are published and they disagree widely at normal stands: a thinner stand
 * evenly spaced loses next to nothing (28,000 against 32,000 plants/ac: 0 %), a plant missing from a full row loses
 * four fifths of itself (10 % skips: 8 %). Which one holds depends on how the missing plants lie.
 */
import { ACRES_PER_HECTARE } from "../quantities/units.ts";
import { lowestStandPerHa, type StandCurve, yieldShareOnCurve } from "./yield-potential.ts";

/** How the missing plants lie: the row evenly thinner, single plants gone from a full row, or not known. */
export type Arrangement = "even" | "gaps" | "unknown";

/**
 * Share of a missing plant that its two neighbours make up for, by stand (thousand plants/ac):
 * Nafziger 1996, J. Prod. Agric. 9:238-240. North Dakota State Univ. found 0.2 (10 % skips cost 8 %) and, plant by
 * plant, 0.22 (a plant beside a skip yields 111 %).
 */
export const RECOVERED_BY_NEIGHBOURS: readonly (readonly [thousandPlantsPerAcre: number, share: number])[] = [
  [18, 0.47],
  [30, 0.19],
];

/** Uncertainty of that share, plus or minus (our judgement: the studies lie within 0.03 of each other at 30,000). */
export const RECOVERED_HALF_RANGE = 0.1;

/**
 * Extra loss of a soybean stand for each share of its plants gone in gaps: 70,000 plants/ac gave 92.5 % even and 83 %
 * with 40 % of the row in gaps (Pennsylvania State Univ.); a straight line through it (our judgement).
 */
export const SOYBEAN_GAP_SLOPE = (1 - 83 / 92.5) / 0.4;

export interface StandLossInput {
  /** Stand where nothing is wrong and stand in question, plants/ha. */
  standElsewherePerHa: number;
  standInsidePerHa: number;
  /** The published response to the stand at the planting date. */
  curve: StandCurve;
  /** 0 evenly thinner .. 1 all in gaps; between, the two losses are mixed in proportion. */
  gapWeight: number;
  /** Added to the published recovery by the neighbours, -1..1; 0 where not given. */
  recoveredShift?: number;
}

/**
 * Yield lost to missing plants against the stand elsewhere, share <= 1; negative where the stand in question yields
 * more. A missing plant is paid for once: here, and not again by the spacing it leaves. Null where the table has no
 * readable figure.
 *
 * Even: 1 - Y(inside) / Y(elsewhere) with Y the table, and a straight line to nothing below its thinnest stand (our
 * judgement). Gaps, corn: m (1 - r (1 - m)) with m the missing share and r the recovery at the stand elsewhere; the
 * factor 1 - m because only a neighbour that stands can make up (our judgement). A stand thicker than elsewhere has no
 * gaps: the table alone speaks.
 */
export function standLoss(input: StandLossInput): number | null {
  const { standElsewherePerHa, standInsidePerHa, gapWeight } = input;
  const even = evenLoss(input);
  const missing = 1 - standInsidePerHa / standElsewherePerHa;
  if (even === null || missing <= 0) return even;
  return (1 - gapWeight) * even + gapWeight * gapLoss(input, missing, even);
}

function evenLoss(input: StandLossInput): number | null {
  const inside = yieldDownToNothing(input.standInsidePerHa, input.curve);
  const elsewhere = yieldDownToNothing(input.standElsewherePerHa, input.curve);
  return inside === null || elsewhere === null ? null : 1 - inside / elsewhere;
}

function gapLoss(input: StandLossInput, missing: number, even: number): number {
  if (input.curve.table.crop === "soybean") return 1 - (1 - even) * (1 - SOYBEAN_GAP_SLOPE * missing);
  const recovered = recoveredByNeighbours(input.standElsewherePerHa) + (input.recoveredShift ?? 0);
  return missing * (1 - recovered * (1 - missing));
}

/** Share of the best yield by the table, and below its thinnest stand a straight line to nothing (our judgement). */
export function yieldDownToNothing(standPerHa: number, curve: StandCurve): number | null {
  const { share } = yieldShareOnCurve(standPerHa, curve);
  const lowest = lowestStandPerHa(curve.table);
  return share === null ? null : share * Math.min(1, standPerHa / lowest);
}

/** Share of a missing corn plant that its neighbours make up for at a stand, 0.19..0.47; held flat outside 18,000 to 30,000/ac. */
export function recoveredByNeighbours(standPerHa: number): number {
  const [[thin, thinShare], [full, fullShare]] = RECOVERED_BY_NEIGHBOURS as [
    readonly [number, number],
    readonly [number, number],
  ];
  const thousandPerAcre = standPerHa / ACRES_PER_HECTARE / 1000;
  const weight = Math.min(1, Math.max(0, (thousandPerAcre - thin) / (full - thin)));
  return thinShare + weight * (fullShare - thinShare);
}
