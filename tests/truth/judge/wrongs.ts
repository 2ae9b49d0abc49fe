/** What is wrong on an invented field of a kind, and what only looks wrong in the log. */
import { between, type Chance, chanceOf, oneOf } from "./chance.ts";
import type { CountedSpot } from "./counting.ts";
import type { Ground, Spot } from "./ground.ts";
import { block, type Inside, liesNear, patch, wholePasses } from "./places.ts";
import { FACTORS, METERING, misplant, type Planting, type PlantingFault } from "./planting.ts";

/** Kinds that say by how many points a part of the field is short: `zone-12`. */
const CONTRASTS = ["field", "zone", "day", "lot", "cut", "half", "section"] as const;
export type ContrastName = (typeof CONTRASTS)[number];

/**
 * `sound`: nothing wrong. `decoy`: nothing wrong, and the log departs in two places that the field forgives. `one`,
 * `two`: places, most of them planted wrong. `unlisted`: a crust, a pond or a pest, no trace in the log.
 * `unlisted-on-decoy`: the same exactly on a harmless departure. `row-skips`, `row-sensor`: one row unit logs skips,
 * real ones or those of its sensor.
 */
export type PlainKind =
  | "sound"
  | "decoy"
  | "one"
  | "two"
  | "unlisted"
  | "unlisted-on-decoy"
  | "row-skips"
  | "row-sensor";
export type Kind = PlainKind | `${ContrastName}-${number}`;

export interface Wrong {
  what: string;
  /** Causes that are right answers; empty for a decoy. */
  right: readonly string[];
  inside: Inside;
  change: ((planting: Planting) => void) | null;
  /** Loss without a trace in the planting, share of the plants. */
  ownLoss: number;
  /** The part of the field that is short as a whole. */
  contrast: { name: ContrastName; of: string; share: number } | null;
  /** Row unit that logs skips, 0 for anything else. */
  rowUnit: number;
}

const UNLISTED = ["not-in-the-log", "soil-or-weather"] as const;
/** Fewest counts in a place: with fewer nobody could find it. */
const FEWEST_COUNTS = 3;

/** Splits a kind of a contrast into its name and share; null for the other kinds. */
export function contrastOf(kind: Kind): { name: ContrastName; share: number } | null {
  const [, name, points] = /^([a-z]+)-(\d+)$/.exec(kind) ?? [];
  return name && (CONTRASTS as readonly string[]).includes(name)
    ? { name: name as ContrastName, share: Number(points) / 100 }
    : null;
}

/** Planting faults a world can have: what a bar's mean hides is left out. */
function faultsOf({ spec }: Ground): PlantingFault[] {
  const factors = FACTORS.filter((factor) => spec.layout !== "bar" || factor !== "uneven-depth");
  return [...factors, ...METERING];
}

/** Draws what is wrong, decoys among it. */
export function drawWrongs(
  ground: Ground,
  name: string,
  kind: Kind,
  sites: readonly Spot[],
  counted: readonly CountedSpot[],
): Wrong[] {
  const chance = chanceOf(`${name}/wrongs`);
  const contrast = contrastOf(kind);
  if (contrast) return [shortPart(chance, ground, contrast.name, contrast.share)];
  if (kind === "row-skips" || kind === "row-sensor") return [rowUnitSkips(chance, ground, kind)];
  const faults = faultsOf(ground);
  const wrongs: Wrong[] = [];
  const add = (draw: () => Wrong): void => {
    for (let attempt = 0; attempt < 300; attempt++) {
      const wrong = draw();
      const held = counted.filter((count) => wrong.inside(count)).length;
      const share = sites.filter(wrong.inside).length / sites.length;
      if (held < FEWEST_COUNTS || share > 0.2) continue;
      if (wrongs.some((other) => liesNear(sites, wrong.inside, other.inside, 40))) continue;
      wrongs.push(wrong);
      return;
    }
  };
  const unlisted = (): Wrong =>
    place(
      "unlisted",
      UNLISTED,
      patch(chance, ground, 35, 80),
      null,
      between(chance, ...ground.spec.unlisted),
    );
  const planting = (): Wrong => plantingFault(chance, ground, oneOf(chance, faults));
  if (kind === "one") add(planting);
  if (kind === "two") for (let k = 0; k < 2; k++) add(() => (chance() < 0.3 ? unlisted() : planting()));
  if (kind === "unlisted") add(unlisted);
  const forgiven = faults.filter(
    (fault) => !isMetering(fault) && isLogged(ground, fault) && wrongs.every(({ what }) => what !== fault),
  );
  const decoy = (): Wrong => ({ ...plantingFault(chance, ground, oneOf(chance, forgiven)), right: [] });
  if (kind === "unlisted-on-decoy")
    add(() => {
      const departure = decoy();
      return {
        ...departure,
        what: `unlisted on ${departure.what}`,
        right: UNLISTED,
        ownLoss: between(chance, 0.08, 0.3),
      };
    });
  const decoys =
    kind === "decoy" ? 2 : kind === "unlisted-on-decoy" || kind === "sound" ? 0 : chance() < 0.4 ? 1 : 0;
  // A planter whose log shows little has nothing left to depart in.
  if (forgiven.length > 0) for (let k = 0; k < decoys; k++) add(decoy);
  return wrongs;
}

/** Factors whose departures here must be harmless, and those whose departures harm. */
export function forgivenAndHarmful(wrongs: readonly Wrong[]): {
  forgiven: PlantingFault[];
  harmful: PlantingFault[];
} {
  const forgiven = wrongs
    .filter(({ change, right, ownLoss }) => change && (right.length === 0 || ownLoss > 0))
    .map(({ what }) => what.replace("unlisted on ", "") as PlantingFault);
  const harmful = wrongs.filter(({ right, ownLoss, change }) => change && right.length > 0 && ownLoss === 0);
  return { forgiven, harmful: harmful.map(({ what }) => what as PlantingFault) };
}

function isMetering(fault: PlantingFault): boolean {
  return (METERING as readonly string[]).includes(fault);
}

function isLogged({ spec }: Ground, fault: PlantingFault): boolean {
  return spec.hasDepthAndLoad || fault === "excess-speed" || isMetering(fault);
}

function place(
  what: string,
  right: readonly string[],
  inside: Inside,
  change: Wrong["change"],
  ownLoss: number,
): Wrong {
  return { what, right, inside, change, ownLoss, contrast: null, rowUnit: 0 };
}

/** A planting fault of usual extent; one that the log cannot show is an unlisted one. */
function plantingFault(chance: Chance, ground: Ground, fault: PlantingFault): Wrong {
  const dose = between(chance, 0.8, 1.25);
  const shape =
    fault === "excess-speed"
      ? wholePasses(chance, ground)
      : fault === "lost-ground-contact" || fault === "uneven-depth" || fault === "excess-down-force"
        ? patch(chance, ground, 42, 85)
        : block(chance, ground);
  // Heavy wheels and deep seed harm on damp ground above all; half of the deep blocks lie anywhere.
  const onDamp = fault === "excess-down-force" || (fault === "too-deep" && chance() < 0.5);
  const inside: Inside = onDamp ? (spot) => spot.zone === ground.damp && shape(spot) : shape;
  return place(
    fault,
    isLogged(ground, fault) ? [fault] : [...UNLISTED, fault],
    inside,
    (planting) => misplant(planting, fault, dose),
    0,
  );
}

/** A part of the field that is short as a whole, without a trace in the log. */
function shortPart(chance: Chance, ground: Ground, name: ContrastName, share: number): Wrong {
  const make = (of: string, inside: Inside, right: readonly string[] = UNLISTED): Wrong => ({
    ...place(`${name} short`, right, inside, null, share),
    contrast: { name, of, share },
  });
  switch (name) {
    case "field":
      return make("field", () => true, [...UNLISTED, "seed-lot"]);
    case "zone": {
      const zone = Math.floor(chance() * ground.zoneNames.length);
      return make(ground.zoneNames[zone]!, (spot) => spot.zone === zone);
    }
    case "day": {
      const day = Math.floor(chance() * ground.days.length);
      return make(ground.days[day]!, ({ pass }) => ground.dayOfPass[pass] === day);
    }
    case "lot":
    case "cut": {
      const lot = Math.floor(chance() * 2);
      const right = name === "lot" ? ["seed-lot"] : [...UNLISTED, "seed-lot"];
      return make(ground.lots[lot]!, ({ pass }) => ground.lotOfPass[pass] === lot, right);
    }
    case "half": {
      const left = chance() < 0.5;
      const right = ["not-in-the-log", "furrow-not-closed", "worn-row-unit"];
      return make(left ? "left" : "right", ({ row }) => row <= ground.rows / 2 === left, right);
    }
    case "section": {
      const wide = ground.rows / 4;
      const first = Math.floor(chance() * 4) * wide;
      const right = ["not-in-the-log", "furrow-not-closed", "worn-row-unit"];
      return make(
        `rows ${first + 1} to ${first + wide}`,
        ({ row }) => row > first && row <= first + wide,
        right,
      );
    }
  }
}

/** One row unit logs skips over the whole field. */
function rowUnitSkips(chance: Chance, ground: Ground, kind: "row-skips" | "row-sensor"): Wrong {
  const unit = 1 + Math.floor(chance() * ground.rows);
  const size = between(chance, 0.12, 0.35);
  const isReal = kind === "row-skips";
  const change = (planting: Planting): void => {
    planting.loggedMisses += size;
    if (isReal) planting.misses += size;
  };
  const right = isReal ? ["misses", "worn-row-unit"] : ["sensor-fault"];
  return { ...place(kind, right, ({ row }) => row === unit, change, 0), rowUnit: unit };
}
