/** The season's repair list as set-up sheets, a planter each: what to go over before spring, its suspect rows first. */
import type { UnitSystem } from "../quantities/format.ts";
import type { RepairItem } from "../setup/repair-item.ts";
import type { SetUpPart } from "../setup/set-up-lines.ts";
import type { SetUpPlanter } from "../setup/set-up-sheet.ts";
import type { UnitVariable } from "./field/unit-variables.ts";
import type { Repair } from "./repairs.ts";
import type { SeasonDocument } from "./season-document.ts";
import { counted, departureWords, evidenceWords } from "./season-words.ts";

/** Parts of a row unit behind what departs, the likeliest first (common practice, no source). */
const PARTS: Readonly<Record<UnitVariable, readonly SetUpPart[]>> = {
  misses: ["meters", "vacuum", "seed-tubes"],
  multiples: ["meters", "vacuum"],
  singulation: ["meters", "vacuum"],
  spacingVariation: ["seed-tubes", "meters", "arms"],
  population: ["drive", "meters", "seed-tubes"],
  downForceMargin: ["down-force", "load-cells", "arms"],
  groundContact: ["down-force", "gauge-wheels", "arms"],
  seedingDepth: ["depth-stops", "gauge-wheels", "discs", "arms"],
};

/** Names of fields on a sheet; of more of them only how many there are. */
const MOST_NAMED = 3;

/** One sheet for each planter of the season, in the order of the repair list, then the planters without a repair. */
export function seasonSetUp(
  { name, fields, repairs, units }: SeasonDocument,
  system: UnitSystem,
): SetUpPlanter[] {
  const planters = [...new Set([...repairs, ...fields].map(({ planter }) => planter))];
  return planters.map((planter) => {
    const labels = fields.filter((field) => field.planter === planter).map(({ label }) => label);
    const rows = units.filter((unit) => unit.planter === planter).map(({ rowUnit }) => rowUnit);
    return {
      name: planter,
      rowUnits: rows.length === 0 ? null : Math.max(...rows),
      fields: labels.length <= MOST_NAMED ? labels : [`${counted(labels.length, "field")} of ${name}`],
      items: repairs
        .filter((repair) => repair.planter === planter)
        .map((repair) => itemOf(repair, name, system)),
      loads: [],
    };
  });
}

function itemOf({ planter, rowUnit, evidence }: Repair, season: string, system: UnitSystem): RepairItem {
  return {
    planter,
    rowUnits: [rowUnit],
    parts: [...new Set(evidence.flatMap(({ variable }) => PARTS[variable]))],
    title: `Row unit ${rowUnit}: ${departureWords(evidence[0]!, system)}`,
    evidence: evidence.map((one) => evidenceWords(one, system)),
    source: season,
  };
}
