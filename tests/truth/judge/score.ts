/** What the findings document says of an invented field, held against its truth. Reads the document, nothing else. */
import type { Truth } from "./build-world-field.ts";
import type { ContrastName } from "./wrongs.ts";

/** The parts of the findings document that are judged; what a version does not write may be absent. */
interface JudgedDocument {
  summary: { contrasts?: JudgedContrast[] };
  findings: JudgedFinding[];
}

interface JudgedContrast {
  kind: string;
  name: string;
  counts: number;
  shortShare: { estimate: number; low: number; high: number } | null;
  probability: number;
  verdict: string;
}

interface JudgedFinding {
  kind: string;
  cause: string;
  basis: string;
  probability: number;
  alternatives: { cause: string; probability: number }[];
  where: {
    geometry: { coordinates: number[][][][] };
    rowUnits: number[];
    soilZones: string[];
  };
  stand: { deficitShare: { estimate: number; low: number; high: number } | null; counts: number };
}

/** An interval and what it was to hold. */
interface Interval {
  low: number;
  estimate: number;
  high: number;
  truth: number;
}

/** A counted finding. */
interface ScoredFinding {
  kind: string;
  /** Likeliest cause, named or not, and its probability. */
  cause: string;
  named: boolean;
  probability: number;
  /** Whether plants are truly missing there. */
  isTrue: boolean;
  /** Whether the cause is that of the event it lies on; false at a place where nothing is missing. */
  right: boolean;
  counts: number;
  deficit: Interval | null;
}

interface ScoredEvent {
  what: string;
  loss: number;
  counts: number;
  contrast: ContrastName | null;
  /** A counted finding, or for a part of the field a contrast that is called short. */
  found: boolean;
  /** Found, or a contrast at 0.5 and more. */
  listed: boolean;
  /** For a part of the field: a place that covers half of it and lies in it by half, whatever it is called. */
  foundAsPlace: boolean;
  /** Cleared, or laid to the sensor at 0.5 and more (row units). */
  cleared: boolean;
}

export interface ScoredField {
  world: string;
  kind: string;
  seed: number;
  depthSource: string;
  /** Counts asked for; null for the usual of the world. */
  wanted: number | null;
  counts: number;
  spots: { rowsCounted: number; positionErrorM: number; namesRow: boolean };
  events: ScoredEvent[];
  findings: ScoredFinding[];
  /** Contrasts called short that are no event, and how many were tested. */
  wrongContrasts: string[];
  contrasts: number;
  /** Intervals of contrasts called short that are events. */
  contrastIntervals: Interval[];
  predicted: number;
  seconds: number;
  /** Message where the tool failed on the field. */
  failed: string | null;
}

/**
 * A place is true where this share of it lies on ground that misses more than {@link HURT}, or where it misses
 * {@link MEAN_HURT} in the mean (a short section is a quarter of any ground).
 */
const TRUE_SHARE = 0.3;
const HURT = 0.02;
const MEAN_HURT = 0.03;
/** An event is found where a finding holds this share of it and lies in it by this share. */
const OVERLAP = 0.3;
const COVERS = 0.5;

const PLACES = new Set(["area", "pass", "soil-zone", "field"]);
const KINDS_OF: Record<ContrastName, { finding: readonly string[]; contrast: readonly string[] }> = {
  field: { finding: ["field"], contrast: ["field"] },
  zone: { finding: ["soil-zone"], contrast: ["soil-zone"] },
  day: { finding: [], contrast: ["planting-day"] },
  lot: { finding: [], contrast: ["seed-lot"] },
  cut: { finding: [], contrast: ["change-point"] },
  half: { finding: [], contrast: ["bar-half"] },
  section: { finding: [], contrast: ["section"] },
};

/** Scores one document. */
export function scoreDocument(
  truth: Truth,
  document: JudgedDocument,
): Pick<
  ScoredField,
  "events" | "findings" | "wrongContrasts" | "contrasts" | "contrastIntervals" | "predicted"
> {
  const counted = document.findings.filter(({ basis }) => basis === "counted");
  const masks = counted.map((finding) => sitesIn(truth, finding));
  const contrasts = document.summary.contrasts ?? [];
  const short = contrasts.filter(({ verdict }) => verdict === "short");
  const events = truth.events.map((event, e): ScoredEvent => {
    const { contrast, rowUnit } = event;
    const base = {
      what: event.what,
      loss: event.loss,
      counts: event.counts,
      contrast: contrast?.name ?? null,
      cleared: false,
      foundAsPlace: false,
    };
    if (rowUnit > 0) {
      const own = document.findings.filter(
        ({ where }) => where.rowUnits.length === 1 && where.rowUnits[0] === rowUnit,
      );
      const cleared = own.some(
        ({ basis, cause, probability }) =>
          basis === "cleared" || (cause === "sensor-fault" && probability >= 0.5),
      );
      return { ...base, found: own.length > 0 && !cleared, listed: own.length > 0, cleared };
    }
    if (!contrast) {
      const found = counted.some(
        ({ kind }, k) => PLACES.has(kind) && overlaps(masks[k]!, truth.events[e]!.sites, OVERLAP),
      );
      return { ...base, found, listed: found };
    }
    const matches = (said: JudgedContrast): boolean => isContrast(truth, contrast.name, contrast.of, said);
    const foundAsPlace = counted.some((_, k) => overlaps(masks[k]!, event.sites, COVERS));
    const named = counted.some((finding) => isPart(truth, contrast.name, contrast.of, finding));
    const byPlace =
      foundAsPlace && (contrast.name === "day" || contrast.name === "lot" || contrast.name === "cut");
    const found = named || byPlace || short.some(matches);
    const listed = found || contrasts.some((said) => said.probability >= 0.5 && matches(said));
    return { ...base, found, listed, foundAsPlace };
  });
  const own = truth.events.find(({ contrast }) => contrast)?.contrast;
  const isOwn = (said: JudgedContrast): boolean =>
    own !== undefined && own !== null && isContrast(truth, own.name, own.of, said);
  return {
    events,
    findings: counted.map((finding, k) => scoreFinding(truth, finding, masks[k]!)),
    wrongContrasts: short.filter((said) => !isOwn(said)).map(({ kind, name }) => `${kind}: ${name}`),
    contrasts: contrasts.length,
    contrastIntervals: short
      .filter((said) => isOwn(said) && said.shortShare !== null)
      .map(({ shortShare }) => ({
        ...pickInterval(shortShare!),
        truth: own!.name === "field" ? 1 - truth.meanStand : own!.share,
      })),
    predicted: document.findings.filter(({ basis }) => basis === "predicted").length,
  };
}

function scoreFinding(truth: Truth, finding: JudgedFinding, mask: Uint8Array): ScoredFinding {
  const likeliest = finding.cause === "undetermined" ? (finding.alternatives[0] ?? finding) : finding;
  const size = total(mask);
  const hurt = truth.loss.reduce((sum, loss, i) => sum + (mask[i]! && loss > HURT ? 1 : 0), 0);
  const unit = truth.events.find(({ rowUnit }) => rowUnit > 0 && finding.where.rowUnits.includes(rowUnit));
  const part = truth.events.find(
    ({ contrast }) => contrast && isPart(truth, contrast.name, contrast.of, finding),
  );
  const shared = truth.events.map(({ sites }) => common(mask, sites));
  const largest = shared.indexOf(Math.max(0, ...shared));
  const missing = truth.loss.reduce((sum, loss, i) => sum + loss * mask[i]!, 0) / size;
  const isTrue =
    unit !== undefined ||
    part !== undefined ||
    (size > 0 && (hurt >= TRUE_SHARE * size || missing >= MEAN_HURT));
  const event = unit ?? part ?? (largest >= 0 && shared[largest]! > 0 ? truth.events[largest] : undefined);
  const { deficitShare, counts } = finding.stand;
  return {
    kind: finding.kind,
    cause: likeliest.cause,
    named: finding.cause !== "undetermined",
    probability: likeliest.probability,
    isTrue,
    right: isTrue && (event?.right.includes(likeliest.cause) ?? false),
    counts,
    deficit:
      deficitShare && isTrue && PLACES.has(finding.kind) && size > 0
        ? { ...pickInterval(deficitShare), truth: missing }
        : null,
  };
}

/** Whether a contrast of the document is about this part of the field. */
function isContrast(truth: Truth, name: ContrastName, of: string, said: JudgedContrast): boolean {
  if (!KINDS_OF[name].contrast.includes(said.kind)) return false;
  const text = said.name.toLowerCase();
  switch (name) {
    case "zone":
    case "lot":
      return text.includes(of.toLowerCase());
    case "day":
      // A name without any of the dates is taken at its kind.
      return text.includes(of) || !truth.ground.days.some((day) => text.includes(day));
    case "half":
      return text.includes(of);
    default:
      return true;
  }
}

/** Whether a finding is about this part of the field by its kind: its zone, or its row units. */
function isPart(truth: Truth, name: ContrastName, of: string, finding: JudgedFinding): boolean {
  if (name === "half" || name === "section") {
    const rows = finding.where.rowUnits;
    const [first, last] = rowsOf(truth, name, of);
    const inside = rows.filter((row) => row >= first && row <= last).length;
    return inside >= COVERS * (last - first + 1) && inside >= 0.7 * rows.length;
  }
  if (!KINDS_OF[name].finding.includes(finding.kind)) return false;
  return name !== "zone" || finding.where.soilZones.some((zone) => zone.toLowerCase() === of.toLowerCase());
}

function rowsOf(truth: Truth, name: "half" | "section", of: string): [number, number] {
  const { rows } = truth.ground;
  if (name === "half") return of === "left" ? [1, rows / 2] : [rows / 2 + 1, rows];
  const [first, last] = of.replace("rows ", "").split(" to ").map(Number);
  return [first!, last!];
}

function pickInterval({ low, estimate, high }: { low: number; estimate: number; high: number }) {
  return { low, estimate, high };
}

function overlaps(mask: Uint8Array, event: Uint8Array, share: number): boolean {
  const both = common(mask, event);
  return both > 0 && both >= share * total(event) && both >= share * total(mask);
}

/** Sites that lie in a finding. */
function sitesIn(truth: Truth, finding: JudgedFinding): Uint8Array {
  const polygons = finding.where.geometry.coordinates.map((rings) =>
    rings.map((ring) => ring.map(([longitude, latitude]) => truth.ground.fromDegrees(longitude!, latitude!))),
  );
  const boxes = polygons.map(([outer]) => ({
    left: Math.min(...outer!.map(([x]) => x)),
    right: Math.max(...outer!.map(([x]) => x)),
  }));
  return Uint8Array.from(truth.sites, ({ across, along }) =>
    polygons.some(
      (rings, k) =>
        across >= boxes[k]!.left &&
        across <= boxes[k]!.right &&
        rings.filter((ring) => contains(ring, across, along)).length % 2 === 1,
    )
      ? 1
      : 0,
  );
}

/** Whether a ring goes round a point: crossings of the ray to the right. */
function contains(ring: readonly [number, number][], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

function total(mask: Uint8Array): number {
  return mask.reduce((sum, value) => sum + value, 0);
}

function common(one: Uint8Array, other: Uint8Array): number {
  return one.reduce((sum, value, i) => sum + (value && other[i] ? 1 : 0), 0);
}
