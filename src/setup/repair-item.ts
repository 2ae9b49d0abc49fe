/** What a season's findings ask to be looked at on a planter before spring, whoever worked them out. */
import type { Finding, FindingsDocument } from "../findings/findings-document.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { SetUpPart } from "./set-up-lines.ts";

export interface RepairItem {
  /** Name of the planter; items of one name stand on one sheet. */
  planter: string;
  /** Row units, 1-based, ascending; empty where it is about the whole planter. */
  rowUnits: number[];
  /** Parts of the planter to look at, the likeliest first. */
  parts: SetUpPart[];
  /** "Skips, row 5". */
  title: string;
  /** What was seen, a sentence each. */
  evidence: string[];
  /** Field (or season) it comes from. */
  source: string;
}

/** Parts behind a cause; none where no part of a planter mends it. */
const PARTS: Partial<Record<Cause, readonly SetUpPart[]>> = {
  "too-shallow": ["depth-stops", "gauge-wheels", "discs", "arms"],
  "too-deep": ["depth-stops", "gauge-wheels", "arms"],
  "uneven-depth": ["arms", "gauge-wheels", "depth-stops", "down-force"],
  "worn-row-unit": ["arms", "discs", "gauge-wheels", "depth-stops"],
  "lost-ground-contact": ["down-force", "load-cells", "arms"],
  "excess-down-force": ["down-force", "load-cells"],
  misses: ["meters", "vacuum", "seed-tubes"],
  multiples: ["meters", "vacuum"],
  "irregular-spacing": ["seed-tubes", "meters", "arms"],
  "rate-off-target": ["drive", "meters"],
  "wheel-traffic": ["tires", "row-cleaners"],
  "furrow-not-closed": ["closing-wheels"],
  "residue-in-furrow": ["row-cleaners", "discs"],
};

/** A sensor that reads wrong, by what departs. */
const SENSOR_PARTS: Readonly<Record<string, readonly SetUpPart[]>> = {
  downForceMargin: ["load-cells"],
  seedingDepth: ["depth-stops"],
};

/** The planter of a field's results: its machine where the log names one, else by its rows. */
export function planterOf(document: FindingsDocument): { planter: string; rowUnits: number | null } {
  const rows = Math.max(0, ...document.comparison.map(({ rowUnit }) => rowUnit ?? 0));
  const machines = document.summary.ground?.machines ?? [];
  const rowUnits = rows > 0 ? rows : null;
  const planter =
    machines.length === 1 ? machines[0]! : rowUnits === null ? "Planter" : `${rowUnits}-row planter`;
  return { planter, rowUnits };
}

/** The findings of one field that a part of the planter is behind, in their order. */
export function repairItemsOf(document: FindingsDocument): RepairItem[] {
  const { planter } = planterOf(document);
  return document.findings.flatMap((finding): RepairItem[] => {
    const parts = partsOf(finding, document);
    const ofPlanter = finding.kind === "row-unit" || finding.kind === "section" || finding.kind === "field";
    if (parts.length === 0 || !ofPlanter) return [];
    return [
      {
        planter,
        rowUnits: [...finding.where.rowUnits].sort((a, b) => a - b),
        parts: [...parts],
        title: finding.words.title,
        evidence: finding.words.seen,
        source: `${document.field.name}, ${finding.id}`,
      },
    ];
  });
}

function partsOf(finding: Finding, document: FindingsDocument): readonly SetUpPart[] {
  if (finding.cause === "undetermined") {
    // None is sure: the parts of all that it may be.
    return [...new Set(finding.alternatives.flatMap(({ cause }) => PARTS[cause] ?? []))];
  }
  if (finding.cause !== "sensor-fault") return PARTS[finding.cause] ?? [];
  const departing = (document.summary.departingRows ?? []).find(({ rowUnits }) =>
    finding.where.rowUnits.every((row) => rowUnits.includes(row)),
  );
  return departing ? (SENSOR_PARTS[departing.variable] ?? ["seed-tubes", "meters"]) : [];
}
