/**
 * Quantities with units in and out. Inside the library every quantity is in the SI-based unit its
 * identifier names (`depthMm`, `marginN`, `speedMetresPerSecond`, `...PerHectare`); this module is the
 * only place that converts. Factors are exact by definition: international inch 25.4 mm, pound-force
 * 4.4482216152605 N, mile 1609.344 m, acre 4046.8564224 m2 (international, not US survey; UCUM 2.2).
 */
import { ManifestError } from "../errors.ts";

export const MM_PER_INCH = 25.4;
export const METRES_PER_FOOT = 0.3048;
export const NEWTONS_PER_POUND_FORCE = 4.4482216152605;
export const SQUARE_METRES_PER_ACRE = 4046.8564224;
export const SQUARE_METRES_PER_HECTARE = 10_000;
export const ACRES_PER_HECTARE = SQUARE_METRES_PER_HECTARE / SQUARE_METRES_PER_ACRE;
export const METRES_PER_SECOND_PER_MILE_PER_HOUR = 0.44704;
/** 56 lb shelled corn a bushel, 60 lb soybeans (US legal bushel weights), 0.45359237 kg a pound. */
export const KG_PER_BUSHEL = { corn: 56 * 0.45359237, soybean: 60 * 0.45359237 } as const;

export type Dimension =
  | "length"
  | "force"
  | "speed"
  | "density"
  | "share"
  | "angle"
  | "duration"
  | "area"
  | "number"
  | "temperature"
  | "pressure"
  | "massPerArea"
  | "volumePerArea"
  | "seedsPerMass"
  | "moneyPerMass"
  | "yield"
  | "moneyPerSeeds";

/** A unit name as people write it -> dimension and the factor to that dimension's base unit. */
export interface UnitDefinition {
  dimension: Dimension;
  /** value in base unit = value * factor + offset. */
  factor: number;
  offset?: number;
}

/** Base units: Pa, kg/ha, l/ha, seeds/kg, m, N, m/s, per hectare, share 0..1, degrees, s, m2, 1, degrees Celsius. */
export const UNITS: Readonly<Record<string, UnitDefinition>> = {
  mm: { dimension: "length", factor: 0.001 },
  cm: { dimension: "length", factor: 0.01 },
  m: { dimension: "length", factor: 1 },
  in: { dimension: "length", factor: 0.0254 },
  ft: { dimension: "length", factor: METRES_PER_FOOT },
  N: { dimension: "force", factor: 1 },
  daN: { dimension: "force", factor: 10 },
  kgf: { dimension: "force", factor: 9.80665 },
  lbf: { dimension: "force", factor: NEWTONS_PER_POUND_FORCE },
  lb: { dimension: "force", factor: NEWTONS_PER_POUND_FORCE },
  "m/s": { dimension: "speed", factor: 1 },
  "km/h": { dimension: "speed", factor: 1 / 3.6 },
  "mi/h": { dimension: "speed", factor: METRES_PER_SECOND_PER_MILE_PER_HOUR },
  mph: { dimension: "speed", factor: METRES_PER_SECOND_PER_MILE_PER_HOUR },
  "seeds/ac": { dimension: "density", factor: ACRES_PER_HECTARE },
  "1000 seeds/ac": { dimension: "density", factor: 1000 * ACRES_PER_HECTARE },
  "seeds/ha": { dimension: "density", factor: 1 },
  "1000 seeds/ha": { dimension: "density", factor: 1000 },
  "plants/ac": { dimension: "density", factor: ACRES_PER_HECTARE },
  "1000 plants/ac": { dimension: "density", factor: 1000 * ACRES_PER_HECTARE },
  "plants/ha": { dimension: "density", factor: 1 },
  "1000 plants/ha": { dimension: "density", factor: 1000 },
  share: { dimension: "share", factor: 1 },
  "%": { dimension: "share", factor: 0.01 },
  deg: { dimension: "angle", factor: 1 },
  rad: { dimension: "angle", factor: 180 / Math.PI },
  s: { dimension: "duration", factor: 1 },
  ac: { dimension: "area", factor: SQUARE_METRES_PER_ACRE },
  ha: { dimension: "area", factor: SQUARE_METRES_PER_HECTARE },
  m2: { dimension: "area", factor: 1 },
  "1": { dimension: "number", factor: 1 },
  Pa: { dimension: "pressure", factor: 1 },
  kPa: { dimension: "pressure", factor: 1000 },
  bar: { dimension: "pressure", factor: 100_000 },
  // A pound-force on a square inch, exact by its parts.
  psi: { dimension: "pressure", factor: NEWTONS_PER_POUND_FORCE / 0.0254 ** 2 },
  // Rates that are no count of seeds: kg and l by the hectare (pound and US gallon exact by definition).
  "lb/ac": { dimension: "massPerArea", factor: 0.45359237 * ACRES_PER_HECTARE },
  "kg/ha": { dimension: "massPerArea", factor: 1 },
  "t/ha": { dimension: "massPerArea", factor: 1000 },
  "seeds/kg": { dimension: "seedsPerMass", factor: 1 },
  "seeds/lb": { dimension: "seedsPerMass", factor: 1 / 0.45359237 },
  "gal/ac": { dimension: "volumePerArea", factor: 3.785411784 * ACRES_PER_HECTARE },
  "l/ha": { dimension: "volumePerArea", factor: 1 },
  C: { dimension: "temperature", factor: 1 },
  F: { dimension: "temperature", factor: 5 / 9, offset: -160 / 9 },
};

/** Names of the known units of a dimension, for messages. */
export function unitsOf(dimension: Dimension): string[] {
  return Object.keys(UNITS).filter((name) => UNITS[name]?.dimension === dimension);
}

/**
 * Converts a value between two units of one dimension.
 * @throws {ManifestError} when a unit is unknown or the dimensions differ; the message lists the known units.
 */
export function convert(value: number, from: string, to: string): number {
  const source = definitionOf(from);
  const target = definitionOf(to);
  if (source.dimension !== target.dimension) {
    throw new ManifestError(`cannot convert ${from} (${source.dimension}) to ${to} (${target.dimension})`, {
      value: from,
    });
  }
  if (source.factor === target.factor && source.offset === target.offset) return value;
  return (value * source.factor + (source.offset ?? 0) - (target.offset ?? 0)) / target.factor;
}

function definitionOf(unit: string): UnitDefinition {
  const definition = Object.hasOwn(UNITS, unit) ? UNITS[unit] : undefined;
  if (!definition) {
    throw new ManifestError(`unknown unit "${unit}"; known units: ${Object.keys(UNITS).join(", ")}`, {
      value: unit,
      accepted: Object.keys(UNITS).join(", "),
    });
  }
  return definition;
}

/**
 * Reads a quantity as people write it ("2.0 in", "120 lbf", "34000 seeds/ac") into the given unit.
 * A thousands comma is accepted in the number ("34,000 seeds/ac").
 * @throws {ManifestError} naming the text, the field and the units that would be accepted.
 */
export function parseQuantity(text: string, into: string, field?: string): number {
  const match = /^\s*([-+]?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?(?:[eE][-+]?\d+)?)\s*(\S.*?)\s*$/.exec(text);
  const number = match?.[1] ? Number(match[1].replaceAll(",", "")) : Number.NaN;
  const accepted = `a number and one of: ${unitsOf(definitionOf(into).dimension).join(", ")}`;
  if (!match?.[2] || !Number.isFinite(number)) {
    throw new ManifestError(
      `cannot read the quantity "${text}"${field ? ` of ${field}` : ""}; write ${accepted}`,
      {
        field,
        value: text,
        accepted,
      },
    );
  }
  const unit = match[2];
  const definition = Object.hasOwn(UNITS, unit) ? UNITS[unit] : undefined;
  if (!definition || definition.dimension !== definitionOf(into).dimension) {
    throw new ManifestError(`unit "${unit}"${field ? ` of ${field}` : ""} does not fit; write ${accepted}`, {
      field,
      value: text,
      accepted,
    });
  }
  return convert(number, unit, into);
}
