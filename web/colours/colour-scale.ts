/** From the values of a variable to colours, with the few numbers a legend has to show. */
import type { Targets } from "../../src/vocabulary/field.ts";
import type { ValueName } from "../protocol/ground.ts";
import { smallestSpan } from "../words/smallest-span.ts";
import { targetOf, VARIABLES } from "../words/variables.ts";
import { colourAt, type PaletteName, type Rgb } from "./palettes.ts";

export interface ColourScale {
  palette: PaletteName;
  /** Values at the ends of the ramp, inside units; beyond them the end colour holds. */
  low: number;
  high: number;
  /** Between these the colour is the neutral middle; null where the ramp runs in one direction. */
  neutral: [number, number] | null;
}

/** Share of values beyond each end of the ramp, so that a few wild readings do not wash the picture out. */
const TRIMMED_SHARE = 0.02;
/** At most this many values are sorted for the ends of the ramp. */
const SAMPLE = 20_000;
/** A ramp is never narrower than this share of its middle: an even field should look even. Our judgement. */
const NARROWEST_SHARE = 0.15;

export function scaleOf(variable: ValueName, values: Float32Array, targets: Targets): ColourScale {
  const [low, high] = trimmedRange(values);
  const words = VARIABLES[variable];
  if (words.colours !== "around-target") {
    const widest = Math.max(high - low, smallestSpan(words.kind, (low + high) / 2), 1e-6);
    const palette = words.colours === "more-is-worse" ? "cividis-reversed" : "cividis";
    return words.colours === "more-is-worse"
      ? { palette, low, high: low + widest, neutral: null }
      : { palette, low: high - widest, high, neutral: null };
  }
  const target = targetOf(variable, targets) ?? (low + high) / 2;
  const neutral: [number, number] = typeof target === "number" ? [target, target] : target;
  const least = (NARROWEST_SHARE * (Math.abs(neutral[0]) + Math.abs(neutral[1]))) / 2;
  const reach = { below: Math.max(neutral[0] - low, least), above: Math.max(high - neutral[1], least) };
  return { palette: "puor", low: neutral[0] - reach.below, high: neutral[1] + reach.above, neutral };
}

/** Place of a value on the ramp, 0..1 (may lie outside). */
export function shareOf(scale: ColourScale, value: number): number {
  const { low, high, neutral } = scale;
  if (!neutral) return (value - low) / (high - low);
  if (value < neutral[0]) return (0.5 * (value - low)) / (neutral[0] - low);
  if (value > neutral[1]) return 0.5 + (0.5 * (value - neutral[1])) / (high - neutral[1]);
  return 0.5;
}

export function colourOf(scale: ColourScale, value: number): Rgb {
  return colourAt(scale.palette, shareOf(scale, value));
}

/**
 * Red, green, blue, alpha of every piece; alpha 0 where there is no value, and where `shown` is 0.
 * @param shown null for all pieces
 */
export function colourColumn(
  scale: ColourScale,
  values: Float32Array,
  shown: Uint8Array | null = null,
): Uint8Array {
  const steps = 256;
  const table = Array.from({ length: steps }, (_, i) => colourAt(scale.palette, i / (steps - 1)));
  const out = new Uint8Array(values.length * 4);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value) || shown?.[i] === 0) continue;
    const step = Math.min(Math.max(Math.round(shareOf(scale, value) * (steps - 1)), 0), steps - 1);
    const rgb = table[step]!;
    out[4 * i] = rgb[0];
    out[4 * i + 1] = rgb[1];
    out[4 * i + 2] = rgb[2];
    out[4 * i + 3] = 255;
  }
  return out;
}

function trimmedRange(values: Float32Array): [number, number] {
  const step = Math.max(1, Math.floor(values.length / SAMPLE));
  const sample: number[] = [];
  for (let i = 0; i < values.length; i += step) {
    if (!Number.isNaN(values[i]!)) sample.push(values[i]!);
  }
  if (sample.length === 0) return [0, 1];
  sample.sort((a, b) => a - b);
  const at = (share: number) => sample[Math.round(share * (sample.length - 1))]!;
  return [at(TRIMMED_SHARE), at(1 - TRIMMED_SHARE)];
}
