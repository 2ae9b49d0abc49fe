/** The fixed contrasts of a field as the model of the counts sees them, each with its verdict. */
import { LEVEL, normalCdf, Z90 } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { holm } from "../numerics/holm.ts";
import { quantileSorted } from "../numerics/quantile.ts";
import type { ContrastKind, ContrastResult } from "./contrast.ts";
import { termKey } from "./posterior.ts";
import type { StandView } from "./stand-view.ts";
import type { Term } from "./terms.ts";

/** Counts (by their share of the side), or pieces of ground that hold many, that each side of a contrast has at least. */
const FEWEST_COUNTS = 5;
/** Counts that leave a contrast open to more than this, share of stand, do not test it: rows beside each other, counted by position. */
const LARGEST_ERROR = 0.05;
/** A side is short from this probability on, and could be from the lower one (our judgement). */
export const SHORT = { from: 0.7, couldBeFrom: 0.5 } as const;
/** Shortfall that matters, share of stand; soils differ by some points in any field (our judgement). */
const WORTH_SAYING = { plain: 0.03, soilZone: 0.04 } as const;

/** A tested contrast with the term behind it. */
export interface ContrastTest {
  result: ContrastResult;
  term: Term;
  key: string;
}

/** Contrasts in the order of the terms; p-values corrected for their number (Holm 1979). */
export function contrastTests(view: StandView): ContrastTest[] {
  const { fit, posterior, points } = view;
  const tests = fit.terms.flatMap((term): (ContrastTest & { z: number })[] => {
    if (term.kind === "factor" || term.kind === "unlisted" || term.kind === "row-unit") return [];
    const key = termKey(term);
    const column = (likeliestOption(view, term, key) ?? term.options[0]!).column.points;
    const own = column.reduce((sum, value) => sum + value, 0);
    const rest = points.count - own;
    // Counts pooled on one piece of ground are many counts of one place.
    const counts = column.reduce(
      (sum, value, p) => sum + value * (points.start[p + 1]! - points.start[p]!),
      0,
    );
    const plain = posterior.plainLoss(column, (other) => other === key);
    const tooFew = own < FEWEST_COUNTS || (term.kind !== "field" && rest < FEWEST_COUNTS);
    const effects = posterior.effectsOf(key);
    const probability = tooFew
      ? 0
      : posterior.probabilityOf(key, term.kind === "soil-zone" ? WORTH_SAYING.soilZone : WORTH_SAYING.plain);
    // What could be anything is not tested; where the model is sure of a shortfall all the same, it is said.
    const isOpen = plain.standardError > LARGEST_ERROR && probability < SHORT.couldBeFrom;
    const [low, middle, high] =
      effects.length > 0 && probability >= SHORT.couldBeFrom
        ? [0.05, 0.5, 0.95].map((share) => quantileSorted(effects, share))
        : [-Z90, 0, Z90].map((z) => plain.estimate + z * plain.standardError);
    const shortShare = asShare(view, term, { low: low!, middle: middle!, high: high! });
    return [
      {
        term,
        key,
        z: tooFew || isOpen ? Number.NaN : plain.estimate / plain.standardError,
        result: {
          kind: term.kind as ContrastKind,
          ...sidesOf(view, term, key),
          counts: Math.round(counts),
          shortShare: tooFew || isOpen ? null : shortShare,
          probability,
          pValue: null,
          verdict:
            tooFew || isOpen
              ? "too-few"
              : probability >= SHORT.from
                ? "short"
                : probability >= SHORT.couldBeFrom
                  ? "could-be"
                  : "tested",
        },
      },
    ];
  });
  const tested = tests.filter(({ z }) => !Number.isNaN(z));
  const corrected = holm(tested.map(({ z }) => 1 - normalCdf(z)));
  tested.forEach((test, k) => {
    test.result = { ...test.result, pValue: corrected[k]! };
  });
  return tests;
}

/** Spread of the draws is widened by this, and parts of a sound field differ by about this much of their own (SD, our judgement). */
const WIDEN = 1.2;
const NATURAL_SD = 0.012;

/** A shortfall as share of the target: the field's with what sound seed never brings up, any other beside what stands on the other side. */
function asShare(
  { expectedLevel }: StandView,
  { kind }: Term,
  { low, middle, high }: { low: number; middle: number; high: number },
): Estimate {
  const widened = (side: number): number => Math.hypot(WIDEN * (side - middle), Z90 * NATURAL_SD);
  const [below, above] = [widened(low), widened(high)];
  if (kind === "field") {
    // What never comes up of sound seed is short of the target too.
    const estimate = 1 - expectedLevel + middle;
    return { estimate, low: estimate - below, high: estimate + above, level: LEVEL };
  }
  return { estimate: middle, low: middle - below, high: middle + above, level: LEVEL };
}

/** The option that acts most often, null where the term never acts. */
export function likeliestOption(view: StandView, term: Term, key: string): Term["options"][number] | null {
  const shares = [...view.posterior.optionShares(key)].sort(
    (a, b) => b[1] - a[1] || a[0].localeCompare(b[0]),
  );
  if (shares.length === 0) return null;
  return term.options.find(({ label }) => label === shares[0]![0]) ?? null;
}

/** What the sides are called in the middle of a sentence. */
function sidesOf(view: StandView, term: Term, key: string): { name: string; against: string } {
  const rest = "the rest of the field";
  switch (term.kind) {
    case "field":
      return { name: "the whole field", against: "the target" };
    case "soil-zone":
      return { name: term.name, against: rest };
    case "planting-day":
      return { name: `planted ${term.name}`, against: "the other days" };
    case "seed-lot":
      return {
        name: /^(seed )?lot\b/i.test(term.name) ? term.name : `seed lot ${term.name}`,
        against: "the other lots",
      };
    case "bar-half":
      return { name: `the ${term.name} half of the bar`, against: "the other half" };
    case "section":
      return { name: `rows ${term.name.replace("-", " to ")}`, against: "the other rows" };
    case "track-rows":
      return { name: `track rows ${term.name.replaceAll(",", ", ")}`, against: "plain rows" };
    case "end-rows":
      return { name: "end rows", against: "the middle" };
    case "direction":
      return { name: `the ${term.name} direction of travel`, against: "the other direction" };
    case "change-point": {
      const label = likeliestOption(view, term, key)?.label ?? "";
      const pass = label.replace(/^(from|to) /, "");
      return label.startsWith("to ")
        ? { name: `what was planted up to pass ${pass}`, against: "what came after" }
        : {
            name: label ? `what was planted from pass ${pass} on` : "a later part",
            against: "what came before",
          };
    }
    default:
      return { name: "the later passes", against: "the earlier ones" };
  }
}
