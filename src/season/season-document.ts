/** The season as a whole: what `season-findings.json` holds and the season's page is made from. */
import type { WantedKey } from "../field/wanted-answers.ts";
import type { MoneyEstimate } from "../findings/findings-document.ts";
import { falseDiscovery } from "../numerics/false-discovery.ts";
import {
  type DayEffect,
  dayEffects,
  type OperatorEffect,
  operatorEffects,
  type SpeedBand,
  type SpeedSlope,
  speedBands,
  speedSlopes,
} from "./drive-effects.ts";
import { chooseFields, type FieldResult, type KeptField, type LeftOutField } from "./field-result.ts";
import { type PrescribedLoad, prescribedLoads } from "./prescribed-loads.ts";
import { FALSE_SHARE, type Repair, repairList } from "./repairs.ts";
import { type LedgerEntry, seasonLedger, sumOfMoney } from "./season-ledger.ts";
import type { SeasonPlan } from "./season-plan.ts";
import { type LotEffect, lotEffects, type SoilEffect, soilEffects } from "./soil-effects.ts";
import { type UnitEffect, unitEffects } from "./unit-effects.ts";

export const SEASON_FINDINGS_SCHEMA = "evenstand/season-findings/1";

export interface SeasonField {
  id: string;
  label: string;
  grower: string | null;
  operator: string | null;
  planter: string;
  planted: string | null;
  areaHa: number;
  findings: number;
  money: MoneyEstimate | null;
  /** The field's own first sentence. */
  sentence: string;
}

/** An answer that fields lack, with how many. */
export interface WantedOfFields {
  key: WantedKey;
  fields: number;
}

export interface SeasonDocument {
  schema: typeof SEASON_FINDINGS_SCHEMA;
  name: string;
  season: number | null;
  areaHa: number;
  /** All fields' losses; null where none is priced. `pricedFields` says how many are. */
  money: MoneyEstimate | null;
  pricedFields: number;
  fields: SeasonField[];
  leftOut: LeftOutField[];
  notes: string[];
  wanted: WantedOfFields[];
  ledger: LedgerEntry[];
  repairs: Repair[];
  /** Drivers that drove faster or worse than the others. */
  drivers: OperatorEffect[];
  units: UnitEffect[];
  operators: OperatorEffect[];
  slopes: SpeedSlope[];
  bands: SpeedBand[];
  soils: SoilEffect[];
  lots: LotEffect[];
  days: DayEffect[];
  prescribed: PrescribedLoad[];
  /** How many tests were held together, and the share of false ones among the called that they are held to. */
  tests: { count: number; falseShare: number };
}

export interface Season {
  document: SeasonDocument;
  kept: KeptField[];
}

/** Puts the season together. The order of the results does not matter. */
export function seasonOf(plan: SeasonPlan, results: readonly FieldResult[]): Season {
  const sorted = [...results].sort((a, b) => (a.field.id < b.field.id ? -1 : 1));
  const { kept, leftOut, notes } = chooseFields(plan, sorted);
  const units = unitEffects(kept);
  const operators = operatorEffects(kept);
  const slopes = speedSlopes(kept);
  const soils = soilEffects(kept);
  const lots = lotEffects(kept);
  const days = dayEffects(kept);
  const tested = [
    ...units.effects.flatMap(({ steady, often }) => [steady, often]),
    ...operators,
    ...slopes,
    ...soils,
    ...lots,
    ...days,
  ].filter((test) => test !== null);
  const corrected = falseDiscovery(tested.map(({ pValue }) => pValue));
  tested.forEach((test, index) => {
    test.qValue = corrected[index]!;
  });
  const priced = kept.map(({ digest }) => digest.money).filter((money) => money !== null);
  const guessed = [
    ...new Set(kept.filter((field) => field.planterGuessed).map(({ planter }) => planter)),
  ].sort();
  const guesses = guessed
    .filter(
      (planter) => kept.filter((field) => field.planter === planter && field.digest.rowUnits > 0).length > 1,
    )
    .map(
      (planter) =>
        `Nobody says which planter planted which field: all fields with as many rows are taken for one planter, "${planter}". Name the planters in season.json where there were several.`,
    );
  const document: SeasonDocument = {
    schema: SEASON_FINDINGS_SCHEMA,
    name: plan.name,
    season: plan.season,
    areaHa: kept.reduce((sum, { digest }) => sum + digest.areaHa, 0),
    money: sumOfMoney(priced),
    pricedFields: priced.length,
    fields: kept.map(seasonField),
    leftOut,
    notes: [...notes, ...guesses, ...units.notes],
    wanted: wantedOf(kept),
    ledger: seasonLedger(kept),
    repairs: repairList(units.effects, kept),
    drivers: operators.filter(({ matters, qValue }) => matters && qValue !== null && qValue <= FALSE_SHARE),
    units: units.effects,
    operators,
    slopes,
    bands: speedBands(kept),
    soils,
    lots,
    days,
    prescribed: prescribedLoads(kept),
    tests: { count: tested.length, falseShare: FALSE_SHARE },
  };
  return { document, kept };
}

/** Text of season-findings.json. Each unit's departure field by field stands in the table of row units, not here. */
export function seasonJson(document: SeasonDocument): string {
  const units = document.units.map(({ fields, ...unit }) => ({ ...unit, fields: fields.length }));
  return `${JSON.stringify({ ...document, units }, null, 1)}\n`;
}

function seasonField({ id, label, grower, operator, planter, digest }: KeptField): SeasonField {
  return {
    id,
    label,
    grower,
    operator,
    planter,
    planted: digest.planted,
    areaHa: digest.areaHa,
    findings: digest.findings.filter(({ basis }) => basis !== "cleared").length,
    money: digest.money,
    sentence: digest.sentence,
  };
}

function wantedOf(kept: readonly KeptField[]): WantedOfFields[] {
  const counts = new Map<WantedKey, number>();
  for (const { digest } of kept) for (const key of digest.wanted) counts.set(key, (counts.get(key) ?? 0) + 1);
  return [...counts]
    .map(([key, fields]) => ({ key, fields }))
    .sort((a, b) => b.fields - a.fields || (a.key < b.key ? -1 : 1));
}
