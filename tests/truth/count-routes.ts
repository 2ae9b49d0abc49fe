/** One invented field analysed twice, its counts by the whole matrix and by nearest neighbours: the same places and losses? */
import type { Draft } from "../../src/causes/draft.ts";
import { findCauses, usualSwathWidth } from "../../src/causes/find-causes.ts";
import { makeCells } from "../../src/cells/make-cells.ts";
import { joinSoilZones } from "../../src/compare/soil-join.ts";
import { fieldOutline } from "../../src/passes/covered-ground.ts";
import { findPasses } from "../../src/passes/find-passes.ts";
import type { CountSettings } from "../../src/stand-model/stand-view.ts";
import { buildWorldField } from "./judge/build-world-field.ts";
import { MIXTURE, planFields } from "./judge/plan.ts";
import { WORLDS, type WorldName } from "./judge/worlds.ts";

const COUNTS = 600;
/** Two findings are the same place when they share this part of the ground that either holds. */
const SAME_GROUND = 0.5;

/** Places that both ways found, and those that one alone did. */
export interface RouteComparison {
  field: string;
  counts: number;
  both: {
    /** Share of the ground of either that both hold. */
    overlap: number;
    /** Difference of the losses, in standard errors of the exact way. */
    errors: number;
    sameCause: boolean;
    /** Difference of the probability of the named cause. */
    probability: number;
  }[];
  exactAlone: string[];
  sparseAlone: string[];
  /** Contrasts whose verdict differs, and all of them. */
  verdicts: { differ: number; all: number };
}

/** Compares two settings on as many fields, worlds and kinds by turns. */
export async function compareRoutes(
  from: number,
  fields: number,
  one: CountSettings = { route: "exact", mostPoints: Number.POSITIVE_INFINITY },
  other: CountSettings = { route: "sparse", mostPoints: Number.POSITIVE_INFINITY },
): Promise<RouteComparison[]> {
  const results: RouteComparison[] = [];
  const worlds = Object.keys(WORLDS) as WorldName[];
  for (const { world, kind, seed, depthSource } of planFields(worlds, MIXTURE, from, fields, "sensed")) {
    const { field, truth } = await buildWorldField(world, kind, seed, { depthSource, wanted: COUNTS });
    const passes = findPasses(field);
    const zones = joinSoilZones(field);
    const { cells, cellOf } = makeCells(field, passes, zones);
    const ground = { outline: fieldOutline(field, passes), areaM2: 1 };
    const [exact, sparse] = [one, other].map((settings) =>
      findCauses(field, passes, zones, cells, cellOf, usualSwathWidth(passes), ground, settings),
    );
    const sparsePlaces = placesOf(sparse!.drafts);
    const taken = new Set<Draft>();
    const exactAlone: string[] = [];
    const both: RouteComparison["both"] = [];
    for (const draft of placesOf(exact!.drafts)) {
      const [best] = sparsePlaces
        .filter((place) => !taken.has(place))
        .map((place) => ({ place, overlap: overlapOf(draft, place) }))
        .sort((a, b) => b.overlap - a.overlap);
      if (!best || best.overlap < SAME_GROUND) {
        exactAlone.push(nameOf(draft));
        continue;
      }
      taken.add(best.place);
      both.push({
        overlap: best.overlap,
        errors:
          Math.abs(best.place.deficit!.estimate - draft.deficit!.estimate) / draft.deficit!.standardError,
        sameCause: best.place.cause === draft.cause,
        probability: Math.abs(best.place.probability - draft.probability),
      });
    }
    const verdicts = exact!.contrasts.map(({ verdict }, k) => verdict !== sparse!.contrasts[k]!.verdict);
    results.push({
      field: `${world}/${kind}/${seed}`,
      counts: truth.counts,
      both,
      exactAlone,
      sparseAlone: sparsePlaces.filter((place) => !taken.has(place)).map(nameOf),
      verdicts: { differ: verdicts.filter(Boolean).length, all: verdicts.length },
    });
  }
  return results;
}

/** Counted places with a loss by the counts. */
function placesOf(drafts: readonly Draft[]): Draft[] {
  return drafts.filter(
    ({ kind, basis, deficit, rowUnits }) =>
      basis === "counted" &&
      deficit !== null &&
      rowUnits.length === 0 &&
      (kind === "area" || kind === "pass"),
  );
}

function overlapOf(one: Draft, other: Draft): number {
  let [both, either] = [0, 0];
  for (let i = 0; i < one.inside.length; i++) {
    both += one.inside[i]! & other.inside[i]!;
    either += one.inside[i]! | other.inside[i]!;
  }
  return either > 0 ? both / either : 0;
}

function nameOf({ cause, deficit, probability }: Draft): string {
  const { estimate, standardError } = deficit!;
  return `${cause} (${probability.toFixed(2)}), ${(100 * estimate).toFixed(1)} +- ${(100 * standardError).toFixed(1)} points`;
}
