/**
 * What findings take from a zone's evidence, and which of them have to be settled before a load is prescribed there:
 * worn or departing row units, traffic, a load sensor that reads wrong, and speed.
 */
import type { Draft } from "../causes/draft.ts";
import { CAUSE_DEFINITIONS } from "../causes/evidence/cause-definitions.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { RecordGroups } from "../passes/record-groups.ts";

/** A finding of the document with what the causes stage drafted it from. */
export interface Settled {
  /** Id in the findings document, null where it has none. */
  id: string | null;
  title: string;
  place: string;
  draft: Draft;
}

/** A finding that stands in the way of a zone's load, and how much of the zone it covers. */
export interface InTheWay {
  finding: Settled;
  /** Share of the zone's records. */
  share: number;
}

export interface Taint {
  /** Findings to settle first that reach the zone, the widest first. */
  inTheWay: InTheWay[];
  /** Share of the zone's records that any of them covers. */
  share: number;
  /** Counted spots of the zone, and those no finding of another cause than load speaks against. */
  spots: number;
  spotsLeft: number;
}

export interface FieldTaint {
  /** 1 for records whose load is not the zone's. */
  recordOff: Uint8Array;
  /** 1 for spots that say nothing of load; one entry a spot. */
  spotOff: Uint8Array;
  ofZone: Map<number, Taint>;
}

/** Departures of rows in these do not touch the load or the depth it holds: a meter is mended apart from the load. */
const SEED_VARIABLES: readonly string[] = ["misses", "multiples", "singulation", "population"];

/**
 * True for what departs by row: it is mended at the unit, whatever its cause. A part of the bar that only stands thin in the
 * counts does so on every ground alike and says nothing of the load.
 */
function isOfRows({ kind, contrast }: Draft): boolean {
  return (kind === "row-unit" || kind === "section") && !contrast;
}

function isOfSeed({ departure }: Draft): boolean {
  return departure !== null && SEED_VARIABLES.includes(departure.variable);
}

/** True for what has to be settled before a load is prescribed around it. */
export function comesFirst(draft: Draft): boolean {
  const { settledFirst } = CAUSE_DEFINITIONS[draft.cause];
  if (settledFirst === "always") return true;
  return (isOfRows(draft) || settledFirst === "unless-of-seed") && !isOfSeed(draft);
}

/** Chance of a load cause from which a place of undetermined cause still speaks of load (our judgement). */
const MAY_BE_LOAD = 0.2;

/** True where a spot inside says nothing of the zone's load: another cause is at work. */
function speaksOfOther(draft: Draft): boolean {
  if (draft.kind === "field") return draft.cause === "excess-speed";
  // A soil that stands thin as a whole may do so by its load: its level is free in the response, so its counts still speak.
  if (draft.kind === "soil-zone") return false;
  // Across the bar, or only perhaps: no reason to throw counts away.
  if (draft.contrast && (draft.kind === "section" || draft.contrast.verdict !== "short")) return false;
  if (isOfRows(draft)) return true;
  if (CAUSE_DEFINITIONS[draft.cause].ofLoad) return false;
  const load = draft.alternatives
    .filter(({ cause }) => CAUSE_DEFINITIONS[cause].ofLoad)
    .reduce((sum, { probability }) => sum + probability, 0);
  return draft.cause !== "undetermined" || load < MAY_BE_LOAD;
}

/** Findings with their drafts, in the order of the document. */
export function settledFindings({
  document,
  findingDrafts,
}: Pick<Analysis, "document" | "findingDrafts">): Settled[] {
  return document.findings.map(({ id, words }, k) => ({
    id,
    title: words.title,
    place: words.place,
    draft: findingDrafts[k]!,
  }));
}

/** Works out what the findings leave of each zone. @param planted the planted records by zone, those of none first */
export function taintOf(analysis: Analysis, zones: readonly number[], planted: RecordGroups): FieldTaint {
  const { zoneOfRecord, parts } = analysis;
  const findings = settledFindings(analysis);
  const { spots } = parts.causes;
  const recordOff = new Uint8Array(zoneOfRecord.length);
  const spotOff = new Uint8Array(spots?.count ?? 0);
  const first = findings.filter(({ draft }) => comesFirst(draft));
  for (const { draft } of first) mark(recordOff, draft.inside);
  for (const { draft } of findings) {
    if (!speaksOfOther(draft)) continue;
    for (const spot of draft.kind === "field" ? spotOff.keys() : draft.spots) spotOff[spot] = 1;
  }
  const ofZone = new Map<number, Taint>();
  for (const zone of zones) {
    const [from, to] = [planted.start[zone + 1]!, planted.start[zone + 2]!];
    const share = (mask: Uint8Array): number => {
      let covered = 0;
      for (let place = from; place < to; place++) covered += mask[planted.records[place]!]!;
      return to === from ? 0 : covered / (to - from);
    };
    const own = spots ? [...spots.zone.keys()].filter((s) => spots.zone[s] === zone) : [];
    ofZone.set(zone, {
      inTheWay: first
        .map((finding) => ({ finding, share: share(finding.draft.inside) }))
        .filter((entry) => entry.share > 0)
        .sort((a, b) => b.share - a.share),
      share: share(recordOff),
      spots: own.length,
      spotsLeft: own.filter((s) => !spotOff[s]).length,
    });
  }
  return { recordOff, spotOff, ofZone };
}

function mark(target: Uint8Array, mask: Uint8Array): void {
  for (let i = 0; i < mask.length; i++) if (mask[i]) target[i] = 1;
}
