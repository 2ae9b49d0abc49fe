/**
 * Whether logged load and added force can be what their columns are called. Held at depth a row unit carries:
 * soil's reaction = unit weight + added force - load on the gauge wheels; a reaction that no soil gives means that a
 * column is in another unit, in total for the bar, logged while lifted, or another quantity altogether.
 */
import type { Note } from "../errors.ts";
import { NEWTONS_PER_POUND_FORCE as LBF } from "./units.ts";

/** Bounds a row, N. All are our judgement unless said otherwise. */
export const LOAD_BOUNDS = {
  /**
   * Reaction of the soil on opener and coulter, a row: about 0 to 450 lb. Our judgement, no published range; logged
   * means are allowed 20 lb on either side for a unit weight that is not quite right.
   */
  reactionN: [0, 450 * LBF],
  reactionSlackN: 20 * LBF,
  /** A row unit with its attachments and seed, where its own weight is not given. */
  unitWeightN: [100 * LBF, 500 * LBF],
  /** Mean load over ground that was planted: no published trial went above 220 lb (Badua et al. 2021). */
  meanLoadN: 350 * LBF,
  /** Mean added force a row: what down-force systems are sold for, from memory. */
  meanForceN: 600 * LBF,
  /** Share of records logged with lift or without load and force from which means say nothing. */
  liftedShare: 0.05,
  /** A load steadier than this from record to record, beside a force that jumps by more, is no load. */
  steadyN: 3 * LBF,
  jumpyN: 6 * LBF,
  /** A load this high that stays within this share of its mean is more likely the applied force. */
  steadyMeanN: 200 * LBF,
  steadyShare: 0.06,
} as const;

/** The two quantities the machine can be told from. */
type LoadChannel = "load" | "force";

export interface LoadPhysics {
  /** Why a channel cannot be used, with its figures; null where nothing speaks against it. */
  refusal: Record<LoadChannel, string | null>;
  /** The same for the report of the log. */
  notes: Note[];
  /** 1 for records of a planter that was lifted: they belong to no mean. */
  lifted: Uint8Array;
}

export interface LoadPhysicsInput {
  /** N, NaN where missing; null where the log has none. */
  load: Float64Array | null;
  force: Float64Array | null;
  rowUnitWeightN: number | null;
  rowUnits: number | null;
  /** Ground whose mean is looked at by itself, such as soil zones; record numbers in the order planted. */
  groups: readonly { name: string; records: ArrayLike<number> }[];
  /** Writes newtons as the reader does. */
  say: (newtons: number) => string;
}

/** Checks both columns on every group. Pure; the same log gives the same words. */
export function loadPhysics(input: LoadPhysicsInput): LoadPhysics {
  const { load, force, say } = input;
  const size = load?.length ?? force?.length ?? 0;
  const lifted = new Uint8Array(size);
  for (let i = 0; i < size; i++) if (isLifted(load?.[i], force?.[i])) lifted[i] = 1;
  const refusal: LoadPhysics["refusal"] = { load: null, force: null };
  const refuse = (channel: LoadChannel, words: string): void => {
    refusal[channel] ??= words;
  };
  for (const { name, records } of input.groups) {
    const on = name === "" ? "" : ` on ${name}`;
    const means = meansOf(input, records, lifted);
    if (means.load !== null && means.load > LOAD_BOUNDS.meanLoadN)
      refuse(
        "load",
        `the mean load on the gauge wheels${on} is ${say(means.load)} a row; above ${say(LOAD_BOUNDS.meanLoadN)} it is no load that ground was planted at (newtons under a pound's name, or another quantity)`,
      );
    if (means.force !== null && means.force > LOAD_BOUNDS.meanForceN)
      refuse(
        "force",
        `the mean added force${on} is ${say(means.force)} a row; above ${say(LOAD_BOUNDS.meanForceN)} it is no force of one row unit (newtons under a pound's name, or the force of all row units together)`,
      );
    if (means.liftedShare > LOAD_BOUNDS.liftedShare)
      refuse(
        "force",
        `${Math.round(100 * means.liftedShare)} % of the records${on} have an added force below zero, as when row units are lifted; there is no force to step from`,
      );
    checkIdentity(input, on, means, refuse);
  }
  const swapped = swapWords(input, lifted);
  if (swapped) {
    refuse("load", swapped);
    refuse("force", swapped);
  }
  const steady = steadyWords(input, lifted);
  if (steady) refuse("load", steady);
  const notes = (["load", "force"] as const).flatMap((channel): Note[] => {
    const words = refusal[channel];
    if (words === null || (channel === "force" && words === refusal.load)) return [];
    return [
      {
        reason: `${words}; check the column and its unit in the manifest`,
        effect: "assumed",
        count: size,
        field: channel === "load" ? "downForceMargin" : "downForce",
        firstRecord: null,
        value: null,
      },
    ];
  });
  return { refusal, notes, lifted };
}

/** Lift, or neither load nor force: the wheels are off the ground. A load of zero under force is a bounce and counts. */
function isLifted(load: number | undefined, force: number | undefined): boolean {
  if (force !== undefined && force < 0) return true;
  if (load !== undefined && load < 0) return true;
  return load === 0 && force === 0;
}

interface Means {
  load: number | null;
  force: number | null;
  liftedShare: number;
}

function meansOf({ load, force }: LoadPhysicsInput, records: ArrayLike<number>, lifted: Uint8Array): Means {
  const mean = (column: Float64Array | null): number | null => {
    let [sum, count] = [0, 0];
    for (let k = 0; column && k < records.length; k++) {
      const value = column[records[k]!]!;
      if (Number.isNaN(value) || lifted[records[k]!]) continue;
      sum += value;
      count++;
    }
    return count === 0 ? null : sum / count;
  };
  let [below, known] = [0, 0];
  for (let k = 0; force && k < records.length; k++) {
    const value = force[records[k]!]!;
    if (Number.isNaN(value)) continue;
    known++;
    if (value < 0) below++;
  }
  return { load: mean(load), force: mean(force), liftedShare: known === 0 ? 0 : below / known };
}

function checkIdentity(
  { rowUnitWeightN, rowUnits, say }: LoadPhysicsInput,
  on: string,
  { load, force }: Means,
  refuse: (channel: LoadChannel, words: string) => void,
): void {
  if (load === null || force === null) return;
  const { reactionN, reactionSlackN, unitWeightN } = LOAD_BOUNDS;
  const [least, most] =
    rowUnitWeightN === null
      ? unitWeightN
      : [rowUnitWeightN - reactionSlackN, rowUnitWeightN + reactionSlackN];
  const holds = (loadN: number, forceN: number): boolean =>
    most + forceN - loadN >= reactionN[0] && least + forceN - loadN <= reactionN[1];
  if (holds(load, force)) return;
  const weight =
    rowUnitWeightN === null ? `${say(least)} to ${say(most)} (no weight is given)` : say(rowUnitWeightN);
  const other = 1 / LBF;
  const ways: { words: string; load: number; force: number; touchesLoad: boolean }[] = [
    { words: "the force is in newtons under a pound's name", load, force: force * other, touchesLoad: false },
    { words: "the force is in decanewtons", load, force: force * 10 * other, touchesLoad: false },
    { words: "the load is in newtons under a pound's name", load: load * other, force, touchesLoad: true },
    ...(rowUnits && rowUnits > 1
      ? [
          {
            words: `the force is that of all ${rowUnits} row units`,
            load,
            force: force / rowUnits,
            touchesLoad: false,
          },
        ]
      : []),
    { words: "load and force are swapped", load: force, force: load, touchesLoad: true },
  ];
  const able = ways.filter((way) => holds(way.load, way.force));
  const words = `weight, added force and load${on} do not fit together: unit weight ${weight} + added force ${say(force)} - load ${say(load)} leaves the soil ${say((rowUnitWeightN ?? (least + most) / 2) + force - load)} to carry, where about ${say(reactionN[0])} to ${say(reactionN[1])} a row is possible${
    able.length === 0 ? "" : `; it would fit if ${able.map((way) => way.words).join(", or ")}`
  }`;
  refuse("force", words);
  // Only where the load may be the one at fault; else it stands by itself.
  if (able.length === 0 || able.some((way) => way.touchesLoad)) refuse("load", words);
}

/** Median step from record to record of a column, N; null where too few are known. */
function jitter(column: Float64Array, records: ArrayLike<number>, lifted: Uint8Array): number | null {
  const steps = new Float64Array(records.length);
  let count = 0;
  const every = Math.max(1, Math.floor(records.length / 20_000));
  for (let k = 1; k < records.length; k += every) {
    const [a, b] = [records[k - 1]!, records[k]!];
    const step = Math.abs(column[b]! - column[a]!);
    if (!Number.isNaN(step) && !lifted[a] && !lifted[b]) steps[count++] = step;
  }
  if (count < 50) return null;
  return steps.subarray(0, count).sort()[Math.floor(count / 2)]!;
}

/** Wheels on ground never carry an even load; a force set by the machine mostly is. */
function swapWords({ load, force, groups, say }: LoadPhysicsInput, lifted: Uint8Array): string | null {
  if (!load || !force) return null;
  for (const { name, records } of groups) {
    const [ofLoad, ofForce] = [jitter(load, records, lifted), jitter(force, records, lifted)];
    if (ofLoad === null || ofForce === null) continue;
    if (ofLoad < LOAD_BOUNDS.steadyN && ofForce > LOAD_BOUNDS.jumpyN)
      return `load and added force look swapped${name === "" ? "" : ` on ${name}`}: from record to record the load moves by ${say(ofLoad)}, the force by ${say(ofForce)}, and wheels on rough ground never carry an even load`;
  }
  return null;
}

/** A high load that hardly varies; by itself it cannot be told from an applied force. */
function steadyWords({ load, groups, say }: LoadPhysicsInput, lifted: Uint8Array): string | null {
  if (!load) return null;
  for (const { name, records } of groups) {
    let [sum, squares, count] = [0, 0, 0];
    for (let k = 0; k < records.length; k++) {
      const value = load[records[k]!]!;
      if (Number.isNaN(value) || lifted[records[k]!]) continue;
      sum += value;
      squares += value * value;
      count++;
    }
    if (count < 50) continue;
    const mean = sum / count;
    const sd = Math.sqrt(Math.max(0, squares / count - mean * mean));
    if (mean > LOAD_BOUNDS.steadyMeanN && sd < LOAD_BOUNDS.steadyShare * mean)
      return `the load${name === "" ? "" : ` on ${name}`} stays at ${say(mean)} with a spread (SD) of ${say(sd)}; no load on gauge wheels is that steady, it may be the force applied`;
  }
  return null;
}
