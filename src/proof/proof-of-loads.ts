/** Did the new loads pay? The strips left at the old setting against the ground beside them, in the log and in the counts. */
import { containsPoint } from "../causes/evidence/place-geometry.ts";
import { lossOf } from "../cost/loss.ts";
import type { Analysis } from "../findings/analysis.ts";
import { mean } from "../numerics/descriptive.ts";
import { Z90 } from "../numerics/distributions.ts";
import type { Estimate } from "../numerics/estimate.ts";
import { barWidth } from "../passes/covered-ground.ts";
import { SQUARE_METRES_PER_HECTARE } from "../quantities/units.ts";
import { joinCounts, referencePopulation, type Spots } from "../stand/spots.ts";
import { countsToShow, gainAt, gainOver, LEAST_COUNTS, noiseOf, withInterval } from "./gain-of-counts.ts";
import {
  PROOF_SCHEMA,
  type ProofResult,
  type ProofSide,
  type ProofStripResult,
  type ProofVerdict,
} from "./proof-result.ts";
import type { SentZone } from "./sent-zones.ts";
import { type Sides, sidesOf } from "./sides.ts";
import { spotsToCount } from "./spots-to-count.ts";

/** Share of the step in load below which the machine did not do what was asked (our judgement). */
const CARRIED_OUT_FROM = 0.5;
/** Pairs to count at each strip where nothing else decides, least and most (our judgement). */
const LEAST_PAIRS = 6;
const MOST_PAIRS = 20;
/** Variance of a count of some 30 plants, share of stand squared, where nobody has counted yet: binomial at 93 % (our judgement). */
const USUAL_COUNTING_VARIANCE = (0.93 * 0.07) / 30;

/** Compares strips and ground beside them in a field that was planted by these zones. */
export function proofOfLoads(analysis: Analysis, zones: readonly SentZone[]): ProofResult {
  const { field, passes, zoneOfRecord } = analysis;
  const spots = joinCounts(field, passes, zoneOfRecord);
  const sides = sidesOf(analysis, spots, zones);
  const noise = noiseOf(spots ?? NO_SPOTS, sides);
  const gains = sides.map((side) => (spots ? gainAt(side, spots, noise) : null));
  const strips = sides.map((side, k): ProofStripResult => {
    const [strip, beside] = (["strip", "beside"] as const).map((which) =>
      sideOf(side, which, analysis, spots),
    );
    const counts = strip!.counts + beside!.counts;
    return {
      zone: side.zone.number,
      soil: side.zone.soil,
      strip: strip!,
      beside: beside!,
      carriedOut: carriedOut(strip!, beside!),
      gain: gains[k] ? withInterval(gains[k], counts - 2) : null,
    };
  });
  const followed = strips.filter(({ carriedOut: share }) => share === null || share >= CARRIED_OUT_FROM);
  /** Strips that the verdict rests on: counted, and not known to be left at another load than asked. */
  const used = sides.flatMap((side, k) => {
    const [strip, own] = [strips[k]!, gains[k]];
    return own && followed.includes(strip)
      ? [{ side, gain: own, counts: strip.strip.counts + strip.beside.counts }]
      : [];
  });
  const gain = gainOver(used);
  const verdict = verdictOf(strips, followed, gain);
  const areaHa = newGroundHa(
    analysis,
    used.map(({ side }) => side),
  );
  const toShow = countsToShow(
    noise,
    spots ? mean([...spots.countingVariance]) || USUAL_COUNTING_VARIANCE : USUAL_COUNTING_VARIANCE,
  );
  const pairs = Math.min(MOST_PAIRS, Math.max(LEAST_PAIRS, Math.ceil(toShow / sides.length)));
  return {
    schema: PROOF_SCHEMA,
    field: { name: field.name, season: field.season, crop: field.crop },
    verdict,
    gain,
    ...(gain !== null && (verdict === "gained" || verdict === "lost")
      ? yieldOf(analysis, strips, gain, areaHa)
      : { yieldShare: null, money: null }),
    areaHa,
    strips,
    countsToShow: toShow,
    toCount: sides.flatMap((side, k) => {
      const already = Math.min(strips[k]!.strip.counts, strips[k]!.beside.counts);
      return already >= pairs ? [] : spotsToCount(side, pairs - already, barWidth(passes), field.frame);
    }),
    notes: notesOf(strips, followed),
  };
}

const NO_SPOTS = { count: 0 } as Spots;

function sideOf(side: Sides, which: "strip" | "beside", analysis: Analysis, spots: Spots | null): ProofSide {
  const { cells, field } = analysis;
  const own = side.cells[which];
  const counted = side.spots[which];
  const target = referencePopulation(field);
  const over = (values: Float64Array | null | undefined): number | null => {
    if (!values) return null;
    let [sum, weight] = [0, 0];
    for (const i of own) {
      if (Number.isNaN(values[i]!)) continue;
      sum += values[i]! * cells.areaM2[i]!;
      weight += cells.areaM2[i]!;
    }
    return weight > 0 ? sum / weight : null;
  };
  const asked = which === "strip" ? [side.zone.askedN] : side.besideZones.map(({ askedN }) => askedN);
  return {
    askedN: asked.length > 0 && asked.every((load) => load !== null) ? mean(asked as number[]) : null,
    carriedN: over(cells.mean.downForceMargin),
    noLoadShare: over(cells.noLoadShare),
    depthMm: over(cells.mean.seedingDepth),
    depthSdMm: over(cells.depthSdMm),
    areaHa: own.reduce((sum, i) => sum + cells.areaM2[i]!, 0) / SQUARE_METRES_PER_HECTARE,
    counts: counted.length,
    standPerHa:
      counted.length > 0 && target !== null ? target * mean(counted.map((i) => spots!.response[i]!)) : null,
  };
}

/** Ground of the new loads on the soils of these strips, each piece of it once. */
function newGroundHa({ cells }: Analysis, sides: readonly Sides[]): number {
  const zones = [...new Set(sides.flatMap(({ besideZones }) => besideZones))];
  let areaM2 = 0;
  for (let i = 0; i < cells.count; i++) {
    if (zones.some(({ polygons }) => containsPoint(polygons, cells.x[i]!, cells.y[i]!)))
      areaM2 += cells.areaM2[i]!;
  }
  return areaM2 / SQUARE_METRES_PER_HECTARE;
}

function carriedOut(strip: ProofSide, beside: ProofSide): number | null {
  const [asked, carried] = [
    difference(strip.askedN, beside.askedN),
    difference(strip.carriedN, beside.carriedN),
  ];
  return asked === null || carried === null || asked === 0 ? null : carried / asked;
}

function difference(from: number | null, to: number | null): number | null {
  return from === null || to === null ? null : to - from;
}

function verdictOf(
  strips: readonly ProofStripResult[],
  followed: readonly ProofStripResult[],
  gain: Estimate | null,
): ProofVerdict {
  if (strips.length > 0 && followed.length === 0) return "not-carried";
  if (gain === null) return "too-few";
  if (gain.low > 0) return "gained";
  return gain.high < 0 ? "lost" : "not-shown";
}

/** The gain in yield and money; what was lost has a minus. */
function yieldOf(
  { field }: Analysis,
  strips: readonly ProofStripResult[],
  gain: Estimate,
  areaHa: number,
): Pick<ProofResult, "yieldShare" | "money"> {
  const sign = gain.estimate < 0 ? -1 : 1;
  const better = strips.flatMap(({ strip, beside }) => (sign > 0 ? beside : strip).standPerHa ?? []);
  const { yieldShare, money } = lossOf({
    crop: field.crop,
    plantedIsoDate: field.planted,
    deficitShare: {
      estimate: sign * gain.estimate,
      standardError: (gain.high - gain.low) / 2 / Z90,
    },
    targetPerHa: referencePopulation(field),
    standElsewherePerHa: better.length > 0 ? mean(better) : null,
    arrangement: "unknown",
    lateShare: null,
    areaHa,
    prices: field.prices,
  });
  const signed = <T extends Estimate>(one: T): T =>
    sign > 0 ? one : { ...one, estimate: -one.estimate, low: -one.high, high: -one.low };
  return { yieldShare: yieldShare && signed(yieldShare), money: money && signed(money) };
}

function notesOf(strips: readonly ProofStripResult[], followed: readonly ProofStripResult[]): string[] {
  const notes: string[] = [];
  const unchanged = strips.filter((strip) => !followed.includes(strip)).map(({ zone }) => zone);
  if (unchanged.length > 0 && followed.length > 0)
    notes.push(
      `The load did not change as asked: zone ${unchanged.join(", ")}; what is counted there is no part of the verdict.`,
    );
  if (strips.length < 3)
    notes.push(
      `${strips.length === 1 ? "One strip is" : "Two strips are"} one field in one year: another spring, wetter or drier, may say something else.`,
    );
  const few = strips.filter(({ gain }) => gain === null).map(({ zone }) => zone);
  if (few.length > 0)
    notes.push(
      `Fewer than ${LEAST_COUNTS} counts in the strip or beside it: zone ${few.join(", ")}; nothing is worked out there.`,
    );
  const unlogged = strips.some(({ carriedOut: share }) => share === null);
  if (unlogged)
    notes.push(
      "Whether the machine did what was asked cannot be told everywhere: no load in the log there, or none in the file.",
    );
  notes.push(
    "Plants that came late are not in the figures, nor is a harvest: weigh the strips apart where you can.",
  );
  return notes;
}
