/** Fixed contrasts of the stand in words: found, could be, tested and even, too few counts. */
import { formatPercent } from "../quantities/format.ts";
import { CONTRAST_KINDS, type ContrastKind, type ContrastResult } from "../stand-model/contrast.ts";
import { FARM_ENGLISH, type Writing } from "../texts/language.ts";
import { upperFirst } from "./finding-words.ts";

/** What a kind tests, as a list of what was tested names it. */
const KIND_NAMES: Record<ContrastKind, string> = {
  field: "the field against its target",
  "soil-zone": "soil zones",
  "planting-day": "planting days",
  "seed-lot": "seed lots",
  planter: "planters",
  "bar-half": "left and right half of the bar",
  section: "sections of the bar",
  "track-rows": "track rows against plain rows",
  "end-rows": "end rows against the middle",
  direction: "direction of travel",
  "change-point": "a change from some pass on",
  trend: "a trend from pass to pass",
};

/** Kinds of which a field has several, told apart by name. */
const SEVERAL: ReadonlySet<ContrastKind> = new Set([
  "soil-zone",
  "planting-day",
  "seed-lot",
  "planter",
  "section",
]);

/** A shortfall less probable than this is never said without its probability (our judgement). */
export const SURE_FROM = 0.9;

/** "Silty clay is 21 % short of the rest of the field (14 to 27; 22 counts)". */
export function contrastWords(contrast: ContrastResult, writing: Writing = FARM_ENGLISH): string {
  const { name, against, counts, verdict, probability } = contrast;
  switch (verdict) {
    case "short": {
      const said = `${upperFirst(name)} ${isPlural(name) ? "are" : "is"} ${shortText(contrast, writing)}`;
      return probability < SURE_FROM
        ? `${said}, probability ${formatPercent(probability, 0, writing.locale)}`
        : said;
    }
    case "could-be":
      return `Could be: ${name}, ${shortText(contrast, writing)}, probability ${formatPercent(probability, 0, writing.locale)}`;
    case "tested":
      return `${upperFirst(name)} against ${against}: even, as far as ${countText(counts)} can tell`;
    case "too-few":
      return `${upperFirst(name)} against ${against}: ${countText(counts)}, too few to tell`;
  }
}

/**
 * The contrasts a line each for a list: what is short, what could be, then one line of all that was tested and found
 * even, and one of what had too few counts.
 */
export function contrastLines(contrasts: readonly (ContrastResult & { words: string })[]): string[] {
  const said = (["short", "could-be"] as const).flatMap((verdict) =>
    contrasts.filter((contrast) => contrast.verdict === verdict).map(({ words }) => `${words}.`),
  );
  const even = kindsOf(contrasts.filter(({ verdict }) => verdict === "tested"));
  const tooFew = kindsOf(contrasts.filter(({ verdict }) => verdict === "too-few"));
  if (even.length > 0) said.push(`Tested in the counts and found even: ${even.join("; ")}.`);
  if (tooFew.length > 0) said.push(`Too few counts to test: ${tooFew.join("; ")}.`);
  return said;
}

/** The kinds of contrast that were tested and found even, without the names. */
export function testedKinds(contrasts: readonly ContrastResult[]): string[] {
  return CONTRAST_KINDS.filter((kind) =>
    contrasts.some((contrast) => contrast.kind === kind && contrast.verdict === "tested"),
  ).map((kind) => KIND_NAMES[kind]);
}

function kindsOf(contrasts: readonly ContrastResult[]): string[] {
  return CONTRAST_KINDS.flatMap((kind) => {
    const names = contrasts.filter((contrast) => contrast.kind === kind).map(({ name }) => name);
    if (names.length === 0) return [];
    return [SEVERAL.has(kind) ? `${KIND_NAMES[kind]} (${names.join(", ")})` : KIND_NAMES[kind]];
  });
}

/** "21 % short of the rest of the field (14 to 27; 22 counts)". */
function shortText({ shortShare, against, counts }: ContrastResult, writing: Writing): string {
  if (!shortShare) return `short of ${against} (${countText(counts)})`;
  const percent = (share: number): string => (share * 100 + 0).toFixed(0).replace(/^-0$/, "0");
  const range = `${percent(shortShare.low)} to ${percent(shortShare.high)}; ${countText(counts)}`;
  return `${formatPercent(shortShare.estimate, 0, writing.locale)} short of ${against} (${range})`;
}

function countText(counts: number): string {
  return `${counts} ${counts === 1 ? "count" : "counts"}`;
}

/** True of "rows 9 to 16", "the end rows", "later passes". */
export function isPlural(name: string): boolean {
  return /^(?:[\w-]+ )*?(?:rows|passes)\b/.test(name) && !/\bof the bar\b/.test(name);
}
