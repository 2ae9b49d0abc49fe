/** What the manifest leads one to expect of a column's middle, in inside units; used to tell units apart. */
import type { PlanterSetup, Targets } from "../vocabulary/field.ts";

export type Expected = Record<string, { value: number; source: string }>;

export function expectedMiddles(planter: PlanterSetup, targets: Targets): Expected {
  const expected: Expected = {};
  const add = (variable: string, value: number | null, source: string) => {
    if (value !== null) expected[variable] = { value, source };
  };
  for (const variable of ["seedingDepth", "targetDepth"]) {
    add(variable, targets.seedingDepthMm, "targets.seedingDepth of the manifest");
  }
  for (const variable of ["population", "targetPopulation"]) {
    add(variable, targets.populationPerHa, "targets.population of the manifest");
  }
  add("speed", targets.speedMetresPerSecond, "targets.speed of the manifest");
  add("rowSpacing", planter.rowSpacingM, "planter.rowSpacing of the manifest");
  if (planter.rowUnits !== null && planter.rowSpacingM !== null) {
    add("swathWidth", planter.rowUnits * planter.rowSpacingM, "row units times row spacing of the manifest");
  }
  return expected;
}
