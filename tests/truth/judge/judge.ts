/** What `tests/truth/judge/run.mjs` calls: the tool on one invented field, scored. */
import { analyseField } from "../../../src/jobs/analyse.ts";
import { buildWorldField } from "./build-world-field.ts";
import type { PlannedField } from "./plan.ts";
import { type ScoredField, scoreDocument } from "./score.ts";

export { buildWorldField } from "./build-world-field.ts";
export { MIXTURE, planFields } from "./plan.ts";
export { asMarkdown } from "./summary.ts";
export { WORLDS, worldsOf } from "./worlds.ts";

/** Builds, analyses and scores a field; a failure of the tool is a result too. */
export async function judgeField({
  world,
  kind,
  seed,
  depthSource,
  wanted,
}: PlannedField): Promise<ScoredField> {
  const { field, truth } = await buildWorldField(world, kind, seed, { depthSource, wanted });
  const base = {
    world,
    kind,
    seed,
    depthSource,
    wanted,
    counts: truth.counts,
    spots: {
      rowsCounted: truth.rowsCounted,
      positionErrorM: truth.positionErrorM,
      namesRow: truth.namesRow,
    },
  };
  const before = process.cpuUsage();
  try {
    const { document } = await analyseField(field);
    const { user, system } = process.cpuUsage(before);
    return { ...base, ...scoreDocument(truth, document), seconds: (user + system) / 1e6, failed: null };
  } catch (error) {
    const nothing = { events: [], findings: [], wrongContrasts: [], contrasts: 0, contrastIntervals: [] };
    const failed = error instanceof Error ? error.message : String(error);
    return { ...base, ...nothing, predicted: 0, seconds: 0, failed };
  }
}
