/**
 * An invented season of one planter: sound units that differ a little for good (Laplace law), heavy-tailed readings, ground
 * that differs from field to field, three drivers. Three things are wrong: a worn unit in every field, a meter that clogs in
 * some, a driver who is too fast. The fields are small, the way through the tool is the whole one.
 */
import { analyseField } from "../../../src/jobs/analyse.ts";
import { normal, type Random, seededRandom } from "../../../src/numerics/random.ts";
import { extractField } from "../../../src/season/field/extract-field.ts";
import { digestField } from "../../../src/season/field/field-digest.ts";
import { FIELD_RUN_SCHEMA, type FieldResult, type FieldRun } from "../../../src/season/field-result.ts";
import { type SeasonDocument, seasonOf } from "../../../src/season/season-document.ts";
import { PLAN_SCHEMA, type PlannedField } from "../../../src/season/season-plan.ts";
import type { Field } from "../../../src/vocabulary/field.ts";
import { buildField } from "../../support/field-builder.ts";
import { heavyTailed, laplace, share } from "../simulator.ts";

export interface SeasonShape {
  fields: number;
  rowUnits: number;
  passes: number;
  moments: number;
  /** Left out where nothing is wrong. */
  wrong: boolean;
}

export const SHAPE: SeasonShape = { fields: 60, rowUnits: 12, passes: 8, moments: 40, wrong: true };

/** What is wrong, by the names the season gives it. */
export const TRUTH = { wornUnit: 4, cloggingUnit: 9, fastOperator: "C." } as const;

const OPERATORS = ["A.", "B.", "C."] as const;
const ROW_SPACING_M = 0.762;
const STEP_M = 2;
/** The meter clogs in every third field or so, from some pass on. */
const CLOGS = 0.35;
const SPEED = { usual: 2.3, fast: 3.0 };
/** Skips for each m/s above the usual speed. */
const SKIPS_BY_SPEED = 0.012;

interface Unit {
  depth: number;
  load: number;
  misses: number;
  spacing: number;
}

/** The season's document of one seed. */
export async function simulatedSeason(shape: SeasonShape, seed: number): Promise<SeasonDocument> {
  const random = seededRandom(seed);
  const units = Array.from(
    { length: shape.rowUnits },
    (): Unit => ({
      depth: 0.9 * laplace(random),
      load: 24 * laplace(random),
      misses: 0.0012 * laplace(random),
      spacing: 0.006 * laplace(random),
    }),
  );
  const results: FieldResult[] = [];
  for (let k = 0; k < shape.fields; k++) {
    const operator = OPERATORS[Math.floor(random() * OPERATORS.length)]!;
    const id = `field-${String(k + 1).padStart(2, "0")}`;
    const field = simulatedField(shape, units, operator, seededRandom(seed * 1000 + k), k);
    const extract = extractField(await analyseField(field));
    const planned: PlannedField = { id, path: id, name: id, planter: "the planter", grower: null, operator };
    const run: FieldRun = {
      schema: FIELD_RUN_SCHEMA,
      key: id,
      status: "done",
      name: id,
      logSha256: id,
      reason: null,
      choices: [],
    };
    results.push({ field: planned, run, digest: digestField(extract) });
  }
  const plan = {
    schema: PLAN_SCHEMA,
    name: "Simulated",
    season: null,
    fields: results.map(({ field }) => field),
  } as const;
  return seasonOf(plan, results).document;
}

function simulatedField(
  shape: SeasonShape,
  units: readonly Unit[],
  operator: string,
  random: Random,
  day: number,
): Field {
  const names = [
    "x",
    "y",
    "time",
    "rowUnit",
    "speed",
    "seedingDepth",
    "downForceMargin",
    "misses",
    "multiples",
    "spacingVariation",
    "population",
  ] as const;
  const columns = Object.fromEntries(names.map((name) => [name, [] as number[]])) as Record<
    (typeof names)[number],
    number[]
  >;
  // The ground and the day: the same for all units of the bar.
  const ground = { depth: 1.5 * normal(random), load: 60 * normal(random), misses: 0.003 * normal(random) };
  const clogsFrom = random() < CLOGS ? 1 + Math.floor(random() * shape.passes * 0.6) : shape.passes + 1;
  const usual =
    (shape.wrong && operator === TRUTH.fastOperator ? SPEED.fast : SPEED.usual) + 0.1 * normal(random);
  let seconds = 1_777_000_000 + day * 86_400;
  for (let pass = 1; pass <= shape.passes; pass++) {
    const up = pass % 2 === 1;
    const speed = usual + 0.12 * normal(random);
    let drift = 0;
    for (let moment = 0; moment < shape.moments; moment++) {
      seconds += STEP_M / speed;
      drift = 0.9 * drift + Math.sqrt(1 - 0.81) * normal(random);
      units.forEach((unit, index) => {
        const rowUnit = index + 1;
        const isWorn = shape.wrong && rowUnit === TRUTH.wornUnit;
        const isClogged = shape.wrong && rowUnit === TRUTH.cloggingUnit && pass >= clogsFrom;
        const right = (rowUnit - (shape.rowUnits + 1) / 2) * ROW_SPACING_M;
        columns.x.push(pass * shape.rowUnits * ROW_SPACING_M + (up ? right : -right));
        columns.y.push((up ? moment + 0.5 : shape.moments - moment - 0.5) * STEP_M);
        columns.time.push(seconds);
        columns.rowUnit.push(rowUnit);
        columns.speed.push(speed + 0.05 * normal(random));
        columns.seedingDepth.push(
          51 + ground.depth + 2 * drift + unit.depth + (isWorn ? -5 : 0) + 4 * heavyTailed(random),
        );
        columns.downForceMargin.push(470 + ground.load + 60 * drift + unit.load + 120 * heavyTailed(random));
        const misses = share(
          0.02 +
            ground.misses +
            SKIPS_BY_SPEED * Math.max(0, speed - SPEED.usual) +
            unit.misses +
            (isClogged ? 0.05 : 0) +
            0.012 * heavyTailed(random),
        );
        const multiples = share(0.008 + 0.006 * heavyTailed(random));
        columns.misses.push(misses);
        columns.multiples.push(multiples);
        columns.spacingVariation.push(
          share(0.18 + unit.spacing + (isWorn ? 0.05 : 0) + 0.03 * heavyTailed(random)),
        );
        columns.population.push(84_000 * (1 - misses + multiples));
      });
    }
    seconds += 40;
  }
  const { x, y, ...values } = columns;
  return buildField({
    x,
    y,
    layout: "row-unit",
    hasClockTime: true,
    planter: { rowUnits: shape.rowUnits, rowSpacingM: ROW_SPACING_M },
    targets: { seedingDepthMm: 50.8, downForceMarginN: [267, 712] },
    values,
  });
}
