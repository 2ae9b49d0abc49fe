/** Findings on the invented field Larkspur Draw, held against the places that were put in. */
import type { Ground } from "../../sample-data/ground.ts";
import { makeLarkspurDraw, type makeLarkspurDrawTruth } from "../../sample-data/larkspur-draw.ts";
import type { PlaceName } from "../../sample-data/scenario.ts";
import { analyseField, type Finding, loadField, parseManifestText } from "../../src/index.ts";
import { ringContains } from "../../src/numerics/coverage-grid.ts";

/** Spacing of the grid that areas are compared on, degrees: about 5 m. */
const STEP = { longitude: 0.00006, latitude: 0.000045 };

/** Findings on the invented field of a seed, with its places where they are or elsewhere. */
export async function analyseSample(seed: number, ground?: Ground): Promise<Finding[]> {
  const files = makeLarkspurDraw(seed, ground);
  const manifest = parseManifestText(new TextDecoder().decode(files["field.json"]));
  const field = await loadField(manifest, async (path) => [{ name: path, bytes: files[path]! }]);
  return (await analyseField(field)).document.findings;
}

function contains({ where }: Finding, longitude: number, latitude: number): boolean {
  return where.geometry.coordinates.some(
    (rings) =>
      rings.filter((ring) => ringContains(ring as [number, number][], longitude, latitude)).length % 2 === 1,
  );
}

/** Share of the place that the finding holds, and share of the finding inside the place. */
export function overlap(finding: Finding, place: PlaceName, truth: ReturnType<typeof makeLarkspurDrawTruth>) {
  const ring = truth.field.lonLat[0]![0]!;
  const range = (axis: 0 | 1) => ring.map((position) => position[axis]);
  const count = { finding: 0, place: 0, both: 0 };
  for (let x = Math.min(...range(0)); x < Math.max(...range(0)); x += STEP.longitude) {
    for (let y = Math.min(...range(1)); y < Math.max(...range(1)); y += STEP.latitude) {
      if (!truth.field.contains(x, y)) continue;
      const found = contains(finding, x, y);
      const put = truth.placeOf(x, y) === place;
      count.finding += Number(found);
      count.place += Number(put);
      count.both += Number(found && put);
    }
  }
  return { recall: count.both / count.place, precision: count.both / count.finding };
}
