/**
 * The first sentence of every output, in one of three forms and no other: tested and even; places found; not enough to
 * say. Never "even" over what was not tested.
 */
import type { RowDeparture } from "../causes/find/row-departures.ts";
import { ABOVE_TARGET } from "../causes/rate-surplus.ts";
import { bearsOnVerdict, type WantedAnswer } from "../field/wanted-answers.ts";
import type { Finding, HeadlineForm } from "../findings/findings-document.ts";
import { formatMoney, formatPercent, formatQuantity } from "../quantities/format.ts";
import type { MeanStand } from "../stand/mean-stand.ts";
import type { ContrastResult } from "../stand-model/contrast.ts";
import { FEWEST_COUNTS } from "../stand-model/stand-view.ts";
import type { Writing } from "../texts/language.ts";
import { textsOf } from "../texts/texts-of.ts";
import type { Field } from "../vocabulary/field.ts";
import { contrastWords, testedKinds } from "./contrast-words.ts";
import { listOf, upperFirst } from "./finding-words.ts";
import { areNamedIn, placePhrases } from "./headline-places.ts";
import { logJudged } from "./log-judged.ts";

export interface Headline {
  form: HeadlineForm;
  sentence: string;
}

export interface HeadlineInput {
  field: Field;
  findings: readonly Finding[];
  contrasts: readonly ContrastResult[];
  stand: MeanStand | null;
  /** Answers that are missing, see `wantedAnswers`. */
  wanted: readonly WantedAnswer[];
  /** Rows that depart from the bar in the log. */
  departures: readonly RowDeparture[];
  /** True where what the log calls the load cannot be one. */
  loadDoubted: boolean;
  /** Ground with a finding, and the field, ha. */
  affectedHa: number;
  areaHa: number;
  /** Money of all findings together; null without prices. */
  money: number | null;
  writing: Writing;
}

/**
 * Share of the seeds that a sound field brings up at least: corn 90 to 95 %, soybeans fewer (from memory of extension
 * advice). A field whose whole interval lies lower is short as a whole.
 */
const SOUND_SHARE: Record<Field["crop"], number> = { corn: 0.9, soybean: 0.8, other: 0.8 };
/** A field with surely more of its plants late than this is not even (our judgement). */
const LATE_SHARE = 0.15;
/** So many answers are named at most. */
const MOST_ANSWERS = 4;

/** Detail of a place that only departs from the rest of the log. */
const UNLIKE = "unlike-the-rest";

/** The headline of one field. */
export function headline(asked: HeadlineInput): Headline {
  const { findings, contrasts } = asked;
  // One sentence, one language: where a part has an English name only, all of it is English.
  const writing: Writing = areNamedIn(contrasts, asked.writing)
    ? asked.writing
    : { ...asked.writing, language: "en" };
  const input = { ...asked, writing };
  const places = findings.some(({ basis }) => basis !== "cleared");
  const whole = wholeFieldWords(input);
  if (places || whole !== null || contrasts.some(({ verdict }) => verdict === "short"))
    return { form: "places", sentence: placesFound(input, whole) };
  const open = openQuestion(input);
  return open === null
    ? { form: "even", sentence: testedAndEven(input) }
    : { form: "unsettled", sentence: notEnough(input, open) };
}

/** That the field as a whole is short or late, where no finding and no contrast says so already; else null. */
function wholeFieldWords({ field, findings, contrasts, stand, writing }: HeadlineInput): string | null {
  if (!stand?.speaksForField || stand.counts < 2) return null;
  const said =
    contrasts.some(({ verdict }) => verdict === "short") ||
    findings.some(({ kind, basis }) => kind === "field" && basis === "counted");
  const texts = textsOf(writing.language).headline;
  const { ofTarget, lateShare } = stand;
  if (!said && ofTarget && ofTarget.high < SOUND_SHARE[field.crop])
    return texts.fieldShort(
      formatPercent(ofTarget.estimate, 0, writing.locale),
      formatPercent(SOUND_SHARE[field.crop], 0, writing.locale),
    );
  if (lateShare && lateShare.low > LATE_SHARE && !findings.some(({ basis }) => basis === "counted"))
    return texts.fieldLate(formatPercent(lateShare.estimate, 0, writing.locale));
  return null;
}

function placesFound(input: HeadlineInput, whole: string | null): string {
  const { findings, contrasts, affectedHa, areaHa, money, field, writing } = input;
  const { phrases, rest } = placePhrases(findings, contrasts, writing);
  if (whole) phrases.unshift(whole);
  const counted = rest.filter(({ basis }) => basis === "counted").length;
  const logOnly = rest.filter(({ basis }) => basis === "predicted");
  const unlike = logOnly.filter(({ detail }) => detail === UNLIKE).length;
  const rich = logOnly.filter(({ detail }) => detail === ABOVE_TARGET).length;
  const predicted = logOnly.length - unlike - rich;
  const texts = textsOf(writing.language).headline;
  const numbers: string[] = [];
  if (counted > 0) numbers.push(texts.placesShort(counted));
  if (predicted > 0) numbers.push(texts.placesAtRisk(predicted));
  if (rich > 0) numbers.push(texts.placesRich(rich));
  if (unlike > 0) numbers.push(texts.placesUnlike(unlike));
  const places = [...phrases, ...(numbers.length > 0 ? [texts.all(numbers)] : [])].join("; ");
  const area = (ha: number): string => formatQuantity(ha, "area", writing);
  const onGround = affectedHa > 0 ? texts.onGround(places, area(affectedHa), area(areaHa)) : places;
  // A surplus of seed is priced apart: a sum of no loss at all would read as one of nothing.
  const isPriced = findings.some(({ basis, loss }) => basis !== "cleared" && loss.money !== null);
  const said =
    money === null || !isPriced
      ? onGround
      : texts.aboutMoney(onGround, formatMoney(money, field.prices.currency, writing.locale));
  return [`${upperFirst(said)}.`, ...couldBe(contrasts, writing)].join(" ");
}

/** Why neither "even" nor "places" can be said; null where "even" can. */
function openQuestion(input: HeadlineInput): string | null {
  const { field, contrasts, stand, wanted } = input;
  if (input.loadDoubted) return "the load that the log carries cannot be one, so the load was not judged";
  if (contrasts.some(({ verdict }) => verdict === "could-be")) return "no place is surely short";
  if (stand && !stand.speaksForField) return "the counts lie in one spot and say nothing of the rest";
  const crowded = stand && crowdedWhereShort(stand, input.writing);
  if (crowded) return crowded;
  const rows = untestedRows(input);
  if (rows) return rows;
  if (stand && stand.counts < FEWEST_COUNTS)
    return `${stand.counts === 1 ? "one count tells" : `${stand.counts} counts tell`} how the plants stand where they were made, not where the field is short`;
  if (stand) return null;
  const judged = logJudged(field);
  if (!judged.tested.includes("depth") && !judged.tested.includes("gauge-wheel load"))
    return "nothing was counted, and the log shows neither the depth of the seed nor the load on the gauge wheels";
  if (wanted.some(({ key }) => key === "seedingDepth" || key === "downForceMargin" || key === "depthSensed"))
    return `nothing was counted, and the log can only be held against itself: ${listOf(judged.tested)} ${judged.tested.length === 1 ? "departs" : "depart"} nowhere from the rest of the field`;
  return null;
}

/** Counts crowd a spot that stands clearly below the rest, and the rest is too thinly counted to find it by itself. */
function crowdedWhereShort(
  { crowded, counts, perHa, plainPerHa }: MeanStand,
  writing: Writing,
): string | null {
  if (!crowded || plainPerHa >= perHa.low) return null;
  return `${crowded.counts} of the ${counts} counts lie close together on ground that stands thin: all counts together average ${formatQuantity(plainPerHa, "plants", writing)}, by the ground that each speaks for the field stands at ${formatQuantity(perHa.estimate, "plants", writing)}. Dig there, and count the rest of the field`;
}

/** Rows that the manifest names and the log shows otherwise, where the counts cannot tell rows apart. */
function untestedRows({ contrasts, departures, writing }: HeadlineInput): string | null {
  const untested = contrasts.some(({ kind, verdict }) => kind === "track-rows" && verdict === "too-few");
  const set = untested && departures.find(({ set, inFinding }) => set === "wheel-track" && !inFinding);
  if (!set) return null;
  const rows = `track rows ${listOf(set.rowUnits.map(String))}`;
  const by =
    set.variable === "downForceMargin"
      ? `run ${formatQuantity(Math.abs(set.shift), "force", writing)} ${set.shift > 0 ? "heavier" : "lighter"} than the rows beside them`
      : "depart from the rows beside them in the log";
  return `${rows} ${by}, and counts without a row number cannot tell them apart; count track rows against plain rows, five spots of each, with the row written down`;
}

function testedAndEven({ field, contrasts, stand, wanted, areaHa, writing }: HeadlineInput): string {
  const whole = formatQuantity(areaHa, "area", writing);
  const { tested, missing } = logJudged(field);
  const notLogged = missing.length > 0 ? ` Not judged: ${listOf(missing)}.` : "";
  if (!stand)
    return `Log only: ${listOf(tested)} ${tested.length === 1 ? "is" : "are"} even${wanted.some(bearsOnVerdict) ? "" : " and on target"} on ${whole}; whether the plants stand was not counted.${notLogged}`;
  const { perHa, ofTarget, counts } = stand;
  const share = ofTarget ? `, ${formatPercent(ofTarget.estimate, 0, writing.locale)} of the target` : "";
  const kinds = [...testedKinds(contrasts), "single places"];
  const log = tested.length > 0 ? `; in the log ${listOf(tested)}` : "";
  return `Tested and even on ${whole}: ${formatQuantity(perHa.estimate, "plants", writing)} stand${share}. Tested with ${counts} counts: ${listOf(kinds)}${log}.${notLogged}`;
}

function notEnough({ contrasts, stand, wanted, areaHa, writing }: HeadlineInput, open: string): string {
  const answers = wanted
    .filter(bearsOnVerdict)
    .slice(0, MOST_ANSWERS)
    .map(({ asked }) => asked);
  const counts = stand?.speaksForField ? FEWEST_COUNTS - stand.counts : FEWEST_COUNTS;
  const more =
    counts > 0
      ? `${stand ? `${counts} more counts` : `${counts} stand counts or more`} over the field ("evenstand scout" says where)`
      : 'counts where it is in doubt ("evenstand scout" says where)';
  return [
    `Not enough to say on ${formatQuantity(areaHa, "area", writing)}: ${open}.`,
    ...couldBe(contrasts, writing),
    `This would tell: ${listOf([...answers, more])}.`,
  ].join(" ");
}

function couldBe(contrasts: readonly ContrastResult[], writing: Writing): string[] {
  return contrasts
    .filter(({ verdict }) => verdict === "could-be")
    .map((one) => `${contrastWords(one, writing)}.`);
}
