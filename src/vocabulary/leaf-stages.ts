/** How many leaf stages late plants are behind, as people write it. */

/** Corn by leaf collars: VE at emergence, V1, V2 ... (Abendroth et al. 2011, Corn Growth and Development, Iowa State PMR 1009). */
const STAGE = /\bV\s*(E|C|\d{1,2})\b/gi;
const RANGE = /^(\d+(?:\.\d+)?)\s*(?:-|–|to)\s*(\d+(?:\.\d+)?)(?:\s|$)/i;

/**
 * "V2/V3" or "V1 vs V3" as the difference of the two stages, "1-2" as its middle, "2 behind" as its number; null
 * for anything else: one stage alone does not say how far behind it is.
 */
export function leafStagesBehind(text: string): number | null {
  const stages = [...text.matchAll(STAGE)].map(([, stage]) => (/^[ec]$/i.test(stage!) ? 0 : Number(stage)));
  if (stages.length === 2) return Math.abs(stages[0]! - stages[1]!);
  if (stages.length > 0) return null;
  const range = RANGE.exec(text.trim());
  if (range) return (Number(range[1]) + Number(range[2])) / 2;
  const plain = /^(\d+(?:\.\d+)?)(?:\s*(?:lea(?:f|ves)|stages?|leaf stages?))?(?:\s*(?:behind|late))?$/i.exec(
    text.trim(),
  );
  return plain ? Number(plain[1]) : null;
}
