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
  /** Finding that each piece of ground is counted for, -1 for none. */
  countedFor: Int32Array;
  /** Area of each finding's ground, m2; 0 without a yield share. */
  groundM2: Float64Array;
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
  const countedFor = new Int32Array(pieceAreaM2.length).fill(-1);
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
    if (largest < 0) continue;
    counted[largest]! += areaM2;
    countedFor[piece] = largest;
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
  return { money, countedShare, countedFor, groundM2: whole };
}

export interface LossOfGroup {
  /** Number of the soil zone, or of the row unit. */
  group: number;
  /** Ground of the group that lost something, m2. */
  areaM2: number;
  money: LossMoney;
}

/**
 * The field's loss by soil zone or by row unit. A finding's money is spread evenly over its ground; ground under several
 * findings is paid for once, so that the parts sum to the field's loss, less what lies on ground of no group.
 * @param total as {@link totalLoss} gives it for the same losses and pieces
 * @param groupOf group of each piece; pieces with a number below `least` belong to none
 * @returns groups that lost money, by number
 */
export function lossByGroup(
  losses: readonly LossOnGround[],
  pieceAreaM2: ArrayLike<number>,
  total: TotalLoss,
  groupOf: ArrayLike<number>,
  least: number,
): LossOfGroup[] {
  const groups = new Map<number, LossOfGroup>();
  for (let piece = 0; piece < pieceAreaM2.length; piece++) {
    const finding = total.countedFor[piece]!;
    const group = groupOf[piece]!;
    if (finding < 0 || !(group >= least)) continue;
    const { money } = losses[finding]!;
    if (!money) continue;
    const areaM2 = pieceAreaM2[piece]!;
    const share = areaM2 / total.groundM2[finding]!;
    const before = groups.get(group);
    groups.set(group, {
      group,
      areaM2: (before?.areaM2 ?? 0) + areaM2,
      money: {
        estimate: (before?.money.estimate ?? 0) + share * money.estimate,
        low: (before?.money.low ?? 0) + share * money.low,
        high: (before?.money.high ?? 0) + share * money.high,
        level: money.level,
        currency: money.currency,
      },
    });
  }
  return [...groups.values()].sort((a, b) => a.group - b.group);
}
