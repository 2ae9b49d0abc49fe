/** What the headline says first: ground planted again, several machines, and what was not judged, where it is more than a twentieth. */
import type { GroundPart } from "../findings/findings-document.ts";
import { formatPercent, formatQuantity } from "../quantities/format.ts";
import type { Writing } from "../texts/language.ts";

/** Less than this is the edge of the field and single records, not worth the first words (our judgement). */
const WORTH_SAYING = 0.05;
/** Passes this much nearer or farther than the bar is wide tell of a wrong width (our judgement). */
const SPACING_AGREES = 0.15;

/** Ground of the field that was judged, ha: all of it where no more than a twentieth was not. */
export function judgedHa(ground: GroundPart | null, areaHa: number): number {
  if (!ground || ground.judgedHa >= (1 - WORTH_SAYING) * areaHa) return areaHa;
  return Math.min(areaHa, ground.judgedHa);
}

/**
 * Sentences in front of the headline, each ending in a space; empty where next to all was judged.
 * @param areaHa ground of the field
 */
export function groundLead(ground: GroundPart | null, areaHa: number, writing: Writing): string {
  if (!ground) return "";
  const area = (value: number): string => formatQuantity(value, "area", writing);
  const width = (metres: number): string => formatQuantity(metres, "length", writing);
  const sentences = [...replantedWords(ground, areaHa, area, writing), ...machineWords(ground)];
  if (ground.placedShare < 1 - WORTH_SAYING) {
    sentences.push(
      `${formatPercent(1 - ground.placedShare, 0, writing.locale)} of the log's records have no place on the field and were not judged.`,
    );
  }
  const judged = judgedHa(ground, areaHa);
  if (judged < areaHa) {
    const where = ground.within === "boundary" ? "inside the boundary" : "planted";
    const rest = areaHa - judged;
    const planted = Math.min(areaHa, ground.plantedHa);
    const why =
      planted - judged > rest / 2
        ? "the log has no reading on the rest"
        : "the log has no record on the rest";
    sentences.push(
      `Not judged: ${area(rest)} (${formatPercent(rest / areaHa, 0, writing.locale)}) of the ${area(areaHa)} ${where}; ${why}.`,
    );
  }
  const { spacingM, widthM } = ground;
  const isOff = spacingM !== null && Math.abs(spacingM / widthM - 1) > SPACING_AGREES;
  const whole = ground.plantedHa + ground.skippedHa;
  if (ground.inDoubt && whole > 0 && ground.overlapHa > ground.skippedHa) {
    sentences.push(
      `${formatPercent(ground.overlapHa / whole, 0, writing.locale)} of the ground comes out as planted twice.`,
    );
  } else if (ground.inDoubt && whole > 0 && ground.within === "outline") {
    sentences.push(
      `${formatPercent(ground.skippedHa / whole, 0, writing.locale)} of the ground between the passes comes out as not planted.`,
    );
  }
  if (isOff && (ground.inDoubt || judged < areaHa)) {
    sentences.push(
      `The bar is taken as ${width(widthM)} wide, but the passes lie ${width(spacingM)} apart: check rows, row spacing and the unit of the width.`,
    );
  } else if (ground.inDoubt && judged >= areaHa) {
    sentences.push("Check the width of the bar and the positions.");
  }
  return sentences.map((sentence) => `${sentence} `).join("");
}

const DAY_MS = 86_400_000;

function replantedWords(
  { replanted }: GroundPart,
  areaHa: number,
  area: (hectares: number) => string,
  writing: Writing,
): string[] {
  if (!replanted) return [];
  const { firstPlanted, again } = replanted;
  const days = Math.round((Date.parse(again[0]) - Date.parse(firstPlanted)) / DAY_MS);
  const when = again[0] === again[1] ? `on ${again[0]}` : `from ${again[0]} to ${again[1]}`;
  return [
    `${formatPercent(replanted.areaHa / areaHa, 0, writing.locale)} of the field, ${area(replanted.areaHa)}, was planted again ${when}, ${days} days after its first planting on ${firstPlanted}: replanted. Counts and figures there are taken as those of the later planting.`,
  ];
}

/** So many machines are named; of more only the number is said. */
const MOST_NAMED = 4;

function machineWords({ machines }: GroundPart): string[] {
  const count = machines.length;
  if (count < 2) return [];
  const names = count <= MOST_NAMED ? ` (${machines.join(", ")})` : "";
  return [
    `${count === 2 ? "Two" : count} machines${names} planted the field: the passes of each are told apart on their own.`,
  ];
}
