/** `evenstand replant`: keep or replant, for the whole field and for each counted place, by every table of the crop. */
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import { gapWeightOf } from "../cost/loss.ts";
import type { Gaps, KeepOrReplant, LatePlants } from "../cost/replant.ts";
import { GAP_DEDUCTION, keepOrReplant } from "../cost/replant.ts";
import { ManifestError } from "../errors.ts";
import type { FindingsDocument } from "../findings/findings-document.ts";
import { type ReplantBasis, replantBasis } from "../findings/replant-basis.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import { ACRES_PER_HECTARE } from "../quantities/units.ts";
import { dayNumber, isoDateOf } from "../stand/calendar.ts";
import { STAND_DATE_TABLES, type StandDateTable } from "../stand/published-tables.ts";
import { lowestStandPerHa } from "../stand/yield-potential.ts";
import type { Field } from "../vocabulary/field.ts";

export const REPLANT_SCHEMA = "evenstand/replant/1";

/** Share of the seeds that stand after planting into warm ground: 90 to 95 % (Purdue Univ.), the middle. */
export const STAND_SUCCESS = 0.925;

/** Days from the counting to the earliest replanting that is taken where no date is given (our judgement). */
export const DAYS_TO_REPLANT = 10;

/** Patches smaller than this are seldom worth replanting: 1 ac (Iowa State Univ. 1999). */
export const SMALLEST_PATCH_HA = 1 / ACRES_PER_HECTARE;

/** Replanting dearer than this share of the crop is asked about (our judgement: usual sums are 10 to 25 %). */
const DEAR_REPLANTING = 0.4;

/** What replanting costs, money an acre; null where the user gave no figure. */
export interface ReplantCosts {
  destroy: number | null;
  plant: number | null;
  seed: number | null;
  other: number | null;
  /** What the insurer pays towards it: taken off. */
  insurance: number | null;
}

export interface ReplantOptions {
  /** ISO date of the replanting; null: ten days after the last count. */
  replantIsoDate: string | null;
  costs: ReplantCosts;
  gaps: Gaps;
  /** Stand of the whole field where nobody counted, or in place of the counts, plants/ha. */
  standPerHa: number | null;
  /** Stand expected after replanting, plants/ha; null: the target times the usual success. */
  replantStandPerHa: number | null;
  /** False where nobody types options: the notes then do not name them. */
  namesOptions?: boolean;
}

export interface ReplantPlace {
  /** "field", or the id of a finding. */
  id: string;
  title: string;
  areaHa: number;
  /** Stand there with its limits (90 %), plants/ha; the limits are the stand itself where it was given. */
  standPerHa: { estimate: number; low: number; high: number };
  counts: number;
  /** Late plants there; null where nobody counted them. */
  late: LatePlants | null;
  /** Stand elsewhere, plants/ha, null for the whole field; and how far the missing plants are taken to lie in gaps, 0..1. */
  fullStandPerHa: number | null;
  gapWeight: number;
  /** By the table used first, then by the others. */
  byTable: KeepOrReplant[];
  notes: string[];
}

export interface ReplantPlan {
  schema: typeof REPLANT_SCHEMA;
  field: { name: string; crop: string; planted: string; replanted: string };
  settings: {
    grainPerBushel: number | null;
    expectedBushelPerAcre: number | null;
    currency: string;
    costPerAcre: number;
    costs: ReplantCosts;
    gaps: Gaps;
    gapDeduction: number;
    replantStandPerHa: number;
  };
  places: ReplantPlace[];
  /** What was assumed, left blank or left out. */
  notes: string[];
  cautions: string[];
}

export const REPLANT_CAUTIONS: readonly string[] = [
  "Before a stand is destroyed, have the insurer's adjuster look at it: cover for replanting may depend on it, and its dates are not in these figures.",
  "Read the labels of the herbicides already applied and of what would kill the old stand: they decide what may be planted, and when. Treated seed is handled as its label says, in gloves.",
  "The tables come from the Corn Belt of the United States. Ask your local extension office for dates, hybrids and varieties that still ripen where you are.",
  "A thin stand that is even keeps more yield than it looks. Wait until it is clear which plants live, count again, and dig before anything is destroyed. Follow the planter's operator's manual.",
];

/**
 * Weighs keeping against replanting.
 * @throws {ManifestError} when the field lacks what the sums cannot do without: a crop with a table, a planting date, a
 *   replanting date after it, a stand, a population
 */
export function replantPlan(field: Field, document: FindingsDocument, options: ReplantOptions): ReplantPlan {
  const basis = replantBasis(field);
  if (basis) return weighReplanting(basis, document, options);
  if (field.crop === "other")
    throw new ManifestError(
      'crop is "other": stand and date tables are known to us for corn and soybean only',
      {
        field: "crop",
        accepted: "corn or soybean",
      },
    );
  throw new ManifestError('the planting date is not known; write "planted" in the manifest', {
    field: "planted",
    accepted: "year-month-day as in 2026-04-24",
  });
}

/** {@link replantPlan} from what the findings document carries; same errors. */
export function weighReplanting(
  basis: ReplantBasis,
  document: FindingsDocument,
  options: ReplantOptions,
): ReplantPlan {
  const { crop, planted, populationPerHa: population } = basis;
  const notes: string[] = [];
  const sets = (option: string): string => (options.namesOptions === false ? "" : `; ${option} sets another`);
  const replanted = replantDate(basis, options.replantIsoDate, sets("--on"), notes);
  const replantStandPerHa =
    options.replantStandPerHa ?? (population === null ? null : population * STAND_SUCCESS);
  if (replantStandPerHa === null)
    throw new ManifestError(
      "the stand after replanting is not known; give --replant-stand or targets.population",
      {
        field: "targets.population",
        accepted: 'such as "34000 seeds/ac"',
      },
    );
  if (options.replantStandPerHa === null)
    notes.push(
      `stand after replanting: 92.5 % of the seeds of the target (Purdue University: 90 to 95 %)${sets("--replant-stand")}`,
    );
  const costs = { ...options.costs };
  if (costs.seed === null && basis.prices.seedPer1000 !== null && population !== null) {
    costs.seed = (population / ACRES_PER_HECTARE / 1000) * basis.prices.seedPer1000;
    notes.push(`seed: the target rate at the price of the manifest, the whole of it${sets("--seed-cost")}`);
  }
  const costPerAcre = totalCost(costs, options.namesOptions !== false, notes);
  const { grainPerBushel, expectedBushelPerAcre, currency } = basis.prices;
  if (grainPerBushel === null || expectedBushelPerAcre === null)
    notes.push("without a grain price and an expected yield only the shares of yield are shown");
  if (grainPerBushel !== null && expectedBushelPerAcre !== null) {
    const share = costPerAcre / (grainPerBushel * expectedBushelPerAcre);
    if (share > DEAR_REPLANTING)
      notes.push(
        `replanting is to cost ${formatPercent(share)} of the whole crop: check the costs, the seed price a thousand above all`,
      );
  }
  if (options.gaps === "unknown")
    notes.push(
      `nobody looked how the missing plants lie: they are paid for as in the findings, halfway between a row evenly thinner and single gaps${sets("--gaps")}`,
    );
  notes.push(
    `not in the figures: drying of later grain, another hybrid or variety${basis.late && crop === "corn" ? "" : ", the late plants of the kept stand"}; put them into ${options.namesOptions === false ? "the other costs" : "--other-cost"}`,
  );
  if (basis.late && crop === "corn")
    notes.push(
      "late plants of the kept stand: the median of the published studies (Nafziger, Carter & Graham 1991 and later ones), the range covers them all; none of them is a reason to replant by itself",
    );

  const tables = STAND_DATE_TABLES.filter((table) => table.crop === crop);
  const weigh = ({ standPerHa: stand, late, fullStandPerHa, gapWeight }: WeighedPlace): KeepOrReplant[] =>
    tables.map((table) =>
      keepOrReplant({
        table,
        plantedIsoDate: planted,
        replantIsoDate: replanted,
        standPerHa: stand.estimate,
        standLowPerHa: stand.low,
        standHighPerHa: stand.high,
        gaps: options.gaps,
        fullStandPerHa: fullStandPerHa ?? replantStandPerHa,
        gapWeight,
        late,
        replantStandPerHa,
        expectedBushelPerAcre,
        grainPerBushel,
        replantCostPerAcre: costPerAcre,
      }),
    );
  return {
    schema: REPLANT_SCHEMA,
    field: { name: basis.name, crop, planted, replanted },
    settings: {
      grainPerBushel,
      expectedBushelPerAcre,
      currency,
      costPerAcre,
      costs,
      gaps: options.gaps,
      gapDeduction: GAP_DEDUCTION[crop][options.gaps],
      replantStandPerHa,
    },
    places: standsOf(basis, document, options.standPerHa).map((place) => {
      const byTable = weigh(place);
      return { ...place, byTable, notes: notesOf(place, byTable, crop, tables) };
    }),
    notes,
    cautions: [...REPLANT_CAUTIONS],
  };
}

function replantDate(
  { planted, lastCounted: last }: ReplantBasis,
  asked: string | null,
  sets: string,
  notes: string[],
): string {
  const date = asked ?? (last ? isoDateOf(dayNumber(last) + DAYS_TO_REPLANT) : null);
  if (date === null)
    throw new ManifestError("the replanting date is not known: the counts have no dates; give --on", {
      field: "--on",
      accepted: "year-month-day as in 2026-05-28",
    });
  if (dayNumber(date) <= dayNumber(planted))
    throw new ManifestError(`the replanting date ${date} is not after the planting on ${planted}`, {
      field: "--on",
      value: date,
      accepted: `a date after ${planted}`,
    });
  if (asked === null)
    notes.push(`replanting on ${date}: ${DAYS_TO_REPLANT} days after the last count${sets}`);
  return date;
}

function totalCost(costs: ReplantCosts, namesOptions: boolean, notes: string[]): number {
  const named = [
    ["destroying the stand", "--destroy-cost", costs.destroy],
    ["planting", "--plant-cost", costs.plant],
    ["seed", "--seed-cost", costs.seed],
  ] as const;
  const blank = named.filter(([, , cost]) => cost === null);
  if (blank.length > 0)
    notes.push(
      `no cost given for ${blank.map(([what, option]) => (namesOptions ? `${what} (${option})` : what)).join(", ")}: counted as nothing, so replanting looks better than it is`,
    );
  const paid = named.reduce((sum, [, , cost]) => sum + (cost ?? 0), costs.other ?? 0);
  return Math.max(0, paid - (costs.insurance ?? 0));
}

type WeighedPlace = Omit<ReplantPlace, "byTable" | "notes">;

/** The field by the mean of its counts (or the stand given), then each counted place that is ground of its own. */
function standsOf(basis: ReplantBasis, document: FindingsDocument, given: number | null): WeighedPlace[] {
  const places: WeighedPlace[] = [];
  const counted = basis.standPerHa;
  if (given !== null || counted) {
    places.push({
      id: "field",
      title: "The whole field",
      areaHa: document.field.areaHa,
      standPerHa:
        given === null
          ? { estimate: counted!.estimate, low: counted!.low, high: counted!.high }
          : { estimate: given, low: given, high: given },
      counts: given === null ? counted!.counts : 0,
      late: basis.late,
      fullStandPerHa: null,
      gapWeight: gapWeightOf("unknown"),
    });
  }
  const population = basis.populationPerHa;
  for (const finding of document.findings) {
    const { deficitShare, counts, lateShare } = finding.stand;
    const estimate = finding.measured.standPerHa?.inside;
    const isGround = !["row-unit", "section", "field"].includes(finding.kind);
    if (finding.basis !== "counted" || !isGround || !deficitShare || population === null) continue;
    if (estimate === null || estimate === undefined) continue;
    places.push({
      id: finding.id,
      title: finding.words.title,
      areaHa: finding.where.areaHa,
      standPerHa: {
        estimate,
        low: Math.max(0, estimate - (deficitShare.high - deficitShare.estimate) * population),
        high: estimate + (deficitShare.estimate - deficitShare.low) * population,
      },
      counts,
      late:
        typeof lateShare?.inside === "number"
          ? { share: lateShare.inside, leafStagesBehind: basis.late?.leafStagesBehind ?? null }
          : null,
      fullStandPerHa: finding.measured.standPerHa?.elsewhere ?? null,
      gapWeight: gapWeightOf(CAUSE_DEFINITIONS[finding.cause].arrangement),
    });
  }
  if (places.length === 0)
    throw new ManifestError("no stand is known: give stand counts in the manifest, or --stand", {
      field: "standCounts",
      accepted: 'stand counts, or --stand "18000 plants/ac"',
    });
  return places;
}

/** Tables more than this apart are said to differ, share of yield (our judgement). */
const TABLES_DIFFER = 0.03;

/** A note where the stand at which it comes out even is thinner than any the table knows: then a cost is likely wrong. */
function implausible(byTable: readonly KeepOrReplant[], tables: readonly StandDateTable[]): string[] {
  const [used] = byTable;
  const even = used?.breakEvenStandPerHa ?? null;
  const thinnest = tables[0] ? lowestStandPerHa(tables[0]) : null;
  if (even === null || thinnest === null || even >= thinnest) return [];
  return [
    `replanting would pay only below ${formatQuantity(even, "plants", "farm")}, thinner than any stand of the table: check the costs, the seed price a thousand above all`,
  ];
}

function notesOf(
  place: WeighedPlace,
  byTable: readonly KeepOrReplant[],
  crop: "corn" | "soybean",
  tables: readonly StandDateTable[],
): string[] {
  const notes: string[] = [];
  if (place.id !== "field" && place.areaHa < SMALLEST_PATCH_HA)
    notes.push("less than an acre: seldom worth replanting (Iowa State University 1999)");
  if (place.id === "field" && place.counts === 1)
    notes.push("one count is no stand of a field: nothing is known of how it varies");
  const gains = byTable.flatMap(({ keepShare, replantShare }) =>
    keepShare === null || replantShare === null ? [] : [replantShare - keepShare],
  );
  const spread = Math.max(...gains) - Math.min(...gains);
  if (gains.length > 1 && spread > TABLES_DIFFER)
    notes.push(
      `the published tables differ by ${(spread * 100).toFixed(0)} points of yield here: all of them are shown`,
    );
  if (new Set(byTable.map(({ verdict }) => verdict).filter((verdict) => verdict !== "unknown")).size > 1)
    notes.push("the tables do not agree on what to do");
  if (crop === "soybean")
    notes.push(
      "soybean: replanting was found justified only from a stand loss of 40 % on (University of Illinois); reports of how thin a stand may be differ widely, and Ohio State University keeps an even stand of 50,000 plants/ac",
    );
  notes.push(...implausible(byTable, tables));
  return notes;
}
