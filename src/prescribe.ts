/** From an analysed field to its down-force prescription. */
import type { Analysis } from "./analyse.ts";
import { type Note, PrescriptionError } from "./errors.ts";
import type { UnitSystem } from "./format.ts";
import { weightedMean } from "./numerics/descriptive.ts";
import { adviceFor } from "./prescription/advice.ts";
import { channelOf, ratesFor, type TodaysPair } from "./prescription/channel.ts";
import { chooseLoads, type LearntZone, learnZones, todayOf } from "./prescription/decide.ts";
import { editRefusal } from "./prescription/edit-refusal.ts";
import { gatherEvidence, NO_SOIL_ZONE } from "./prescription/evidence.ts";
import { drawnLoads, ratesOnGround, usualHeading } from "./prescription/ground-loads.ts";
import { type DecidedZone, loadGuards } from "./prescription/guards.ts";
import { LIMITS } from "./prescription/limits.ts";
import type {
  Prescription,
  PrescriptionSettings,
  ZoneDecision,
  ZoneEdits,
} from "./prescription/prescription.ts";
import { drawRateZones } from "./prescription/rate-zones.ts";
import { reasonWords } from "./prescription/reason.ts";
import { completeSettings } from "./prescription/settings.ts";
import { limitedLoad, wholeStep } from "./prescription/steps.ts";

export { editRefusal } from "./prescription/edit-refusal.ts";
export { defaultSettings } from "./prescription/settings.ts";

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
const learnt = new WeakMap<Analysis, LearntZone[]>();

function learn(analysis: Analysis): LearntZone[] {
  const known = learnt.get(analysis);
  if (known) return known;
  const zones = learnZones(gatherEvidence(analysis));
  learnt.set(analysis, zones);
  return zones;
}

/**
 * The prescription of an analysed field: the same analysis, settings and edits give the same prescription. Edits that
 * cross a limit or name no zone are not followed and stand among the notes.
 * @param edits loads set by hand for the picked state of the ground, N, by soil zone
 * @param units units of the sentences; figures are in inside units either way
 * @throws {PrescriptionError} where none can be made at all (no load in the log, no ground) or a setting cannot be
 */
export function prescribe(
  analysis: Analysis,
  settings: Partial<PrescriptionSettings> = {},
  edits: ZoneEdits = {},
  units: UnitSystem = "farm",
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
  const full = completeSettings(field, settings);
  const zones = learn(analysis);
  const usual = fieldMean(zones);
  if (!usual) {
    throw new PrescriptionError("no record on a pass has a load on the gauge wheels", {
      accepted: "a log with the down-force margin of planted ground",
    });
  }
  const notes: Note[] = [];
  const unedited = zones.map((zone) => decided(zone, full, null, units));
  const kept = acceptedEdits(
    unedited.map(({ decision }) => decision),
    full,
    edits,
    notes,
    units,
  );
  const all = zones.map((zone, k) => {
    const edit = kept.get(zone.evidence.name);
    return edit === undefined ? unedited[k]! : decided(zone, full, edit, units);
  });
  const { last } = field.prescription ?? {};
  for (const { decision } of all) decision.lastAdvisedN = last?.[decision.soilZone] ?? null;
  notes.push(...unknownLast(all, last ?? {}));

  // Ground a soil map leaves out is too small a matter for a card of its own where it is a sliver.
  const shown = all.filter(
    ({ zone }) => zone.evidence.name !== NO_SOIL_ZONE || zone.evidence.areaHa >= full.smallestAreaHa,
  );
  const elsewhere = all.find(({ zone }) => zone.evidence.zone === -1) ?? null;
  const usualN = limitedLoad(usual.meanN, usual.meanN, full);
  const insideN = elsewhere?.choice.prescribedN[full.moisture] ?? usualN;
  const insideToday = elsewhere?.choice.logged ?? usual;
  const defaults = {
    inside: ratesFor(insideN, insideToday, full),
    outside: ratesFor(wholeStep(full.outsideMarginN ?? usualN, full.rateStepN), usual, full),
    lostPosition: ratesFor(wholeStep(full.lostPositionMarginN ?? usualN, full.rateStepN), usual, full),
  };
  const channel = channelOf(
    shown.map(({ decision, choice }) => ({
      soilZone: decision.soilZone,
      prescribedN: decision.prescribedN[full.moisture],
      today: choice.logged,
    })),
    full,
    units,
  );
  const speed = usualSpeed(analysis);
  const shortestM = LIMITS.lagsInZone.value * full.lagS * speed;
  const loads = drawnLoads(all, defaults.inside, full, channel.quantity);
  const drawn = drawRateZones(
    {
      outline,
      soilZones: field.soilZones,
      swathWidthM: analysis.parts.swathWidthM,
      headingDeg: usualHeading(analysis.passes.passes),
    },
    loads,
    { ...full, shortestM },
    units,
  );
  notes.push(...uncoveredNote(all), ...drawn.notes);
  return {
    field: { name: field.name, season: field.season, areaHa: analysis.document.field.areaHa },
    settings: full,
    decisions: shown.map(({ decision }) => decision),
    zones: drawn.zones.map((zone) => ratesOnGround(zone, all, defaults.inside, full, channel.quantity)),
    defaults,
    channel,
    guards: [
      ...loadGuards({
        zones: shown,
        settings: full,
        outside: defaults.outside,
        lostPosition: defaults.lostPosition,
        shortestM,
        speedMetresPerSecond: speed,
        units,
      }),
      ...drawn.guards,
    ],
    advice: adviceFor(analysis, shown, full, units),
    notes,
    cautions: [...PRESCRIPTION_CAUTIONS],
  };
}

function decided(
  zone: LearntZone,
  settings: PrescriptionSettings,
  editN: number | null,
  units: UnitSystem,
): DecidedZone & { decision: ZoneDecision } {
  const { evidence } = zone;
  const choice = chooseLoads(zone, settings, editN);
  const decision: ZoneDecision = {
    soilZone: evidence.name,
    areaHa: Number(evidence.areaHa.toFixed(3)),
    currentMarginN: choice.today?.meanN ?? null,
    currentMarginP10N: choice.today?.p10N ?? null,
    currentForceN: choice.today?.forceN ?? null,
    loggedMoisture: evidence.moisture,
    loggedMoistureFrom: evidence.moistureFrom,
    outcome: choice.outcome,
    grade: choice.grade,
    best: zone.best,
    prescribedN: choice.prescribedN,
    gainShare: choice.gain,
    evidence: {
      spots: evidence.spots?.marginN.length ?? 0,
      digs: evidence.digs,
      marginRangeN: evidence.marginRangeN,
      informative: evidence.informative,
    },
    heldBackBy: zone.heldBackBy,
    reason: reasonWords(zone, choice, settings, editN, units),
    lastAdvisedN: null,
  };
  return { zone, choice, decision };
}

/** Edits within the limits, by zone; the others become notes. */
function acceptedEdits(
  decisions: ZoneDecision[],
  settings: PrescriptionSettings,
  edits: ZoneEdits,
  notes: Note[],
  units: UnitSystem,
): Map<string, number> {
  const kept = new Map<string, number>();
  for (const [soilZone, marginN] of Object.entries(edits).sort(([a], [b]) => (a < b ? -1 : 1))) {
    const refusal = editRefusal({ decisions, settings }, soilZone, marginN, units);
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

/** Speed of planting, m/s: the target, else the mean logged on passes, else a usual one. */
function usualSpeed({ field, passes }: Analysis): number {
  const target = field.targets.speedMetresPerSecond;
  if (target !== null) return target;
  const { speed } = field.log.values;
  let [sum, count] = [0, 0];
  for (let i = 0; speed && i < speed.length; i++) {
    if (passes.passOf[i] === 0 || Number.isNaN(speed[i]!)) continue;
    sum += speed[i]!;
    count++;
  }
  return count > 0 && sum > 0 ? sum / count : LIMITS.usualSpeed.value;
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
