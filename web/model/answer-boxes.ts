/** Each question of the short form: its boxes, and the answer as a manifest writes it, in farm or metric units. */
import type { WantedKey } from "../../src/field/wanted-answers.ts";
import type { FieldAnswers } from "../../src/manifest/field-answers.ts";
import type { UnitSystem } from "../../src/quantities/format.ts";

export interface AnswerBox {
  name: WantedKey | "lowestLoad" | "highestLoad";
  title: string;
  unit: string;
  kind: "number" | "source";
}

/** Units as people read them, and as a manifest writes them. */
const UNITS: Record<
  Exclude<WantedKey, "depthSensed">,
  Record<UnitSystem, [shown: string, written: string]>
> = {
  seedingDepth: { farm: ["in", "in"], metric: ["mm", "mm"] },
  downForceMargin: { farm: ["lb a row", "lbf"], metric: ["N a row", "N"] },
  population: { farm: ["seeds/ac", "seeds/ac"], metric: ["seeds/ha", "seeds/ha"] },
  speed: { farm: ["mph", "mi/h"], metric: ["km/h", "km/h"] },
  grain: { farm: ["USD a bushel", "USD/bu"], metric: ["EUR a tonne", "EUR/t"] },
  expectedYield: { farm: ["bu/ac", "bu/ac"], metric: ["t/ha", "t/ha"] },
};

const TITLES: Record<Exclude<WantedKey, "downForceMargin">, string> = {
  seedingDepth: "Target depth",
  depthSensed: "The logged depth is",
  population: "Target rate",
  speed: "Target speed",
  grain: "Price of grain",
  expectedYield: "Yield expected",
};

/** The boxes of a question. */
export function boxesOf(key: WantedKey, system: UnitSystem): AnswerBox[] {
  if (key === "depthSensed") return [{ name: key, title: TITLES[key], unit: "", kind: "source" }];
  const [unit] = UNITS[key][system];
  if (key !== "downForceMargin") return [{ name: key, title: TITLES[key], unit, kind: "number" }];
  return [
    { name: "lowestLoad", title: "Lowest gauge-wheel load wanted", unit, kind: "number" },
    { name: "highestLoad", title: "Highest gauge-wheel load wanted", unit, kind: "number" },
  ];
}

type Typed = readonly (number | string)[];

/** What was typed, as a manifest writes it. */
export const READ_AS: Record<WantedKey, (values: Typed, system: UnitSystem) => FieldAnswers> = {
  seedingDepth: ([depth], system) => ({ targets: { seedingDepth: written(depth, "seedingDepth", system) } }),
  depthSensed: ([source]) => ({ depthSource: source === "set" ? "set" : "sensed" }),
  downForceMargin: ([low, high], system) => ({
    targets: {
      downForceMargin: [written(low, "downForceMargin", system), written(high, "downForceMargin", system)],
    },
  }),
  population: ([rate], system) => ({ targets: { population: written(rate, "population", system) } }),
  speed: ([speed], system) => ({ targets: { speed: written(speed, "speed", system) } }),
  grain: ([price], system) => ({ prices: { grain: written(price, "grain", system) } }),
  expectedYield: ([amount], system) => ({
    prices: { expectedYield: written(amount, "expectedYield", system) },
  }),
};

function written(value: Typed[number] | undefined, key: keyof typeof UNITS, system: UnitSystem): string {
  return `${value} ${UNITS[key][system][1]}`;
}

const GIVEN: readonly [part: "targets" | "prices", key: string, title: string][] = [
  ["targets", "seedingDepth", "target depth"],
  ["targets", "downForceMargin", "load wanted"],
  ["targets", "population", "target rate"],
  ["targets", "speed", "target speed"],
  ["prices", "grain", "price of grain"],
  ["prices", "expectedYield", "yield expected"],
];

/** The targets and prices a manifest gives, as it writes them. */
export function given(manifest: Readonly<Record<string, unknown>>): string[] {
  const said = GIVEN.flatMap(([part, key, title]) => {
    const value = (manifest[part] as Record<string, unknown> | undefined)?.[key];
    return value === undefined ? [] : [`${title} ${Array.isArray(value) ? value.join(" to ") : value}`];
  });
  const log = manifest.plantingLog as { columns?: { seedingDepth?: { source?: string } } } | undefined;
  const source = log?.columns?.seedingDepth?.source;
  return source ? [...said, `the logged depth is ${source}`] : said;
}
