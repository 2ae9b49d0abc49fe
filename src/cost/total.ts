/** The field's loss from those of its findings, with no ground paid for twice. */
import type { LossInterval, LossMoney } from "./money.ts";

/** A finding's loss and the ground it stands on. */
export interface LossOnGround {
  yieldShare: LossInterval | null;
  money: LossMoney | null;
  /** 1 for every piece of ground (record or cell) of the finding; length as `pieceAreaM2`. */
  inside: Uint8Array;
}

export interface TotalLoss {
  /** Sum over the findings, each with the ground counted for it; null where no finding has money. */
  money: LossMoney | null;
  /** Share of each finding's ground that is counted for it, 0..1, in the order given; 0 without a yield share. */
  countedShare: number[];
}

/**
 * Sum of the findings' losses. Ground under several findings is counted once, for the one that lost the largest share
 * there (of equals the first): two findings on one piece of ground mostly describe one loss. The limits are the sums of
 * the findings' limits, as if all erred the same way, because they share the response curve: wider than the level asks.
 * @param losses one entry a finding
 * @param pieceAreaM2 area of each piece of ground, m2
 */
export function totalLoss(losses: readonly LossOnGround[], pieceAreaM2: ArrayLike<number>): TotalLoss {
  const whole = new Float64Array(losses.length);
  const counted = new Float64Array(losses.length);
  for (let piece = 0; piece < pieceAreaM2.length; piece++) {
    const areaM2 = pieceAreaM2[piece]!;
    if (!(areaM2 > 0)) continue;
    let largest = -1;
    for (let finding = 0; finding < losses.length; finding++) {
      const { inside, yieldShare } = losses[finding]!;
      if (!inside[piece] || !yieldShare) continue;
      whole[finding]! += areaM2;
      if (largest < 0 || yieldShare.estimate > losses[largest]!.yieldShare!.estimate) largest = finding;
    }
    if (largest >= 0) counted[largest]! += areaM2;
  }
  const countedShare = losses.map((_, finding) =>
    whole[finding]! > 0 ? counted[finding]! / whole[finding]! : 0,
  );
  let money: LossMoney | null = null;
  losses.forEach(({ money: one, yieldShare }, finding) => {
    if (!one || !yieldShare) return;
    const share = countedShare[finding]!;
    money = {
      estimate: (money?.estimate ?? 0) + share * one.estimate,
      low: (money?.low ?? 0) + share * one.low,
      high: (money?.high ?? 0) + share * one.high,
      level: one.level,
      currency: one.currency,
    };
  });
  return { money, countedShare };
}
