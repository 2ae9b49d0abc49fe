/** `evenstand replant`: keep the stand or replant it, by the published worksheets. */
import type { Gaps } from "../../cost/replant.ts";
import { loadField } from "../../field/load.ts";
import { analyseField } from "../../jobs/analyse.ts";
import { boundedQuantity } from "../../quantities/bounded-quantity.ts";
import { parseGrainPrice, parseYield } from "../../quantities/prices.ts";
import { ACRES_PER_HECTARE } from "../../quantities/units.ts";
import { type ReplantOptions, replantPlan } from "../../replant/replant-plan.ts";
import { replantText } from "../../replant/replant-text.ts";
import { dayNumber } from "../../stand/calendar.ts";
import { openCommandField } from "../files/field-of-command.ts";
import { asOption } from "../terminal/as-option.ts";
import { CommandLineError } from "../terminal/failure.ts";
import { type Io, mayStyle } from "../terminal/io.ts";
import { bold, cleanedJson } from "../terminal/printed.ts";
import { textWidth } from "../terminal/text-width.ts";

export interface ReplantFlags {
  on?: string;
  stand?: string;
  replantStand?: string;
  destroyCost?: string;
  plantCost?: string;
  seedCost?: string;
  otherCost?: string;
  insurance?: string;
  grain?: string;
  expectedYield?: string;
  gaps: Gaps;
  json?: boolean;
  allowOutside?: boolean;
}

/** Prints the plan, in words or with `json` as the document itself. */
export async function replant(field: string, flags: ReplantFlags, io: Io): Promise<void> {
  const given = optionsOf(flags);
  const { manifest, files } = await openCommandField(field, flags.allowOutside ?? false, io);
  const loaded = await loadField(manifest, files.open);
  asOption("--grain", () => {
    if (flags.grain === undefined) return;
    const { perBushel, currency } = parseGrainPrice(flags.grain, loaded.crop, "--grain");
    loaded.prices = { ...loaded.prices, grainPerBushel: perBushel, currency };
  });
  asOption("--expected-yield", () => {
    if (flags.expectedYield === undefined) return;
    const expectedBushelPerAcre = parseYield(flags.expectedYield, loaded.crop, "--expected-yield");
    loaded.prices = { ...loaded.prices, expectedBushelPerAcre };
  });
  for (const { option, currency } of given.currencies) {
    if (currency !== loaded.prices.currency)
      throw new CommandLineError(
        `${option} is in ${currency}, the prices of the field in ${loaded.prices.currency}; one currency is needed`,
        { value: currency, accepted: loaded.prices.currency },
      );
  }
  const { document } = await analyseField(loaded);
  const plan = replantPlan(loaded, document, given.options);
  if (flags.json) {
    io.out(cleanedJson(`${JSON.stringify(plan, null, 1)}\n`));
    return;
  }
  const emphasise = mayStyle(io) ? bold : (text: string) => text;
  io.out(replantText(plan, { width: textWidth(io), emphasise }));
}

/** Plants that may stand: none, up to the densest cereal (our judgement). */
const STAND_BOUND = {
  unit: "plants/ha",
  lowest: 0,
  highest: 10_000_000,
  shown: "0 plants/ac to 4,046,856 plants/ac",
};

function optionsOf(flags: ReplantFlags): {
  options: ReplantOptions;
  currencies: { option: string; currency: string }[];
} {
  const currencies: { option: string; currency: string }[] = [];
  const cost = (option: string, text: string | undefined): number | null => {
    if (text === undefined) return null;
    const { perAcre, currency } = parseCost(option, text);
    currencies.push({ option, currency });
    return perAcre;
  };
  const stand = (option: string, text: string | undefined): number | null =>
    text === undefined ? null : asOption(option, () => boundedQuantity(text, STAND_BOUND, option));
  const { on } = flags;
  if (on !== undefined) asOption("--on", () => dayNumber(on));
  return {
    options: {
      replantIsoDate: on ?? null,
      gaps: flags.gaps,
      standPerHa: stand("--stand", flags.stand),
      replantStandPerHa: stand("--replant-stand", flags.replantStand),
      costs: {
        destroy: cost("--destroy-cost", flags.destroyCost),
        plant: cost("--plant-cost", flags.plantCost),
        seed: cost("--seed-cost", flags.seedCost),
        other: cost("--other-cost", flags.otherCost),
        insurance: cost("--insurance", flags.insurance),
      },
    },
    currencies,
  };
}

/** Beyond any cost in any currency (our judgement): a slip of the keyboard. */
const MOST_MONEY = 1e9;

/** "12.50 USD/ac" or "30 EUR/ha" as money an acre. */
function parseCost(option: string, text: string): { perAcre: number; currency: string } {
  const match = /^\s*(\d{1,3}(?:,\d{3})+|\d+)(\.\d+)?\s*([A-Z]{3})\s*\/\s*(ac|ha)\s*$/.exec(text);
  if (!match)
    throw new CommandLineError(
      `${option} "${text}" cannot be read; write a number, a currency of three letters and /ac or /ha, such as "12.50 USD/ac"`,
      { value: text, accepted: '"12.50 USD/ac"' },
    );
  const money = Number(match[1]!.replaceAll(",", "") + (match[2] ?? ""));
  if (money > MOST_MONEY)
    throw new CommandLineError(`${option} "${text}" cannot be; up to ${MOST_MONEY} is accepted`, {
      value: text,
      accepted: `up to ${MOST_MONEY}`,
    });
  return { perAcre: match[4] === "ac" ? money : money / ACRES_PER_HECTARE, currency: match[3]! };
}
