/**
 * Whether spots chosen by the tool tell more than as many spots at random: invented fields whose truth is known, 60
 * counts by hand each, four rows of 5.3 m at every one of them. Random spots are uniform over the planted ground. A fault
 * counts as found by the rule of `npm run truth`. The seeds are used for nothing else; the placement was adjusted on
 * those from 920,000 on.
 */
import { describe, expect, it } from "vitest";
import { makeCells } from "../../src/cells/make-cells.ts";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import type { Analysis } from "../../src/findings/analysis.ts";
import { analyseField } from "../../src/jobs/analyse.ts";
import { seededRandom } from "../../src/numerics/random.ts";
import { scoutPlan } from "../../src/scout/scout-plan.ts";
import { studySize, WHOLE_STUDIES } from "../support/study-size.ts";
import { cellsOf, eventCells, finds } from "./areas.ts";
import { type FieldKind, makeField, type TrueField, WORLDS } from "./worlds/make-field.ts";

const SPOTS = 60;
const FIELDS = studySize(40, 8);
const FIRST_SEED = 910_000;
/** A part of the study is too small for the whole lead. */
const LEAST_LEAD = WHOLE_STUDIES ? 0.15 : 0.05;
/** Faults that cost this share of the stand or more are to be found. */
const COSTLY = 0.05;
const KINDS: readonly FieldKind[] = ["ordinary", "two factors", "ordinary", "planting and crust"];

interface Tally {
  events: number;
  found: number;
}

function tally(truth: TrueField, { cells, passes, document }: Analysis, into: Tally): void {
  const { cellOf } = makeCells(truth.field, passes, joinSoilZones(truth.field));
  const masks = document.findings
    .filter(({ basis, kind }) => basis === "counted" && (kind === "area" || kind === "pass"))
    .map((finding) => cellsOf(finding, cells));
  eventCells(truth, cells, cellOf).forEach((event, e) => {
    if (truth.events[e]!.loss < COSTLY) return;
    into.events++;
    if (masks.some((mask) => finds(mask, event))) into.found++;
  });
}

describe("60 spots chosen by the tool against 60 at random", () => {
  it("find more of the faults that cost 5 points of stand or more", { timeout: 3_600_000 }, async () => {
    const chosen: Tally = { events: 0, found: 0 };
    const random: Tally = { events: 0, found: 0 };
    for (let k = 0; k < FIELDS; k++) {
      const seed = FIRST_SEED + k;
      const make = (): TrueField =>
        makeField(WORLDS[k % 2]!, KINDS[Math.floor(k / 2) % KINDS.length]!, "150 counts", seed);
      const truth = make();
      truth.field.standCounts = null;
      const { spots } = scoutPlan(await analyseField(truth.field), { spots: SPOTS, digs: 0 });
      truth.field.standCounts = truth.countAt(spots, seed);
      tally(truth, await analyseField(truth.field), chosen);

      const other = make();
      const draw = seededRandom(seed + 1);
      const { way } = other;
      const places = Array.from({ length: SPOTS }, () => {
        const i = Math.floor(draw() * way.count);
        const right = (draw() - 0.5) * 9;
        return { x: way.x[i]! + way.rightX[i]! * right, y: way.y[i]! + way.rightY[i]! * right };
      });
      other.field.standCounts = other.countAt(places, seed);
      tally(other, await analyseField(other.field), random);
    }
    const share = ({ found, events }: Tally): number => found / events;
    process.stdout.write(
      `${chosen.events} faults of 5 points or more on ${FIELDS} fields: ${chosen.found} found by chosen spots (${share(chosen).toFixed(2)}), ${random.found} by random ones (${share(random).toFixed(2)})\n`,
    );
    expect(chosen.events).toBeGreaterThan(FIELDS / 2);
    expect(share(chosen)).toBeGreaterThanOrEqual(0.7);
    expect(share(chosen) - share(random)).toBeGreaterThanOrEqual(LEAST_LEAD);
  });
});
