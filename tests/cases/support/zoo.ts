/** A zoo of planting logs of known truth: layouts, orders, clocks, widths, units, names, machines, gaps mixed at random. */
import { ChoiceNeededError, EvenstandError } from "../../../src/errors.ts";
import { loadField } from "../../../src/field/load.ts";
import { parseManifest } from "../../../src/manifest/manifest.ts";
import { seededRandom } from "../../../src/numerics/random.ts";
import { fieldOutline } from "../../../src/passes/covered-ground.ts";
import { findPasses } from "../../../src/passes/find-passes.ts";
import { groundBalance } from "../../../src/passes/ground-balance.ts";
import { adjustedRandIndex } from "../../support/adjusted-rand.ts";
import { driveField, type Plan } from "./driven-field.ts";
import { type Style, writeLog } from "./written-log.ts";

export interface Animal {
  seed: number;
  plan: Plan;
  style: Style;
  /** Whether the manifest tells rows and row spacing. */
  sheet: boolean;
}

export interface ZooResult {
  animal: Animal;
  /** Read, left to the user, or refused. */
  outcome: "read" | "asked" | "refused";
  /** What was asked, or why it was refused. */
  said: string;
  /** Planted area over the truth, less 1. */
  areaError: number;
  passIndex: number;
  /** Variables taken from another column than the true one, and units that are not the true one. */
  wrongRoles: string[];
  wrongUnits: string[];
  /** Of them those that no note contradicts: a way or a width that was taken from the positions or polygons instead. */
  silentUnits: string[];
}

/** Animal number `seed`. */
export function animalOf(seed: number): Animal {
  const random = seededRandom(7_000 + seed);
  const one = <T>(...options: T[]): T => options[Math.floor(random() * options.length)]!;
  const layout = one("bar", "bar", "section", "row", "polygon" as const);
  const rowSpacingM = one(0.762, 0.762, 0.508, 0.7);
  const machines = one(1, 1, 1, 1, 2);
  const rows = layout === "row" ? one(6, 8) : one(8, 12, 16, 24);
  const speed = 1.6 + 1.4 * random();
  const small = layout === "row" || layout === "section";
  const plan: Plan = {
    seed,
    layout,
    machines: Array.from({ length: machines }, (_, index) => ({
      rows: index === 1 && layout === "bar" ? one(8, 16) : rows,
      passes: small ? 6 + Math.floor(5 * random()) : 8 + Math.floor(14 * random()),
      speedMetresPerSecond: speed + 0.2 * index,
    })),
    rowSpacingM,
    lengthM: (small ? 90 : 160) + 140 * random(),
    periodS: one(1, 1, 1, 0.2, 2),
    sections: layout === "section" ? one(3, 4, 6) : layout === "polygon" ? one(1, 1, 4) : 1,
    turnedDeg: one(0, 0, 90, 13, 37),
    waterwayM: one(0, 0, 24),
    headlands: one(0, 0, 1, 2),
    noiseM: layout === "polygon" ? 0 : one(0, 0.02, 0.05),
    pointAt: layout === "polygon" ? 0 : one(0, 0, 0.5, -0.5),
  };
  if (small && plan.periodS < 1) plan.periodS = 1;
  const clocks: Style["clock"][] = [
    "iso",
    "iso",
    "seconds since 1970",
    "time of day",
    "set back",
    "one time",
    "day",
    "none",
  ];
  if (plan.periodS < 1) clocks.push("coarse", "coarse");
  const clock = one(...clocks);
  const orders: Style["order"][] = ["as driven", "as driven", "as driven", "pieces"];
  const timed = !["one time", "day", "none", "set back"].includes(clock);
  if (timed && clock !== "coarse") orders.push("shuffled");
  if (!timed && clock !== "set back" && layout === "bar" && machines === 1) orders.push("shuffled");
  if (layout === "row" && clock !== "set back") orders.push("part after part");
  if (machines === 2) orders.push("machine after machine");
  const passNumber = one("none", "none", "honest", "restarting" as const);
  let order = one(...orders);
  // Nothing could order these: rows one after the other over several passes, sections of one machine between those of another.
  if (order === "part after part" && !timed && passNumber !== "honest") order = "as driven";
  if (machines === 2 && !timed && layout !== "bar") order = "machine after machine";
  // Machines of two widths without a width in the log could not be told by anyone.
  const isOneWidth = new Set(plan.machines.map((machine) => machine.rows)).size === 1;
  const width = one(
    "record",
    "record",
    isOneWidth ? "none" : "record",
    ...(layout === "section" ? (["bar"] as const) : []),
  );
  const sheet = random() < 0.5;
  const unitInName = random() < 0.7;
  const style: Style = {
    clock,
    order,
    names: one("plain", "capitals", "short" as const),
    lengthUnit: one("ft", "ft", "m", "in" as const),
    unitInName,
    width,
    distance: random() < 0.6,
    heading: random() < 0.6,
    passNumber,
    machineName: machines === 2 && random() < 0.5,
    seed: 90_000 + seed,
  };
  return { seed, plan, style, sheet };
}

/** Reads one animal. */
export async function readAnimal(animal: Animal): Promise<ZooResult> {
  const { plan, style, sheet } = animal;
  const driven = driveField(plan);
  const log = writeLog(driven, style);
  const manifest = parseManifest({
    plantingLog: { file: "log.geojson" },
    planted: "2026-04-24",
    targets: { seedingDepth: "2 in", population: "34000 seeds/ac" },
    ...(sheet ? { planter: { rowUnits: plan.machines[0]!.rows, rowSpacing: `${plan.rowSpacingM} m` } } : {}),
  });
  const result: ZooResult = {
    animal,
    outcome: "read",
    said: "",
    areaError: Number.NaN,
    passIndex: Number.NaN,
    wrongRoles: [],
    wrongUnits: [],
    silentUnits: [],
  };
  try {
    const bytes = new TextEncoder().encode(log.text);
    const field = await loadField(manifest, async (path) => [{ name: path, bytes }]);
    for (const { variable, column, unit } of field.inputs[0]!.recognised) {
      const truth = log.truth[variable];
      if (!truth || truth.column !== column) result.wrongRoles.push(`${variable} from ${column}`);
      else if (truth.unit !== null && !sameUnit(truth.unit, unit)) {
        result.wrongUnits.push(`${column} in ${unit}, is in ${truth.unit}`);
      }
    }
    const passes = findPasses(field);
    const balance = groundBalance(field, passes, fieldOutline(field, passes));
    result.areaError = balance.plantedM2 / driven.areaM2 - 1;
    const truth = Array.from(field.log.fileRecord, (number) => log.behind[number - 1]!.pass);
    result.passIndex = adjustedRandIndex(passes.passOf, truth);
    const contradicted = [...field.inputs[0]!.notes, ...(passes.notes ?? [])].filter(
      ({ reason, effect }) =>
        effect === "assumed" &&
        /taken from the positions|polygons are followed|sheet is followed|of the whole bar|is not used/.test(
          reason,
        ),
    ).length;
    result.silentUnits = result.wrongUnits.slice(contradicted);
  } catch (error) {
    if (!(error instanceof EvenstandError)) throw error;
    result.outcome = error instanceof ChoiceNeededError ? "asked" : "refused";
    result.said = error.message;
  }
  return result;
}

function sameUnit(one: string, other: string): boolean {
  const plain = (unit: string): string => ({ mph: "mi/h", lb: "lbf" })[unit] ?? unit;
  return plain(one) === plain(other);
}
