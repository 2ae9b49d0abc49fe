/** The small map on the first sheet: outline, places, the way and its spots; black on white, for any printer. */
import type { Analysis } from "../findings/analysis.ts";
import { sheetDrawing } from "../write/sheet-drawing.ts";
import type { ScoutPlan } from "./scout-plan.ts";

/** Drawing units: about millimetres on the sheet. */
const WIDTH = 180;
const HEIGHT = 118;

/** The map as SVG, north up. */
export function sheetMap(plan: ScoutPlan, { field, document, outline }: Analysis): string {
  const spotPlaces = plan.spots.map(({ x, y }): [number, number] => [x, y]);
  const { at, pathOf, north } = sheetDrawing([...outline.flat(2), ...spotPlaces], WIDTH, HEIGHT);
  const places = document.findings
    .filter(({ kind }) => kind !== "field" && kind !== "row-unit" && kind !== "section")
    .map(({ where }) =>
      pathOf(
        where.geometry.coordinates.map((rings) =>
          rings.map((ring) => ring.map(([lon, lat]) => field.frame.toLocal(lon!, lat!))),
        ),
      ),
    );
  const way = plan.spots.map(({ x, y }) => at(x, y).join(" ")).join("L");
  const spots = plan.spots.map(({ x, y, number, dig }) => {
    const [left, top] = at(x, y);
    return `<circle cx="${left}" cy="${top}" r="2.7" class="${dig ? "dig" : "spot"}"/><text x="${left}" y="${top + 1.1}" class="${dig ? "dug" : ""}">${number}</text>`;
  });
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Map of the spots, north up">
<path d="${pathOf(outline)}" class="outline"/>${places.map((path) => `<path d="${path}" class="place"/>`).join("")}
${way ? `<path d="M${way}" class="way"/>` : ""}${spots.join("")}
${north}</svg>
<p class="small">Grey: the places the log or the counts point to. Dashed: the way, in the order of the numbers. Black circles: dig too.</p>`;
}
