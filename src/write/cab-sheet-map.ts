/** The map of the cab sheet: rate zones with the load to aim for, darker for more; proof strips hatched. */

import { formatNumber, type UnitSystem } from "../format.ts";
import { labelPlace } from "../numerics/label-point.ts";
import type { Prescription, RateZone } from "../prescription/prescription.ts";
import { sheetDrawing } from "./sheet-drawing.ts";

const WIDTH = 98;
const HEIGHT = 74;
/** Grey of the smallest and the largest load: dark type still reads on the darker one. */
const LIGHTEST = 248;
const DARKEST = 168;
/** Drawing units a number needs beside it. */
const WIDE = 15;
const NARROW = 8;

/** The map as SVG. */
export function cabSheetMap({ zones }: Prescription, units: UnitSystem): string {
  if (zones.length === 0) return "";
  const drawing = sheetDrawing(
    zones.flatMap(({ polygon }) => polygon.flat()),
    WIDTH,
    HEIGHT,
    3,
  );
  const loads = zones.map(({ rates }) => rates.marginN);
  const [least, most] = [Math.min(...loads), Math.max(...loads)];
  const grey = (zone: RateZone): string => {
    const share = most > least ? (zone.rates.marginN - least) / (most - least) : 0;
    const level = Math.round(LIGHTEST - share * (LIGHTEST - DARKEST));
    return `rgb(${level},${level},${level})`;
  };
  const shapes = zones.map(
    (zone) =>
      `<path d="${drawing.pathOf([zone.polygon])}" class="zone${zone.proofStrip ? " strip" : ""}"${zone.proofStrip ? "" : ` fill="${grey(zone)}"`}/>`,
  );
  const labels = zones.map((zone) => label(zone, drawing, units));
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Map of the zones with their loads, north up">
<defs><pattern id="hatch" width="2" height="2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2" height="2" fill="#fff"/><path d="M0 0V2" stroke="#000" stroke-width="0.7"/></pattern></defs>
${shapes.join("")}${labels.join("")}${drawing.north}</svg>`;
}

function label(zone: RateZone, drawing: ReturnType<typeof sheetDrawing>, units: UnitSystem): string {
  const found = labelPlace(zone.polygon);
  if (!found) return "";
  const [x, y] = drawing.at(...found.place);
  const width = found.width * drawing.scale;
  // A strip is known by its hatching and stands in the list below; a number would hide it.
  if (zone.proofStrip || width < NARROW)
    return width < 3 ? "" : `<text x="${x}" y="${y + 1.4}" class="no">${zone.number}</text>`;
  const load = formatNumber(zone.rates.marginN, "force", units);
  return `<text x="${x}" y="${y}"${width < WIDE ? ' class="narrow"' : ""}>${load}</text><text x="${x}" y="${y + 4.6}" class="no">no. ${zone.number}</text>`;
}
