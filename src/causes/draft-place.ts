/** A place -> a draft: outline, digs, cause, and the passes and soils it lies on. */
import type { Cells } from "../cells/cells.ts";
import type { Factor } from "../cells/predicted-loss.ts";
import { type GroundState, groundState } from "../compare/ground-state.ts";
import type { Passes } from "../passes/passes.ts";
import type { Cause } from "../vocabulary/causes.ts";
import type { Field } from "../vocabulary/field.ts";
import type { Draft } from "./draft.ts";
import { nameCause, weightsFromLog } from "./evidence/attribution.ts";
import {
  causesShown,
  digLogLikelihood,
  digsInside,
  dugDepthTargetMm,
  soilDetail,
} from "./evidence/dig-evidence.ts";
import { groundSigns } from "./evidence/ground-evidence.ts";
import { placeWeights } from "./evidence/place-weights.ts";
import { wetShares } from "./evidence/wet-ground.ts";
import type { Place } from "./find/find-places.ts";
import { outlineCells } from "./place-outline.ts";

/** Log likelihood from which digs by themselves show a cause: ten to one (our judgement). */
const PROOF_BY_DIGS = Math.log(10);
/** Passes of which at least this share lies in the place belong to it wholly: it is a matter of passes, not of ground. */
const WHOLE_PASS = 0.7;

/** What a draft is made from. */
export interface DraftContext {
  /** True where the factor that leads in a place leads in a further counted one. */
  repeated: (place: Place) => boolean;
  field: Field;
  passes: Passes;
  cells: Cells;
  cellOf: Int32Array;
  swathWidthM: number;
  /** Row units judged on their own: their digs do not speak for the ground. */
  departingUnits: ReadonlySet<number>;
}

/** Drafts one place; `predicted` is the loss the log predicts over it, by factor. */
export function draftPlace(context: DraftContext, place: Place, predicted: Record<Factor, number>): Draft {
  const { field, passes, cells, cellOf, swathWidthM } = context;
  const polygons = outlineCells(cells, place.cells, swathWidthM);
  const digs = digsInside(field.digs, polygons, place.outlineErrorM).filter(
    (dig) => !context.departingUnits.has(field.digs!.rowUnit[dig]!),
  );
  const inPlace = new Uint8Array(cells.count);
  for (const cell of place.cells) inPlace[cell] = 1;
  const inside = new Uint8Array(cellOf.length);
  for (let i = 0; i < cellOf.length; i++) if (cellOf[i]! >= 0) inside[i] = inPlace[cellOf[i]!]!;
  const touched = passesTouched(place.cells, cells, passes);
  const support = (cause: Cause): number =>
    digLogLikelihood(field.digs, digs, cause, dugDepthTargetMm(field));
  const wet = wetShares(place.cells, cells, field.soilZones);
  const weights = place.loss
    ? placeWeights(place.loss, {
        counts: place.spots.length,
        signs: groundSigns(field, datesOf(touched.numbers, passes), wet),
        followsSoilBorder: followsZone(place.cells, cells),
        repeated: context.repeated(place),
        depthSource: field.log.depthSource,
        digSupport: support,
        shownByDigs: causesShown(field.digs, digs),
      })
    : withDigs(weightsFromLog(predicted, place.basis === "cleared" ? null : place.deficit), support);
  const attribution = nameCause(weights);
  const dugProof = digs.length >= 2 && support(attribution.cause) >= PROOF_BY_DIGS;
  let areaM2 = 0;
  for (const cell of place.cells) areaM2 += cells.areaM2[cell]!;
  return {
    ...attribution,
    kind: touched.whole ? "pass" : "area",
    basis: place.basis === "predicted" && dugProof ? "counted" : place.basis,
    detail: attribution.cause === "soil-or-weather" ? soilDetail(field.digs, digs) : null,
    pValue: place.pValue,
    alongSoilBorder: !place.guided && liesAlongSoilBorder(place.cells, cells),
    wetShares: wet,
    polygons,
    areaM2,
    inside,
    passes: touched.numbers,
    rowUnits: [],
    soilZones: zonesOf(place.cells, cells, field),
    ground: groundOf(place.cells, cells, field, passes),
    predicted,
    deficit: place.deficit,
    spots: place.spots,
    digs,
    departure: null,
  };
}

/** What digs make of causes that the log alone points to. */
function withDigs(weights: Map<Cause, number>, support: (cause: Cause) => number): Map<Cause, number> {
  return new Map([...weights].map(([cause, weight]) => [cause, weight * Math.exp(support(cause))]));
}

function datesOf(numbers: readonly number[], passes: Passes): (string | null)[] {
  return numbers.map((number) => passes.passes[number - 1]!.date);
}

/** A place that holds this share of a zone, and lies in it by as much, follows its border. */
const SAME_AS_ZONE = 0.7;

/** True where a place and one soil zone are about the same ground. */
function followsZone(members: Int32Array, cells: Cells): boolean {
  const ofZone = new Map<number, { all: number; inside: number }>();
  for (let cell = 0; cell < cells.count; cell++) {
    const zone = ofZone.get(cells.zone[cell]!) ?? { all: 0, inside: 0 };
    zone.all += cells.areaM2[cell]!;
    ofZone.set(cells.zone[cell]!, zone);
  }
  if (ofZone.size < 2) return false;
  let area = 0;
  for (const cell of members) {
    ofZone.get(cells.zone[cell]!)!.inside += cells.areaM2[cell]!;
    area += cells.areaM2[cell]!;
  }
  return [...ofZone.values()].some(
    ({ all, inside }) => inside >= SAME_AS_ZONE * all && inside >= SAME_AS_ZONE * area,
  );
}

/** Passes with a fair part in the place, and whether the place is whole passes. */
function passesTouched(
  members: Int32Array,
  cells: Cells,
  passes: Passes,
): { numbers: number[]; whole: boolean } {
  const areaOfPass = new Float64Array(passes.passes.length + 1);
  const inside = new Float64Array(passes.passes.length + 1);
  for (let cell = 0; cell < cells.count; cell++) areaOfPass[cells.pass[cell]!]! += cells.areaM2[cell]!;
  let total = 0;
  for (const cell of members) {
    inside[cells.pass[cell]!]! += cells.areaM2[cell]!;
    total += cells.areaM2[cell]!;
  }
  const numbers: number[] = [];
  let whole = 0;
  for (let pass = 1; pass < inside.length; pass++) {
    // A cell or two at the edge of the place does not make it a matter of that pass.
    if (inside[pass]! > 0.02 * total) numbers.push(pass);
    if (inside[pass]! > WHOLE_PASS * areaOfPass[pass]!) whole += inside[pass]!;
  }
  return { numbers, whole: whole > 0.75 * total };
}

function zonesOf(members: Int32Array, cells: Cells, field: Field): string[] {
  if (!field.soilZones) return [];
  const area = new Float64Array(field.soilZones.names.length);
  let total = 0;
  for (const cell of members) {
    total += cells.areaM2[cell]!;
    if (cells.zone[cell]! >= 0) area[cells.zone[cell]!]! += cells.areaM2[cell]!;
  }
  return field.soilZones.names
    .map((name, k) => ({ name, share: area[k]! / total }))
    .filter((entry) => entry.share >= 0.2)
    .sort((a, b) => b.share - a.share)
    .map((entry) => entry.name);
}

/** A place with this share of its cells near a border of soils may be a matter of the soil map (our judgement). */
const MOSTLY_AT_BORDER = 0.6;
/** A cell whose middle lies this near to the middle of a cell of other soil is about 15 m from the border, m. */
const NEAR_BORDER_M = 21;
const FEWEST_CELLS = 3;

/** True where most of the place lies along a border of soil zones, where a soil map that is off makes strips. */
function liesAlongSoilBorder(members: Int32Array, cells: Cells): boolean {
  if (members.length < FEWEST_CELLS) return false;
  const near = members.filter((cell) => {
    const zone = cells.zone[cell]!;
    return cells.x.some(
      (x, other) =>
        cells.zone[other] !== zone &&
        (x - cells.x[cell]!) ** 2 + (cells.y[other]! - cells.y[cell]!) ** 2 <= NEAR_BORDER_M ** 2,
    );
  });
  return near.length >= MOSTLY_AT_BORDER * members.length;
}

/** State of the ground over most of the place. */
function groundOf(members: Int32Array, cells: Cells, field: Field, passes: Passes): GroundState {
  const votes: Record<GroundState, number> = { wait: 0, damp: 0, fit: 0, dry: 0 };
  // The state is the same for all cells of one day and soil, and looking through the weather takes time.
  const known = new Map<string, GroundState>();
  for (const cell of members) {
    const date = passes.passes[cells.pass[cell]! - 1]?.date ?? field.planted;
    const zone = cells.zone[cell]!;
    const key = `${date} ${zone}`;
    const state = known.get(key) ?? groundState(field, date, zone);
    known.set(key, state);
    votes[state] += cells.areaM2[cell]!;
  }
  return (["fit", "dry", "damp", "wait"] as const).reduce((best, state) =>
    votes[state] > votes[best] ? state : best,
  );
}
