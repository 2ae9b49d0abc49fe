/** One invented field: its files, loaded as a user's would be, and its truth. */

import { loadField } from "../../../src/field/load.ts";
import type { Field } from "../../../src/vocabulary/field.ts";
import { between, chanceOf, gauss } from "./chance.ts";
import { addWherePoor, count, drawCounting } from "./counting.ts";
import { type DepthSource, writeFiles } from "./files.ts";
import { drawGround, type Ground, type Spot } from "./ground.ts";
import { sitesOf } from "./places.ts";
import { drawResponse, drawUsual, type Planting } from "./planting.ts";
import { drawSurface } from "./surface.ts";
import { WORLDS, type WorldName } from "./worlds.ts";
import { contrastOf, drawWrongs, forgivenAndHarmful, type Kind, type Wrong } from "./wrongs.ts";

/** Something truly wrong. */
export interface TrueEvent extends Wrong {
  /** 1 at the sites inside. */
  sites: Uint8Array;
  /** Mean loss over it, share of the target. */
  loss: number;
  /** Counts that truly lie in it. */
  counts: number;
}

export interface Truth {
  ground: Ground;
  /** Where the truth is kept, see {@link sitesOf}. */
  sites: Spot[];
  /** Plants missing at each site against the same field with nothing wrong, share of the target. */
  loss: Float64Array;
  events: TrueEvent[];
  /** Places where the log departs and nothing is harmed. */
  decoys: Wrong[];
  counts: number;
  rowsCounted: number;
  positionErrorM: number;
  namesRow: boolean;
  hasLots: boolean;
  /** Mean stand without chance, share of the target. */
  meanStand: number;
}

export interface WorldField {
  field: Field;
  truth: Truth;
}

/** Share of fields that bring a file of seed lots though nothing is wrong with them. */
const WITH_LOTS = 0.35;

/** Builds a field; the same arguments give the same field. */
export async function buildWorldField(
  world: WorldName,
  kind: Kind,
  seed: number,
  options: { depthSource?: DepthSource; wanted?: number | null } = {},
): Promise<WorldField> {
  const { truth, files, manifest } = makeWorldFiles(world, kind, seed, options);
  const field = await loadField(manifest, async (path) => [{ name: path, bytes: files.get(path)! }]);
  return { field, truth };
}

/** The files of a field and its truth, without the tool. */
export function makeWorldFiles(
  world: WorldName,
  kind: Kind,
  seed: number,
  { depthSource = "sensed", wanted = null }: { depthSource?: DepthSource; wanted?: number | null },
) {
  const name = `${world}/${kind}/${seed}`;
  const spec = WORLDS[world];
  const ground = drawGround(kind.startsWith("day-") ? { ...spec, plantingDays: [2, 3] } : spec, name);
  const contrast = contrastOf(kind);
  const byRows = contrast?.name === "half" || contrast?.name === "section";
  const sites = sitesOf(ground);
  const counting = drawCounting(ground, name, byRows, wanted);
  const wrongs = drawWrongs(ground, name, kind, sites, counting.spots);
  const { harmful, forgiven } = forgivenAndHarmful(wrongs);
  const response = drawResponse(spec, name, harmful, forgiven);
  const usual = drawUsual(ground, name);
  const plantingAt = (spot: Spot): Planting => {
    const planting = usual(spot);
    for (const { inside, change } of wrongs) if (change && inside(spot)) change(planting);
    return planting;
  };
  const stand = drawStand(ground, name);
  const left = (spot: Spot): number =>
    wrongs.reduce((rest, wrong) => (wrong.inside(spot) ? rest * (1 - wrong.ownLoss) : rest), 1) *
    response.survival(plantingAt(spot));
  const loss = Float64Array.from(
    sites,
    (site) => stand.level(site) * (response.survival(usual(site)) - left(site)),
  );
  addWherePoor(counting, ground, name, sites, (site) =>
    wrongs.some((w) => w.right.length > 0 && w.inside(site)),
  );
  const counts = count(
    counting,
    ground,
    name,
    (spot, chance) => stand.level(spot) * left(spot) * stand.noise(spot) + stand.nugget * gauss(chance),
  );
  const chance = chanceOf(`${name}/lots`);
  const hasLots = contrast?.name === "lot" || (contrast?.name !== "cut" && chance() < WITH_LOTS);
  const events = wrongs
    .filter(({ right }) => right.length > 0)
    .map((wrong): TrueEvent => {
      const inside = Uint8Array.from(sites, (site) => (wrong.inside(site) ? 1 : 0));
      const held = inside.reduce((sum, value) => sum + value, 0);
      return {
        ...wrong,
        sites: inside,
        loss: held > 0 ? loss.reduce((sum, value, i) => sum + value * inside[i]!, 0) / held : 0,
        counts: counting.spots.filter((spot) => wrong.inside(spot)).length,
      };
    });
  const meanStand = sites.reduce((sum, site) => sum + stand.level(site) * left(site), 0) / sites.length;
  const truth: Truth = {
    ground,
    sites,
    loss,
    events,
    decoys: wrongs.filter(({ right }) => right.length === 0),
    counts: counts.length,
    rowsCounted: counting.spots[0]!.rowsCounted,
    positionErrorM: counting.positionErrorM,
    namesRow: counting.namesRow,
    hasLots,
    meanStand,
  };
  return { ...writeFiles(ground, name, plantingAt, counts, { depthSource, hasLots }), truth };
}

/** What a sound field stands like: its level by soil, its variation over the ground, each spot's own. */
function drawStand(ground: Ground, name: string) {
  const chance = chanceOf(`${name}/stand`);
  const { spec } = ground;
  const middle = between(chance, 0.91, 0.97);
  const levels = ground.zoneNames.map(() => Math.min(0.99, middle + between(chance, -0.018, 0.018)));
  const law = spec.noise[Math.floor(chance() * spec.noise.length)]!;
  const surface = drawSurface(chance, law, between(chance, ...spec.noiseRangeM));
  const sd = between(chance, ...spec.noiseSd);
  return {
    nugget: between(chance, ...spec.nugget),
    level: (spot: Spot): number => levels[spot.zone]!,
    noise: (spot: Spot): number => 1 + sd * surface(spot.across, spot.along),
  };
}
