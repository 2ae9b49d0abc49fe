/** What the headline names by name: soil zones, the whole field, sets of rows; the other places are counted. */
import type { Finding } from "../findings/findings-document.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import type { ContrastKind, ContrastResult } from "../stand-model/contrast.ts";
import type { Writing } from "../texts/language.ts";
import { textsOf } from "../texts/texts-of.ts";
import type { FindingKind } from "../vocabulary/causes.ts";
import { isPlural, SURE_FROM } from "./contrast-words.ts";
import { runsOf } from "./finding-words.ts";

/** So many are named at most. */
const MOST_NAMED = 3;

/** Findings of this kind say the same as a contrast of that one. */
const SAME_KIND: Partial<Record<ContrastKind, FindingKind>> = {
  field: "field",
  "soil-zone": "soil-zone",
  "bar-half": "section",
  section: "section",
  "track-rows": "section",
};

/**
 * Phrases for what was found as a contrast or as a whole zone, field or set of rows, the most short first, and the
 * findings that no phrase names.
 */
export function placePhrases(
  findings: readonly Finding[],
  contrasts: readonly ContrastResult[],
  writing: Writing,
): { phrases: string[]; rest: Finding[] } {
  const troubles = findings.filter(({ basis }) => basis !== "cleared");
  const named = new Set<Finding>();
  const entries: { short: number; phrase: string }[] = [];
  for (const contrast of contrasts) {
    if (contrast.verdict !== "short") continue;
    const finding = troubles.find((one) => saysTheSame(one, contrast));
    if (finding) named.add(finding);
    const { name, against, shortShare, probability } = contrast;
    entries.push({
      short: shortShare?.estimate ?? 0,
      phrase: shortPhrase(
        namesOf(contrast, writing) ?? { name, against },
        shortShare?.estimate ?? null,
        finding ?? null,
        probability >= SURE_FROM,
        writing,
      ),
    });
  }
  for (const finding of troubles) {
    const { deficitShare } = finding.stand;
    if (named.has(finding) || finding.basis !== "counted" || !deficitShare) continue;
    const name = nameOf(finding, writing);
    if (name === null) continue;
    named.add(finding);
    entries.push({
      short: deficitShare.estimate,
      phrase: shortPhrase({ name, against: null }, deficitShare.estimate, finding, true, writing),
    });
  }
  entries.sort((a, b) => b.short - a.short);
  const phrases = entries.slice(0, MOST_NAMED).map(({ phrase }) => phrase);
  return { phrases, rest: troubles.filter((finding) => !named.has(finding)) };
}

function saysTheSame({ kind, where, basis }: Finding, contrast: ContrastResult): boolean {
  if (basis !== "counted" || SAME_KIND[contrast.kind] !== kind) return false;
  return kind !== "soil-zone" || where.soilZones.includes(contrast.name);
}

/** What a finding is called where it has a name of its own. */
function nameOf({ kind, where }: Finding, { language }: Writing): string | null {
  const { findings, headline } = textsOf(language);
  if (kind === "field") return headline.wholeField;
  if (kind === "soil-zone" && where.soilZones.length > 0)
    return headline.soil(findings.soils(where.soilZones));
  if (kind === "section" || kind === "row-unit")
    return headline.rows(where.rowUnits.length, runsOf(where.rowUnits));
  return null;
}

interface Names {
  name: string;
  against: string | null;
}

/** What a contrast sets against what in another language; null where it has only its English names. */
function namesOf({ kind, name }: ContrastResult, { language }: Writing): Names | null {
  const { soil, wholeField, theRest, theTarget } = textsOf(language).headline;
  if (language === "en") return null;
  if (kind === "soil-zone") return { name: soil(name), against: theRest };
  return kind === "field" ? { name: wholeField, against: theTarget } : null;
}

/** Whether the parts that are short can be named in the language: of rows and passes there are English names only. */
export function areNamedIn(contrasts: readonly ContrastResult[], writing: Writing): boolean {
  const short = contrasts.filter(({ verdict }) => verdict === "short");
  return writing.language === "en" || short.every((contrast) => namesOf(contrast, writing) !== null);
}

function shortPhrase(
  { name, against }: Names,
  share: number | null,
  finding: Finding | null,
  isSure: boolean,
  writing: Writing,
): string {
  const isPart = finding !== null && finding.kind !== "field";
  return textsOf(writing.language).headline.partShort({
    name,
    isPlural: isPlural(name),
    area: isPart ? formatQuantity(finding.where.areaHa, "area", writing) : null,
    share: share === null ? null : formatPercent(share, 0, writing.locale),
    against,
    isSure,
  });
}
