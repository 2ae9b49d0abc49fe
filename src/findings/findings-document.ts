/** `findings.json`, schema evenstand/findings/1. What is unknown is null, never absent. */
import type { RowDeparture } from "../causes/find/row-departures.ts";
import type { Figure, FigureKey } from "../causes/measure.ts";
import type { Driver } from "../compare/drivers.ts";
import type { ComparisonRow } from "../compare/tables/comparison.ts";
import type { Note } from "../errors.ts";
import type { WantedAnswer } from "../field/wanted-answers.ts";
import type { Estimate } from "../numerics/estimate.ts";
import type { Crop } from "../quantities/crops.ts";
import type { ContrastResult } from "../stand-model/contrast.ts";
import type { Writing } from "../texts/language.ts";
import type { Basis, Cause, FindingKind } from "../vocabulary/causes.ts";
import type { EmergencePart } from "./emergence-part.ts";
import type { ReplantBasis } from "./replant-basis.ts";
import type { SpacingPart } from "./spacing-part.ts";
import type { RemedyWorth, SeedCost } from "./worth-part.ts";

/** What could not be judged, and why, in words. */
export interface NotJudged {
  what: string;
  why: string;
}

export type HeadlineForm = "even" | "places" | "unsettled";

export const FINDINGS_SCHEMA = "evenstand/findings/1";

export type { Estimate };

export interface MoneyEstimate extends Estimate {
  currency: string;
}

export interface MoneyOfPart {
  /** Name of the soil zone, number of the row unit. */
  of: string;
  /** Its ground that lost something, ha. */
  areaHa: number;
  money: MoneyEstimate;
}

/** Empty lists where the soil zone or the row unit of the records is not known, or nothing is priced. */
export interface MoneyBy {
  soilZones: MoneyOfPart[];
  rowUnits: MoneyOfPart[];
}

/** Inside the finding, elsewhere, and the target (one value, or low and high limit). */
export type Measured = Figure;

/** Keys carry the unit. */
export type MeasuredKey = FigureKey;

export interface DocumentGeometry {
  type: "MultiPolygon";
  /** Degrees WGS 84, 7 decimals. */
  coordinates: number[][][][];
}

export interface Finding {
  id: string;
  kind: FindingKind;
  cause: Cause;
  detail: string | null;
  basis: Basis;
  probability: number;
  pValue: number | null;
  alternatives: { cause: Cause; probability: number }[];
  where: {
    geometry: DocumentGeometry;
    areaHa: number;
    passes: number[];
    logPasses: string[];
    rowUnits: number[];
    soilZones: string[];
  };
  measured: Partial<Record<MeasuredKey, Measured>>;
  stand: { deficitShare: Estimate | null; lateShare: Measured | null; counts: number; digs: number };
  /** `notes`: what was assumed or lacking for the figures, in plain words. */
  loss: {
    yieldShare: Estimate | null;
    money: MoneyEstimate | null;
    /** Seed beyond or below the target of a wrong rate, apart from the yield; null for other causes. */
    seed: SeedCost | null;
    notes: string[];
  };
  remedy: {
    code: string;
    parameter: string | null;
    from: number | null;
    to: number | null;
    unit: string | null;
    /** What to do, in a farmer's words, with the caution where a machine is touched. */
    text: string;
    /** Loss a year against what the user says the remedy costs; null where nothing is to be mended. */
    worth: RemedyWorth | null;
  };
  /** In a farmer's words: title ("Gauge wheels running light"), place, what was seen, what else could do it, the check to make. */
  words: { title: string; place: string; seen: string[]; otherwise: string; check: string; caution: string };
}

/** Mean stand of the field over its counts, spots that lie close together sharing one vote. */
export interface StandSummary {
  counts: number;
  /** Plants/ha. */
  perHa: Estimate;
  /** Share of the target population; null where none is known. */
  ofTarget: Estimate | null;
  /** Share of the plants that came late; null where no count looked. */
  lateShare: Estimate | null;
  /** True where so many counts lie in one spot that their plain mean would speak for that spot. */
  clustered: boolean;
  words: string;
}

/** A fixed contrast of the stand, in words too. */
export interface Contrast extends ContrastResult {
  words: string;
}

export interface DocumentInput {
  role: string;
  file: string;
  sha256: string | null;
  records: number;
  used: number;
  leftOut: number;
  notes: Note[];
}

/** Areas in ha. */
export interface GroundPart {
  /** Planted at least once. */
  plantedHa: number;
  /** Of it planted by two passes or more. */
  overlapHa: number;
  /** Not planted inside the boundary (without one: inside the outline of the planted ground). */
  skippedHa: number;
  within: "boundary" | "outline";
  /** Planted inside it by records with a reading of how well it was planted. */
  judgedHa: number;
  /** Share of the log's records, lifted ones and repeats aside, that have a place on a pass. */
  placedShare: number;
  /** Way times width of all records, and way times the distance between the passes; null where that is not settled. */
  wayTimesWidthHa: number;
  wayTimesSpacingHa: number | null;
  /** Width of the bar and distance between neighbouring passes, m; null where not settled. */
  widthM: number;
  spacingM: number | null;
  /** True where so much comes out as planted twice or left out that width or positions are in doubt. */
  inDoubt: boolean;
  /** What was planted again ten days or more later, judged by the later planting alone; null where nothing was. */
  replanted: {
    areaHa: number;
    /** ISO date of the first planting there. */
    firstPlanted: string;
    /** ISO dates of the first and last day of planting again. */
    again: [string, string];
  } | null;
  /** Names of the machines that planted, in the order of their first records; empty where the log names fewer than two. */
  machines: string[];
}

export interface FindingsDocument {
  schema: typeof FINDINGS_SCHEMA;
  /** How the sentences are written; left out where both are English. */
  written?: Pick<Writing, "language" | "locale">;
  field: { name: string; season: number | null; crop: Crop; planted: string | null; areaHa: number };
  settings: Record<string, unknown>;
  inputs: DocumentInput[];
  summary: {
    affectedHa: number;
    nothingFoundHa: number;
    notJudged: NotJudged[];
    /** One plain sentence for the top of the page. */
    sentence: string;
    /** Which of the three verdicts the sentence gives: tested and even, places found, not enough to say. */
    form: HeadlineForm;
    /** Answers that were not given and would change what is said, the most telling first. */
    wanted: WantedAnswer[];
    /** The stand of the field, said before anything else; null without counts. */
    stand: StandSummary | null;
    /** What was tested in the counts before any search for places, and what came out; empty without counts. */
    contrasts: Contrast[];
    money: MoneyEstimate | null;
    /** The same money by soil zone and by row unit. */
    moneyBy: MoneyBy;
    /** Ground planted, judged, planted twice and left out; null where it was not worked out. */
    ground: GroundPart | null;
    /** What drives depth and load within the soil zones, with a sentence in farm units each. */
    drivers: (Driver & { words: string })[];
    /** Every row unit and set of rows that departs from the bar, with and without harm. */
    departingRows: RowDeparture[];
    /** Emergence to be expected by planting day, and flag tests; null without weather and without flag tests. */
    emergence: EmergencePart | null;
    /** Plant spacings measured in the counts; null where there are none. */
    spacing: SpacingPart | null;
    /** What keeping or replanting is weighed by; null where crop or planting date do not allow it. */
    replant: ReplantBasis | null;
  };
  findings: Finding[];
  comparison: ComparisonRow[];
}
