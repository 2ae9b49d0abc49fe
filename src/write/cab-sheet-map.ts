/** The map of the cab sheet: rate zones with the load to aim for, darker for more; proof strips hatched. */
import { labelPlace } from "../numerics/label-point.ts";
import { isForceChannel, type Prescription, type RateZone } from "../prescription/prescription.ts";
import type { UnitSystem } from "../quantities/format.ts";
import { writingIn } from "../texts/language.ts";
import { channelText } from "../words/prescription-rows.ts";
import { sheetDrawing } from "./sheet-drawing.ts";

const WIDTH = 98;
const HEIGHT = 64;
/** Grey of the smallest and the largest load: dark type still reads on the darker one. */
const LIGHTEST = 248;
const DARKEST = 168;
/** Drawing units across that a figure needs, large and small; with less the number of the zone stands alone. */
const WIDE = 15;
const NARROW = 9;

/** The map as SVG. */
export function cabSheetMap(prescription: Prescription, units: UnitSystem): string {
  const { zones } = prescription;
  if (zones.length === 0) return "";
  const drawing = sheetDrawing(
    zones.flatMap(({ polygon }) => polygon.flat()),
    WIDTH,
    HEIGHT,
    3,
  );
  const isForce = isForceChannel(prescription.channel.quantity);
  const loadOf = ({ rates }: RateZone): number => (isForce ? (rates.forceN ?? rates.marginN) : rates.marginN);
  const loads = zones.map(loadOf);
  const [least, most] = [Math.min(...loads), Math.max(...loads)];
  const grey = (zone: RateZone): string => {
    const share = most > least ? (loadOf(zone) - least) / (most - least) : 0;
    const level = Math.round(LIGHTEST - share * (LIGHTEST - DARKEST));
    return `rgb(${level},${level},${level})`;
  };
  const shapes = zones.map(
    (zone) =>
      `<path d="${drawing.pathOf([zone.polygon])}" class="zone${zone.proofStrip ? " strip" : ""}"${zone.proofStrip ? "" : ` fill="${grey(zone)}"`}/>`,
  );
  const labels = zones.map((zone) =>
    label(zone, drawing, channelText(zone.rates, prescription, writingIn(units))),
  );
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Map of the zones with their loads, north up">
<defs><pattern id="hatch" width="2" height="2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2" height="2" fill="#fff"/><path d="M0 0V2" stroke="#000" stroke-width="0.7"/></pattern></defs>
${shapes.join("")}${labels.join("")}${drawing.north}</svg>`;
}

function label(zone: RateZone, drawing: ReturnType<typeof sheetDrawing>, load: string): string {
  const found = labelPlace(zone.polygon);
  if (!found) return "";
  const [x, y] = drawing.at(...found.place);
  const width = found.width * drawing.scale;
  // A strip is known by its hatching and stands in the list below; a number would hide it.
  if (zone.proofStrip || width < NARROW)
    return width < 3 ? "" : `<text x="${x}" y="${y + 1.4}" class="no">${zone.number}</text>`;
  return `<text x="${x}" y="${y}"${width < WIDE ? ' class="narrow"' : ""}>${load.split(" ")[0]}</text><text x="${x}" y="${y + 4.6}" class="no">no. ${zone.number}</text>`;
}
