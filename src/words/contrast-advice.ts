/** What to do, and what to check first, where a whole part of the field or of the bar stands thin. */
import type { ContrastResult } from "../stand-model/contrast.ts";

interface Advice {
  /** The one thing to do. */
  remedy: string;
  /** The check before money is spent. */
  check: string;
}

const DIG_BOTH =
  "Dig ten seeds there and ten on the other side, same row units: depth, furrow and state of each seed.";

/** Advice by what is short against what; null where the advice of the cause itself serves. */
export function contrastAdvice({ kind }: ContrastResult): Advice | null {
  switch (kind) {
    case "field":
      return {
        remedy:
          "The whole field stands short, so comparing its parts cannot tell why: look at the seed (germination on the tag, treatment, age), at the season (cold, crust, pests), and at how the counts were made.",
        check:
          "Measure the counted row length again and check it against the row spacing; then dig ten gaps: no seed, rotted, swollen, or leafed out underground each point elsewhere.",
      };
    case "soil-zone":
      return {
        remedy:
          "This soil stands short as a whole: crust, wet or dry ground, pests, or how it was planted there. Dig before the planter is changed.",
        check: DIG_BOTH,
      };
    case "planting-day":
      return {
        remedy:
          "All that was planted that day stands short: look at soil temperature and rain in the days after it, at the seed, and at who drove with what settings.",
        check: DIG_BOTH,
      };
    case "seed-lot":
      return {
        remedy:
          "The thin ground follows the seed lot: keep tags and a sample, ask for its germination and vigour, and talk to the seller before other causes are paid for.",
        check: "Count rows of both lots side by side on one soil.",
      };
    case "bar-half":
    case "section":
      return {
        remedy:
          "These rows stand short in every soil: compare what feeds them. Another seed lot or hopper on that side, a fan or a pressure, weight on the wing, row cleaners.",
        check: "Count each half over 1/1000 acre in three passes, and dig ten seeds in each.",
      };
    case "change-point":
      return {
        remedy:
          "Something changed from one pass to the next: another seed lot or hopper fill, another day, a setting, a driver. Look at what was done between these passes.",
        check: DIG_BOTH,
      };
    case "trend":
      return {
        remedy:
          "The stand falls from pass to pass: a meter that clogs with treatment or talc, a disc that wears, a fill that runs low.",
        check: "Count the first, a middle and the last pass in the same soil.",
      };
    case "direction":
      return {
        remedy:
          "The two directions of travel stand differently: look at side slope, wind and sun on sensors, and guidance.",
        check: DIG_BOTH,
      };
    default:
      return null;
  }
}
