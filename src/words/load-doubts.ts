/** Load and added force that no planter in the ground can have: said first, and among what could not be judged. */
import type { NotJudged } from "../findings/findings-document.ts";
import type { LoadPhysics } from "../quantities/load-physics.ts";

type Refusal = Pick<LoadPhysics, "refusal"> | null;

/** Doubts of the columns, each with its figures; empty where nothing speaks against them. */
export function loadDoubts(physics: Refusal): NotJudged[] {
  if (physics === null) return [];
  const { load, force } = physics.refusal;
  const check =
    "look whether the column and its unit in the manifest are right before what is said of it is believed";
  const doubt = (what: string, why: string | null) =>
    why === null ? [] : [{ what, why: `${why}; ${check}` }];
  return load !== null && load === force
    ? doubt("the logged load and added force", load)
    : [...doubt("the logged gauge-wheel load", load), ...doubt("the logged added force", force)];
}

/** Goes before the answer where the load is in doubt; empty otherwise. The added force alone decides no finding. */
export function loadLead(physics: Refusal): string {
  return physics?.refusal.load == null
    ? ""
    : "First look at the columns of the log: what it calls the load on the gauge wheels cannot be one (see what could not be judged). ";
}
