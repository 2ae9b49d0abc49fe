/** What the headline names by name: soil zones, the whole field, sets of rows; the other places are counted. */
import type { Finding } from "../findings/findings-document.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import type { ContrastKind, ContrastResult } from "../stand-model/contrast.ts";
import type { Writing } from "../texts/language.ts";
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
        name,
        against,
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
    const name = nameOf(finding);
    if (name === null) continue;
    named.add(finding);
    entries.push({
      short: deficitShare.estimate,
      phrase: shortPhrase(name, null, deficitShare.estimate, finding, true, writing),
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
function nameOf({ kind, where }: Finding): string | null {
  if (kind === "field") return "the whole field";
  if (kind === "soil-zone" && where.soilZones.length > 0) return `the ${where.soilZones.join(" and ")}`;
  if (kind === "section" || kind === "row-unit")
    return `${where.rowUnits.length === 1 ? "row" : "rows"} ${runsOf(where.rowUnits)}`;
  return null;
}

function shortPhrase(
  name: string,
  against: string | null,
  share: number | null,
  finding: Finding | null,
  isSure: boolean,
  writing: Writing,
): string {
  const area =
    finding && finding.kind !== "field" ? `, ${formatQuantity(finding.where.areaHa, "area", writing)},` : "";
  const verb = `${isPlural(name) ? "are" : "is"}${isSure ? "" : " probably"}`;
  const short = share === null ? "short" : `${formatPercent(share, 0, writing.locale)} short`;
  return `${name}${area} ${verb} ${short}${against === null ? "" : ` of ${against}`}`;
}
