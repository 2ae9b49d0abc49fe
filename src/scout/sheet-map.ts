/** The small map on the first sheet: outline, places, the way and its spots; black on white, for any printer. */
import type { Analysis } from "../analyse.ts";
import type { LocalPolygon } from "../field/field.ts";
import type { ScoutPlan } from "./scout-plan.ts";

/** Drawing units: about millimetres on the sheet. */
const WIDTH = 180;
const HEIGHT = 118;
const MARGIN = 5;

/** The map as SVG, north up. */
export function sheetMap(plan: ScoutPlan, { field, document, outline }: Analysis): string {
  const points = outline.flat(2);
  const xs = [...points.map(([x]) => x), ...plan.spots.map(({ x }) => x)];
  const ys = [...points.map(([, y]) => y), ...plan.spots.map(({ y }) => y)];
  const [west, south] = [xs.reduce((a, b) => Math.min(a, b)), ys.reduce((a, b) => Math.min(a, b))];
  const [east, north] = [xs.reduce((a, b) => Math.max(a, b)), ys.reduce((a, b) => Math.max(a, b))];
  const scale = Math.min(
    (WIDTH - 2 * MARGIN) / (east - west || 1),
    (HEIGHT - 2 * MARGIN) / (north - south || 1),
  );
  const at = (x: number, y: number): [number, number] => [
    round(WIDTH / 2 + (x - (west + east) / 2) * scale),
    round(HEIGHT / 2 - (y - (south + north) / 2) * scale),
  ];
  const pathOf = (polygons: readonly LocalPolygon[]): string =>
    polygons
      .flat()
      .map((ring) => `M${ring.map(([x, y]) => at(x, y).join(" ")).join("L")}Z`)
      .join("");
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
<path d="M${WIDTH - 8} 14V4M${WIDTH - 10} 7L${WIDTH - 8} 4L${WIDTH - 6} 7" class="north"/><text x="${WIDTH - 8}" y="19">N</text></svg>
<p class="small">Grey: the places the log or the counts point to. Dashed: the way, in the order of the numbers. Black circles: dig too.</p>`;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
