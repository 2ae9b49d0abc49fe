/** From an analysed field to its down-force prescription. */
import { type Note, PrescriptionError } from "../errors.ts";
import type { Analysis } from "../findings/analysis.ts";
import type { FindingsDocument } from "../findings/findings-document.ts";
import { weightedMean } from "../numerics/descriptive.ts";
import { adviceFor } from "../prescription/advice.ts";
import type { TodaysPair } from "../prescription/channel.ts";
import { type LearntZone, learnZones, todayOf } from "../prescription/decide.ts";
import { editRefusal } from "../prescription/edit-refusal.ts";
import { gatherEvidence, NO_SOIL_ZONE } from "../prescription/evidence.ts";
import { outsideBoundaryShare, physicsOf, soilNamesGuard } from "../prescription/field-sense.ts";
import { type DecidedZone, loadGuards } from "../prescription/guards.ts";
import { LIMITS } from "../prescription/limits.ts";
import { loadPlaces } from "../prescription/load-places.ts";
import type {
  Prescription,
  PrescriptionSettings,
  ZoneDecision,
  ZoneEdits,
} from "../prescription/prescription.ts";
import { completeSettings } from "../prescription/settings.ts";
import { decided, isShown } from "../rate-zones/draw-loads.ts";
import { drawNeverWorse } from "../rate-zones/never-worse.ts";
import { cutsOf, type Learnt } from "../rate-zones/place-cuts.ts";
import { withheldWords } from "../rate-zones/sent-loads.ts";
import { type Writing, type WritingOptions, writingOf } from "../texts/language.ts";
import { prescribedRemedyWords } from "../words/remedy-words.ts";

export { editRefusal } from "../prescription/edit-refusal.ts";
export { defaultSettings } from "../prescription/settings.ts";

/** Shown wherever a load is set. */
export const PRESCRIPTION_CAUTIONS: readonly string[] = [
  "Before reaching under a planter: follow its operator's manual, lower or block it, stop the engine and relieve hydraulic pressure.",
  "Dig behind the bar and check depth, contact and furrow wall before planting the field at these loads.",
  "Soil that moulds like putty means wait: no load makes wet ground fit.",
  "Zero the load sensors with the row units raised before the season, as the manual says.",
  "Seed may be treated: wear gloves when digging and read the seed label.",
  "This is advice for a licensed adviser and the operator, who decide on the ground.",
];

/** The costly part, the same for all settings and edits of an analysis. */
const learnt = new WeakMap<Analysis, Learnt>();

function learn(analysis: Analysis): Learnt {
  const known = learnt.get(analysis);
  if (known) return known;
  const physics = physicsOf(analysis, "farm");
  const zones = physics.refusal.load === null ? learnZones(gatherEvidence(analysis, physics)) : [];
  const found = { zones, physics };
  learnt.set(analysis, found);
  return found;
}

/**
 * The prescription of an analysed field: the same analysis, settings and edits give the same prescription. Edits that
 * cross a limit or name no zone are not followed and stand among the notes.
 * @param edits loads set by hand for the picked state of the ground, N, by soil zone
 * @param units units of the sentences; figures are in inside units either way
 * @throws {PrescriptionError} where none can be made at all (no load in the log or one that cannot be a load, no
 *   ground, a boundary that is not this field's) or a setting cannot be
 */
export function prescribe(
  analysis: Analysis,
  settings: Partial<PrescriptionSettings> = {},
  edits: ZoneEdits = {},
  asked: WritingOptions = {},
): Prescription {
  const writing = writingOf(asked);
  const key = JSON.stringify([settings, edits, writing]);
  const last = answered.get(analysis);
  if (last?.key === key) return last.prescription;
  const prescription = workedOut(analysis, settings, edits, writing);
  answered.set(analysis, { key, prescription });
  return prescription;
}

/** The last answer: ledger, report and files of one request ask for the same one after the other. */
const answered = new WeakMap<Analysis, { key: string; prescription: Prescription }>();

function workedOut(
  analysis: Analysis,
  settings: Partial<PrescriptionSettings>,
  edits: ZoneEdits,
  writing: Writing,
): Prescription {
  const { field, outline } = analysis;
  if (!field.log.values.downForceMargin) {
    throw new PrescriptionError(
      "the planting log has no load on the gauge wheels (down-force margin); without it there is nothing to prescribe from",
      { accepted: "a log with the down-force margin of the row units, sections or bar" },
    );
  }
  if (outline.length === 0)
    throw new PrescriptionError("the field has no outline: neither a boundary nor planted ground");
  const full = completeSettings(field, settings, writing);
  const { zones, physics } = learn(analysis);
  const { refusal } = writing.units === "farm" ? physics : physicsOf(analysis, writing.units);
  if (refusal.load !== null)
    throw new PrescriptionError(
      `no prescription: ${refusal.load}; check the column and its unit in the manifest`,
      {
        field: "downForceMargin",
        accepted: "a load on the gauge wheels, one row unit's, in its own unit",
      },
    );
  const outsideShare = outsideBoundaryShare(analysis);
  if (outsideShare > LIMITS.uncovered.value && !full.allowUncovered)
    throw new PrescriptionError(
      `no prescription: ${Math.round(100 * outsideShare)} % of the planted ground lies outside the boundary; is it this field's? Where it is right as it is, say so with "allowUncovered"`,
      { field: "boundary", accepted: "a boundary round at least 95 % of the planted ground" },
    );
  const usual = fieldMean(zones);
  if (!usual) {
    throw new PrescriptionError("no record on a pass has a load on the gauge wheels", {
      accepted: "a log with the down-force margin of planted ground",
    });
  }
  const notes: Note[] = [];
  const base = { analysis, physics };
  // Edits move loads, never ground: which places are cut out is settled without them.
  const cuts = cutsOf(base, zones, usual, full, writing);
  const kept = acceptedEdits(
    cuts.zones.map((zone) => decided(zone, full, null, writing).decision),
    full,
    edits,
    notes,
    writing,
  );
  const made = drawNeverWorse(
    base,
    cuts,
    usual,
    full,
    (zone) => kept.get(zone.evidence.name) ?? null,
    writing,
  );
  const { all, drawn, defaults, channel, speed, shortestM } = made;
  const last = field.prescription?.last ?? {};
  for (const { decision } of all) decision.lastAdvisedN = last[decision.soilZone] ?? null;
  notes.push(...unknownLast(all, last));
  const shown = all.filter((zone) => isShown(zone, full));
  const places = loadPlaces(
    analysis,
    { decisions: shown.map(({ decision }) => decision), settings: full, channel },
    writing,
    cuts,
  );
  for (const { decision } of shown)
    decision.notMended = places
      .filter(({ soilZone, mended }) => soilZone === decision.soilZone && !mended)
      .map(({ finding, title, why }) => ({ finding, words: `${title}: ${why}` }));
  notes.push(...uncoveredNote(all), ...drawn.notes);
  return {
    field: { name: field.name, season: field.season, areaHa: analysis.document.field.areaHa },
    settings: full,
    decisions: shown.map(({ decision }) => decision),
    zones: made.zones,
    places,
    defaults,
    channel,
    withheld: withheldWords({ all, zones: made.zones, isFlat: made.isFlat, channel, settings: full }),
    guards: [
      ...loadGuards({
        zones: shown,
        settings: full,
        outside: defaults.outside,
        lostPosition: defaults.lostPosition,
        shortestM,
        speedMetresPerSecond: speed,
        writing,
      }),
      ...soilNamesGuard(shown.map(({ decision }) => decision)),
      ...drawn.guards,
    ],
    advice: adviceFor(analysis, shown, full, writing),
    notes,
    cautions: [...PRESCRIPTION_CAUTIONS],
  };
}

/** Edits within the limits, by zone; the others become notes. */
function acceptedEdits(
  decisions: ZoneDecision[],
  settings: PrescriptionSettings,
  edits: ZoneEdits,
  notes: Note[],
  writing: Writing,
): Map<string, number> {
  const kept = new Map<string, number>();
  for (const [soilZone, marginN] of Object.entries(edits).sort(([a], [b]) => (a < b ? -1 : 1))) {
    const refusal = editRefusal({ decisions, settings }, soilZone, marginN, writing);
    if (refusal === null) kept.set(soilZone, marginN);
    else
      notes.push({
        reason: `a load set by hand is not followed: ${refusal}`,
        effect: "left out",
        count: 1,
        field: soilZone,
        firstRecord: null,
        value: String(marginN),
      });
  }
  return kept;
}

/** Today's mean load and force over all zones with a load, by area. */
function fieldMean(zones: readonly LearntZone[]): TodaysPair | null {
  const known = zones.flatMap(({ evidence }) => {
    const today = todayOf(evidence);
    return today ? [{ today, areaHa: evidence.areaHa }] : [];
  });
  if (known.length === 0) return null;
  const areas = known.map(({ areaHa }) => areaHa);
  const forces = known.map(({ today }) => today.forceN);
  return {
    meanN: weightedMean(
      known.map(({ today }) => today.meanN),
      areas,
    ),
    forceN: forces.every((force) => force !== null) ? weightedMean(forces as number[], areas) : null,
  };
}

/** Soil zones of last year's prescription that this field does not have. */
function unknownLast(
  zones: readonly { decision: ZoneDecision }[],
  last: Readonly<Record<string, number>>,
): Note[] {
  const names = zones.map(({ decision }) => decision.soilZone);
  return Object.keys(last)
    .filter((name) => !names.includes(name))
    .map((name) => ({
      reason: `last year's load of "${name}" is not shown: this field has ${names.join(", ")}`,
      effect: "left out",
      count: 1,
      field: `prescription.last.${name}`,
      firstRecord: null,
      value: name,
    }));
}

function uncoveredNote(zones: readonly DecidedZone[]): Note[] {
  const without = zones.find(({ zone }) => zone.evidence.name === NO_SOIL_ZONE);
  if (!without) return [];
  const { areaHa } = without.zone.evidence;
  return [
    {
      reason: `the soil map leaves out ${areaHa.toFixed(2)} ha of planted ground; it takes the load of its nearest zone or today's mean there`,
      effect: "assumed",
      count: 1,
      field: null,
      firstRecord: null,
      value: null,
    },
  ];
}

/** True where a finding asks for another load, which a prescription then names. */
export function advisesLoads({ findings }: FindingsDocument): boolean {
  return findings.some(({ remedy }) => remedy.parameter === "downForceMargin");
}

/**
 * The document with one figure for each place: where a prescription can be made, the advice of a finding of load
 * names the prescription's loads and no other; where none can, it stays as it was.
 * @param document as built, with no load of a prescription in it yet
 * @param choices settings and loads set by hand; without them those of the field's own manifest
 */
export function withPrescribedLoads(
  analysis: Analysis,
  document: FindingsDocument,
  writing: Writing,
  { settings = {}, edits = {} }: { settings?: Partial<PrescriptionSettings>; edits?: ZoneEdits } = {},
): FindingsDocument {
  if (!advisesLoads(document)) return document;
  let prescription: Prescription;
  try {
    prescription = prescribe(analysis, settings, edits, writing);
  } catch (error) {
    if (error instanceof PrescriptionError) return document;
    throw error;
  }
  const { decisions, settings: chosen } = prescription;
  const findings = document.findings.map((finding) => {
    const own = prescription.places.filter((place) => place.finding === finding.id);
    if (own.length === 0 || finding.remedy.parameter !== "downForceMargin") return finding;
    const loads = [
      ...new Set(
        own.map(
          ({ soilZone }) =>
            decisions.find((entry) => entry.soilZone === soilZone)!.prescribedN[chosen.moisture],
        ),
      ),
    ];
    return {
      ...finding,
      remedy: {
        ...finding.remedy,
        to: loads.length === 1 ? loads[0]! : null,
        text: prescribedRemedyWords(finding, own, prescription, writing),
      },
    };
  });
  return { ...document, findings };
}
