/** What to change now: the whole bar by the limits of a whole field, rows by how far they stand off the bar. */
import { THRESHOLDS } from "../compare/thresholds.ts";
import type { Cause } from "../vocabulary/causes.ts";
import {
  CHANGE_ORDER,
  type CheckChange,
  type CheckFigure,
  type CheckRow,
  type CheckVariable,
} from "./check-result.ts";

/**
 * The changes, worst first: by the order of {@link CHANGE_ORDER}, the whole bar before rows, rows by the size of their
 * departure. A reading that stands off the bar to the harmless side asks for none.
 * @param figures those that may be judged
 */
export function changesNow(figures: readonly CheckFigure[], rows: readonly CheckRow[]): CheckChange[] {
  const rank = ({ matter, rowUnits }: CheckChange): number =>
    2 * CHANGE_ORDER.indexOf(matter) + (rowUnits.length > 0 ? 1 : 0);
  const size = ({ value }: CheckChange): number => Math.abs(value);
  return [...barChanges(figures), ...rowChanges(figures, rows)].sort(
    (a, b) => rank(a) - rank(b) || size(b) - size(a) || (a.rowUnits[0] ?? 0) - (b.rowUnits[0] ?? 0),
  );
}

function barChanges(figures: readonly CheckFigure[]): CheckChange[] {
  const changes: CheckChange[] = [];
  const by = new Map(figures.map((figure) => [figure.variable, figure]));
  const put = (
    matter: CheckChange["matter"],
    cause: Cause,
    { variable }: CheckFigure,
    value: number,
    limit: number | null,
    measure: CheckChange["measure"] = "mean",
  ): void => {
    changes.push({ matter, cause, rowUnits: [], variable, measure, value, limit });
  };
  const isMost = (share: number | null): boolean => share !== null && share > THRESHOLDS.mostOfField.value;

  const depth = by.get("seedingDepth");
  if (depth && isMost(depth.shareBelow))
    put("depth", "too-shallow", depth, depth.mean, depth.aim?.low ?? null);
  if (depth && isMost(depth.shareAbove)) put("depth", "too-deep", depth, depth.mean, depth.aim?.high ?? null);
  if (depth && isBeyond(depth.spreadAlongRow, depth.spreadLimit))
    put("uniform depth", "uneven-depth", depth, depth.spreadAlongRow!, depth.spreadLimit, "spread");

  const load = by.get("downForceMargin");
  const contact = by.get("groundContact");
  const without = [load, contact].find(
    (figure) => figure && isBeyond(figure.usualNoLoadShare, figure.noLoadLimit),
  );
  if (load && isMost(load.shareBelow))
    put("contact", "lost-ground-contact", load, load.mean, load.aim?.low ?? null);
  else if (without)
    put(
      "contact",
      "lost-ground-contact",
      without,
      without.usualNoLoadShare!,
      without.noLoadLimit,
      "time without load",
    );
  if (load && isMost(load.shareAbove))
    put("pressure", "excess-down-force", load, load.mean, load.aim?.high ?? null);

  const rate = by.get("population");
  if (rate && isMost(rate.shareBelow))
    put("population", "rate-off-target", rate, rate.mean, rate.aim?.low ?? null);
  if (rate && isMost(rate.shareAbove))
    put("population", "rate-off-target", rate, rate.mean, rate.aim?.high ?? null);

  const { misses, multiples, singulation } = Object.fromEntries(by) as Partial<
    Record<CheckVariable, CheckFigure>
  >;
  const amiss = THRESHOLDS.seedsAmiss.value;
  if (misses && isBeyond(misses.usual, amiss)) put("spacing", "misses", misses, misses.usual!, amiss);
  if (multiples && isBeyond(multiples.usual, amiss))
    put("spacing", "multiples", multiples, multiples.usual!, amiss);
  // Seeds singled is what skips and doubles leave.
  if (singulation && !misses && !multiples && isBeyond(1 - (singulation.usual ?? 1), amiss))
    put("spacing", "misses", singulation, singulation.usual!, 1 - amiss);

  const speed = by.get("speed");
  if (speed && isMost(speed.shareAbove))
    put("speed", "excess-speed", speed, speed.mean, speed.aim?.high ?? null);
  return changes;
}

function rowChanges(figures: readonly CheckFigure[], rows: readonly CheckRow[]): CheckChange[] {
  const changes = rows.flatMap((row): CheckChange[] => {
    const figure = figures.find(({ variable }) => variable === row.variable);
    const named = figure && rowMatter(row, figure);
    if (!named) return [];
    const { rowUnits, variable, shift } = row;
    return [{ ...named, rowUnits, variable, measure: "shift", value: shift, limit: null }];
  });
  // Skips and doubles are what singulation and rate of a row depart by.
  return changes.filter(
    ({ variable, rowUnits }) =>
      (variable !== "singulation" && variable !== "population") ||
      !changes.some(
        (other) =>
          (other.variable === "misses" || other.variable === "multiples") &&
          rowUnits.every((unit) => other.rowUnits.includes(unit)),
      ),
  );
}

/** What a departing row is a matter of; null where it does no harm that we know of. */
function rowMatter(
  { variable, shift }: CheckRow,
  { mean, aim }: CheckFigure,
): Pick<CheckChange, "matter" | "cause"> | null {
  const at = mean + shift;
  const isBelow = aim !== null && aim.low !== null && at < aim.low;
  const isAbove = aim !== null && aim.high !== null && at > aim.high;
  switch (variable) {
    case "seedingDepth":
      if (Math.abs(shift) < THRESHOLDS.depthTolerance.value && !(shift < 0 ? isBelow : isAbove)) return null;
      return { matter: "depth", cause: shift < 0 ? "too-shallow" : "too-deep" };
    case "downForceMargin":
      if (shift < 0) return isBelow ? { matter: "contact", cause: "lost-ground-contact" } : null;
      return isAbove ? { matter: "pressure", cause: "excess-down-force" } : null;
    case "population":
      return Math.abs(shift) > THRESHOLDS.populationTolerance.value
        ? { matter: "population", cause: "rate-off-target" }
        : null;
    case "misses":
      return shift > 0 ? { matter: "spacing", cause: "misses" } : null;
    case "multiples":
      return shift > 0 ? { matter: "spacing", cause: "multiples" } : null;
    case "singulation":
      return shift < 0 ? { matter: "spacing", cause: "misses" } : null;
  }
}

function isBeyond(value: number | null, limit: number | null): boolean {
  return value !== null && limit !== null && value > limit;
}
