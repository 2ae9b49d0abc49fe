/** How wet the ground was when it was planted, as far as the weather and the soil map tell. */
import { type DrainageClass, isPoorlyDrained } from "../vocabulary/drainage.ts";
import type { Field, TextureClass, Weather } from "../vocabulary/field.ts";
import { THRESHOLDS } from "./thresholds.ts";

/** "wait": too wet to plant; "damp": pressing and opening smear it; "dry": seed may lie dry. */
export type GroundState = "wait" | "damp" | "fit" | "dry";

/** The states for which loads are advised: on ground that is to wait, what was planted was planted damp. */
export type PlantedState = Exclude<GroundState, "wait">;

export function plantedState(state: GroundState): PlantedState {
  return state === "wait" ? "damp" : state;
}

export interface Drying {
  /** Share of the water of a rain that a drying day leaves in the seed zone. */
  keptADay: number;
  /** Water left, mm, from which the ground smears, and from which it is too wet to plant. */
  dampMm: number;
  waitMm: number;
  /** Drying days since the last rain worth the name after which the seed zone is dry. */
  dryAfterDays: number;
}

/**
 * What a rain leaves, by texture: coarse ground drains and warms first, fine and medium ground smear (Kansas State
 * Univ. on sidewalls; the ranking clay, silt loam, sand is from memory). The form is that of an antecedent precipitation
 * index (Kohler & Linsley 1951, from memory); the figures are our judgement.
 */
export const DRYING: Readonly<Record<Exclude<TextureClass, null>, Drying>> = {
  sand: { keptADay: 0.4, dampMm: 20, waitMm: 35, dryAfterDays: 9 },
  "sandy loam": { keptADay: 0.5, dampMm: 15, waitMm: 30, dryAfterDays: 12 },
  loam: { keptADay: 0.6, dampMm: 12, waitMm: 24, dryAfterDays: 15 },
  "silt loam": { keptADay: 0.7, dampMm: 10, waitMm: 20, dryAfterDays: 16 },
  "clay loam": { keptADay: 0.8, dampMm: 4, waitMm: 18, dryAfterDays: 16 },
  clay: { keptADay: 0.8, dampMm: 3, waitMm: 15, dryAfterDays: 16 },
};

/** Poorly drained ground is held to be damp as soon as clay is, and dries more slowly; a drained one faster (our judgement). */
const OF_DRAINAGE = { poorly: 0.1, somewhatPoorly: 0.05, excessively: -0.1 } as const;
/** The seed zone holds no more than this over what it keeps anyway, mm; the rest runs off or through (our judgement). */
const MOST_HELD_MM = 40;
/** A day with this mean air temperature counts as one drying day (our judgement: a usual planting day). */
const DRYING_DAY_C = 12;
const LEAST_DRYING = 0.3;
const MOST_DRYING = 2;
/** Rain older than this says nothing any more, days. */
const DAYS_BACK = 30;
/** Without an entry in so many days before planting the weather does not tell, days. */
const DAYS_KNOWN = 3;

const DAY_MS = 86_400_000;

/** Rain, mm, and drying of a day in drying days. */
interface WeatherDay {
  rainMm: number;
  drying: number;
}

const daysOfWeather = new WeakMap<Weather, Map<number, WeatherDay>>();

/** Days of the weather by day number, entries of one day taken together. */
function daysOf(weather: Weather): Map<number, WeatherDay> {
  const known = daysOfWeather.get(weather);
  if (known) return known;
  const read = new Map<number, { rainMm: number; low: number; high: number }>();
  weather.time.forEach((time, i) => {
    const day = dayOf(time);
    const entry = read.get(day) ?? {
      rainMm: 0,
      low: Number.POSITIVE_INFINITY,
      high: Number.NEGATIVE_INFINITY,
    };
    read.set(day, entry);
    if (!Number.isNaN(weather.rainMm[i]!)) entry.rainMm += weather.rainMm[i]!;
    if (weather.minimumC[i]! < entry.low) entry.low = weather.minimumC[i]!;
    if (weather.maximumC[i]! > entry.high) entry.high = weather.maximumC[i]!;
  });
  const days = new Map(
    [...read].map(([day, { rainMm, low, high }]): [number, WeatherDay] => {
      const meanC = (low + high) / 2;
      const drying = Number.isFinite(meanC)
        ? Math.min(MOST_DRYING, Math.max(LEAST_DRYING, meanC / DRYING_DAY_C))
        : 1;
      return [day, { rainMm, drying }];
    }),
  );
  daysOfWeather.set(weather, days);
  return days;
}

function dayOf(isoDate: string): number {
  return Date.parse(isoDate.slice(0, 10)) / DAY_MS;
}

/** How a zone dries; ground of unknown texture like loam. */
export function dryingOf(texture: TextureClass, drainage: DrainageClass): Drying {
  const drying = DRYING[texture ?? "loam"];
  if (isPoorlyDrained(drainage)) {
    return {
      ...drying,
      keptADay: drying.keptADay + OF_DRAINAGE.poorly,
      dampMm: Math.min(drying.dampMm, DRYING.clay.dampMm),
    };
  }
  if (drainage === "somewhat poorly drained")
    return { ...drying, keptADay: drying.keptADay + OF_DRAINAGE.somewhatPoorly };
  if (drainage === "excessively drained" || drainage === "somewhat excessively drained")
    return { ...drying, keptADay: drying.keptADay + OF_DRAINAGE.excessively };
  return drying;
}

/**
 * State of the ground on a planting day, by the day (rain of the planting day itself is left out: nobody knows whether
 * it came before). Day by day what is left of the rain is water x keptADay ^ drying, plus the day's rain, at most 40 mm;
 * drying is the day's mean air temperature / 12 C, held within 0.3 and 2, and 1 where it is not known. What is left on
 * the eve of planting is held against the limits of the texture and the natural drainage. Dry: next to nothing left, and
 * that many drying days since the last rain of {@link THRESHOLDS}.wetRain. Without weather clay counts as damp, since
 * that is where pressing does most harm, and everything else as fit: how a soil drains by nature says nothing of one day,
 * and nothing of drains laid since. Our judgement.
 * @param zone index into the soil zones, -1 outside all of them
 */
export function groundState(field: Field, isoDate: string | null, zone: number): GroundState {
  const texture = field.soilZones?.texture[zone] ?? null;
  const days = field.weather && isoDate ? daysOf(field.weather) : null;
  const planted = isoDate ? dayOf(isoDate) : Number.NaN;
  const isKnown = days && [...Array(DAYS_KNOWN).keys()].some((age) => days.has(planted - 1 - age));
  if (!isKnown) return texture === "clay" ? "damp" : "fit";
  const limits = dryingOf(texture, field.soilZones?.drainage[zone] ?? null);
  let leftMm = 0;
  let dryingDays = 0;
  for (let day = planted - DAYS_BACK; day < planted; day++) {
    const { rainMm, drying } = days.get(day) ?? { rainMm: 0, drying: 0 };
    leftMm = Math.min(MOST_HELD_MM, leftMm * limits.keptADay ** (days.has(day) ? drying : 1) + rainMm);
    dryingDays = rainMm >= THRESHOLDS.wetRain.value ? 0 : dryingDays + drying;
  }
  if (leftMm >= limits.waitMm) return "wait";
  if (leftMm >= limits.dampMm) return "damp";
  return dryingDays >= limits.dryAfterDays ? "dry" : "fit";
}

/** True where opening and pressing smear the ground. */
export function isWet(state: GroundState): boolean {
  return state === "wait" || state === "damp";
}
