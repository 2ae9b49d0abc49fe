/** The zoo of planting logs: 300 of known truth, layouts, orders, clocks, widths, units, names, machines, gaps mixed. */
import { writeFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { studySize } from "../support/study-size.ts";
import { animalOf, readAnimal, type ZooResult } from "./support/zoo.ts";

const ANIMALS = studySize(300, 60);

let results: ZooResult[];
const read = (): ZooResult[] => results.filter(({ outcome }) => outcome === "read");
const share = (list: readonly boolean[]): number => list.filter(Boolean).length / list.length;

beforeAll(async () => {
  results = [];
  for (let seed = 1; seed <= ANIMALS; seed++) results.push(await readAnimal(animalOf(seed)));
  const table = process.env.EVENSTAND_ZOO_TABLE;
  if (table) writeFileSync(table, `${results.map(line).join("\n")}\n`);
}, 1_800_000);

function line({ animal, outcome, areaError, passIndex, wrongRoles, wrongUnits, said }: ZooResult): string {
  const { plan, style } = animal;
  return [
    animal.seed,
    outcome,
    areaError.toFixed(4),
    passIndex.toFixed(3),
    plan.layout,
    style.clock,
    style.order,
    style.lengthUnit,
    plan.machines.length,
    wrongRoles.join("; "),
    wrongUnits.join("; "),
    said.split("\n").slice(0, 2).join(" ").slice(0, 200),
  ].join("\t");
}

describe("of the zoo", () => {
  it("nothing is refused, and nine in ten are read without a question", () => {
    expect(results.filter(({ outcome }) => outcome === "refused").map(({ said }) => said)).toEqual([]);
    expect(read().length).toBeGreaterThanOrEqual(0.9 * ANIMALS);
  });

  it("planted ground lies within 1 % of the truth in 99 %", () => {
    expect(share(read().map(({ areaError }) => Math.abs(areaError) <= 0.01))).toBeGreaterThanOrEqual(0.99);
  });

  it("passes agree with the lines driven (adjusted Rand index 0.95) in 95 %", () => {
    expect(share(read().map(({ passIndex }) => passIndex >= 0.95))).toBeGreaterThanOrEqual(0.95);
  });

  it("no column stands for what it is not, no unit is wrong in silence", () => {
    expect(read().flatMap(({ wrongRoles }) => wrongRoles)).toEqual([]);
    expect(read().flatMap(({ silentUnits }) => silentUnits)).toEqual([]);
  });
});
