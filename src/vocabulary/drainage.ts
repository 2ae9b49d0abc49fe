/** The natural drainage class of a soil, as soil surveys word it. */

/**
 * The seven natural drainage classes, from dry to wet: USDA NRCS Soil Survey Manual (Handbook 18, 2017), ch. 3. They
 * speak of the soil as it formed; drains laid since do not count.
 */
export const DRAINAGE_CLASSES = [
  "excessively drained",
  "somewhat excessively drained",
  "well drained",
  "moderately well drained",
  "somewhat poorly drained",
  "poorly drained",
  "very poorly drained",
] as const;

/** Null where the soil map does not say. */
export type DrainageClass = (typeof DRAINAGE_CLASSES)[number] | null;

/** The class a text is, in any case, with or without the word "drained"; null for other texts. */
export function drainageOf(text: string): DrainageClass {
  const plain = text.trim().toLowerCase().replaceAll(/\s+/g, " ");
  return DRAINAGE_CLASSES.find((name) => plain === name || `${plain} drained` === name) ?? null;
}

/** Soil that stays wet near the surface for long in the growing season (same source). */
export function isPoorlyDrained(drainage: DrainageClass): boolean {
  return drainage === "poorly drained" || drainage === "very poorly drained";
}

/** Soil that is wet at a shallow depth for a good part of the growing season, or longer (same source). */
export function isWetByNature(drainage: DrainageClass): boolean {
  return drainage === "somewhat poorly drained" || isPoorlyDrained(drainage);
}
