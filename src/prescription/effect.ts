/** What a prescription is expected to do: plants and money, a zone and the whole field, for one season like the logged one. */
import { type LossInput, lossOf } from "../cost/loss.ts";
import type { LossMoney } from "../cost/money.ts";
import { Z90 } from "../numerics/distributions.ts";
import { referencePopulation } from "../stand/spots.ts";
import type { Field } from "../vocabulary/field.ts";
import type { GainEstimate, ZoneDecision } from "./prescription.ts";

interface ZoneEffect {
  soilZone: string;
  /** Stand points against keeping today's load, shares of target; null where no gain is worked out. */
  gainShare: GainEstimate | null;
  /** Below zero where the change may cost; null where no gain, no price or no yield is known. */
  money: LossMoney | null;
}

export interface PrescriptionEffect {
  zones: ZoneEffect[];
  /** Mean over the ground of all zones, by area; a zone without a worked-out gain counts as no gain. */
  gainShare: GainEstimate | null;
  money: LossMoney | null;
  /** Plants gained on the whole field; null where the target is not known. */
  plants: number | null;
  /** What was assumed, in plain words. */
  notes: string[];
}

type Decided = Pick<ZoneDecision, "soilZone" | "areaHa" | "gainShare">;

/**
 * Effect of the loads prescribed, each zone against today's load there. Money runs through the same published response
 * of yield to missing plants as the findings' losses (`lossOf`); plants regained count as plants no longer missing.
 * The ends of the zones' intervals are added up for the field, which makes that interval rather too wide than too
 * narrow: the zones share one prior, so their errors are not independent (our judgement).
 */
export function prescriptionEffect(decisions: readonly Decided[], field: Field): PrescriptionEffect {
  const notes = new Set<string>();
  const zones = decisions.map(({ soilZone, areaHa, gainShare }): ZoneEffect => {
    const money = gainShare && moneyOfGain(gainShare, areaHa, field, notes);
    return { soilZone, gainShare, money };
  });
  const known = decisions.filter((decision) => decision.gainShare !== null);
  const areaHa = decisions.reduce((sum, decision) => sum + decision.areaHa, 0);
  if (known.length === 0 || !(areaHa > 0))
    return { zones, gainShare: null, money: null, plants: null, notes: [...notes] };
  const level = known[0]!.gainShare!.level;
  const mean = (end: "estimate" | "low" | "high") =>
    known.reduce((sum, decision) => sum + decision.areaHa * decision.gainShare![end], 0) / areaHa;
  const gainShare = { estimate: mean("estimate"), low: mean("low"), high: mean("high"), level };
  const target = referencePopulation(field);
  return {
    zones,
    gainShare,
    money: sumOf(zones.map(({ money }) => money)),
    plants: target === null ? null : gainShare.estimate * areaHa * target,
    notes: [...notes],
  };
}

/** Null where the loss such a gain takes away cannot be priced. */
function moneyOfGain(gain: GainEstimate, areaHa: number, field: Field, notes: Set<string>): LossMoney | null {
  const lossOfPoints = (estimate: number, standardError: number) => {
    const input: LossInput = {
      crop: field.crop,
      plantedIsoDate: field.planted,
      deficitShare: { estimate, standardError },
      targetPerHa: referencePopulation(field),
      standElsewherePerHa: null,
      arrangement: "unknown",
      lateShare: null,
      areaHa,
      prices: field.prices,
    };
    return lossOf(input);
  };
  const size = lossOfPoints(Math.abs(gain.estimate), (gain.high - gain.low) / (2 * Z90));
  if (!size.money) return null;
  if (size.table) notes.add(`yield from plants by ${size.table.title}`);
  const { estimate, low, high, currency } = size.money;
  const gains = gain.estimate >= 0;
  // A loss is cut off at nothing: where the interval goes beyond, that end is priced by itself, from its far side.
  const beyond = gains ? -gain.low : gain.high;
  const other = beyond > 0 ? -(lossOfPoints(beyond, 0).money?.high ?? 0) : low;
  return gains
    ? { estimate, low: other, high, level: gain.level, currency }
    : { estimate: -estimate, low: -high, high: -other, level: gain.level, currency };
}

function sumOf(parts: readonly (LossMoney | null)[]): LossMoney | null {
  const known = parts.filter((part) => part !== null);
  if (known.length === 0) return null;
  const sum = (end: "estimate" | "low" | "high") => known.reduce((total, part) => total + part[end], 0);
  return { ...known[0]!, estimate: sum("estimate"), low: sum("low"), high: sum("high") };
}
