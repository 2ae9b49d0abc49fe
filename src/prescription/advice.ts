/** What stands beside the loads: what to mend first, speed, depth, where to dig, and strips to try. */
import type { Draft } from "../causes/draft.ts";
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import { MARGIN_BANDS } from "../compare/thresholds.ts";
import type { Analysis } from "../findings/analysis.ts";
import { formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";
import { groundWords } from "./channel.ts";
import { digRows } from "./dig-rows.ts";
import type { DecidedZone } from "./guards.ts";
import { LIMITS } from "./limits.ts";
import type { Advice, PrescriptionSettings } from "./prescription.ts";
import { comesFirst, settledFindings } from "./settle-first.ts";

/** Repairs first, then speed, depth, where to dig, and strips to try. */
export function adviceFor(
  analysis: Analysis,
  zones: readonly DecidedZone[],
  settings: PrescriptionSettings,
  writing: Writing,
): Advice[] {
  return [
    ...findingsAdvice(analysis),
    ...digAdvice(analysis, writing),
    ...zones.flatMap((zone) => stripAdvice(zone, settings, writing)),
  ];
}

const ORDER = ["repair", "speed", "depth"] as const;

function findingsAdvice(analysis: Analysis): Advice[] {
  const list = settledFindings(analysis).flatMap(({ id, title, place, draft }): Advice[] => {
    const kind = kindOf(draft);
    if (!kind) return [];
    const finding = analysis.document.findings.find((entry) => entry.id === id);
    const { soilZones } = draft;
    return [
      {
        kind,
        soilZone: soilZones.length === 1 ? soilZones[0]! : null,
        rowUnits: [...draft.rowUnits],
        finding: id,
        words: `${title} (${place}). ${finding?.remedy.text ?? ""}`.trim(),
      },
    ];
  });
  return ORDER.flatMap((kind) => list.filter((entry) => entry.kind === kind));
}

function kindOf(draft: Draft): (typeof ORDER)[number] | null {
  const { advice } = CAUSE_DEFINITIONS[draft.cause];
  if (advice === "speed") return "speed";
  if (comesFirst(draft) || draft.kind === "row-unit" || draft.kind === "section") return "repair";
  return advice;
}

/** Dig list of the first stretch: centre, wing and wheel rows. */
function digAdvice({ field, passes, parts }: Analysis, writing: Writing): Advice[] {
  const found = parts.causes.drafts.filter(({ cause }) => cause === "wheel-traffic");
  const { middle, wings, wheels } = digRows(
    field.planter,
    passes.rowUnitCount,
    found.flatMap(({ rowUnits }) => rowUnits),
  );
  const within = formatQuantity(LIMITS.digWithin.value, "length", writing);
  const list = (units: readonly number[]): string => units.join(" and ");
  const dig = (rowUnits: number[], words: string): Advice => ({
    kind: "dig",
    soilZone: null,
    rowUnits,
    finding: null,
    words,
  });
  return [
    dig(
      middle,
      `Within the first ${within}: stop, lower or block the planter, and dig three seeds behind ${middle.length > 0 ? `a centre row (${list(middle)})` : "a row in the middle of the bar"}: depth, contact, and a furrow wall that crumbles.`,
    ),
    dig(
      wings,
      `There too behind a row on each wing${wings.length > 0 ? ` (${list(wings)})` : ""}: wings are lighter and lift first.`,
    ),
    dig(
      wheels,
      wheels.length > 0
        ? `And behind the rows in wheel tracks (${list(wheels)}): packed ground takes more load.`
        : "And behind the rows that run in tractor or cart tracks (the manifest does not name them, the log does not show them): packed ground takes more load.",
    ),
  ];
}

function stripAdvice(
  { zone, choice }: DecidedZone,
  settings: PrescriptionSettings,
  writing: Writing,
): Advice[] {
  if (choice.outcome !== "no-evidence") return [];
  const { name } = zone.evidence;
  const { moisture } = settings;
  const [low, high] = MARGIN_BANDS[moisture];
  const middle = formatQuantity((low + high) / 2, "force", writing);
  const today = choice.today ? formatQuantity(choice.today.meanN, "force", writing) : "today's load";
  return [
    {
      kind: "test-strip",
      soilZone: name,
      rowUnits: [],
      finding: null,
      words: `On ${name} plant one strip of whole passes at about ${middle} (${groundWords(moisture)}) beside ${today}, and count four spots in each: next year's number rests on it.`,
    },
  ];
}
