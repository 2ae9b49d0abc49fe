import { describe, expect, it } from "vitest";
import { covarianceMatrix } from "../../src/cluster/covariance.ts";
import { usualSpacing } from "../../src/cluster/covariance-fit.ts";
import { neighboursWithin } from "../../src/cluster/neighbours.ts";
import type { Candidate, ScanInput } from "../../src/cluster/score-scan.ts";
import { scanForGroups } from "../../src/cluster/score-scan.ts";
import { zoneColumns } from "../../src/cluster/zone-model.ts";
import { cholesky } from "../../src/numerics/cholesky.ts";
import { spotsOnCells, standNoise, straightCells, ZONE_LEVELS } from "./support/field-simulator.ts";

const NOISE = { spatialVariance: 0.02 ** 2, rangeM: 20, nuggetVariance: 0.02 ** 2 };
const cells = straightCells(36, 50);
const spots = spotsOnCells(cells, 120, 11);
const factor = cholesky(covarianceMatrix(NOISE, spots.x, spots.y, null), 120);
const neighbours = neighboursWithin(spots.x, spots.y, 1.8 * usualSpacing(spots.x, spots.y));
const { columns } = zoneColumns(spots.zone);

function within(x: number, y: number, radius: number): Int32Array {
  return Int32Array.from(
    [...spots.x.keys()].filter((i) => Math.hypot(spots.x[i]! - x, spots.y[i]! - y) <= radius),
  );
}

function discs(family: Candidate["family"]): Candidate[] {
  return [...spots.x.keys()]
    .map((i) => ({ family, members: within(spots.x[i]!, spots.y[i]!, 70), label: `disc ${i}` }))
    .filter(({ members }) => members.length >= 2);
}

/** Stand of the spots with the covariance known, less a loss where asked. */
function field(seed: number, losses: { members: Int32Array; loss: number }[]): ScanInput {
  const response = standNoise(spots.x, spots.y, seed, NOISE).map(
    (value, i) => value + ZONE_LEVELS[spots.zone[i]!]!,
  );
  for (const { members, loss } of losses) for (const member of members) response[member]! -= loss;
  const adjusted = response.map((value, i) => value - ZONE_LEVELS[spots.zone[i]!]!);
  return { response, columns, factor, candidates: discs("free"), neighbours, adjusted };
}

const SETTINGS = { simulations: 199, inflation: 1, minimumDeficit: 0 };

describe("score scan with known covariance", () => {
  it("raises a false alarm on about 5 % of fields without groups (binomial: 0 to 9 of 80)", () => {
    const alarms = Array.from({ length: 80 }, (_, k) =>
      scanForGroups(field(2000 + k, []), { ...SETTINGS, seed: k }),
    );
    expect(alarms.filter(({ groups }) => groups.length > 0).length).toBeLessThanOrEqual(9);
  });

  it("splits the alarm rate between the families and gives all of it to the only one", () => {
    const input = field(1, []);
    const alone = scanForGroups(input, { ...SETTINGS, seed: 1 });
    const guided = [{ family: "guided", members: within(200, 300, 60), label: "low load" }] as const;
    const both = scanForGroups(
      { ...input, candidates: [...guided, ...input.candidates] },
      { ...SETTINGS, seed: 1 },
    );
    expect(alone.critical.guided).toBeNull();
    expect(both.tested.guided).toBe(1);
    // One candidate has to pass far less than a hundred.
    expect(both.critical.guided!).toBeLessThan(both.critical.free!);
    expect(both.critical.free!).toBeGreaterThanOrEqual(alone.critical.free!);
  });

  it("finds a planted deficit with its size, and the guided place rather than a disc on the same ground", () => {
    const place = within(210, 300, 75);
    const input = field(3, [{ members: place, loss: 0.12 }]);
    const candidates: Candidate[] = [
      { family: "guided", members: place, label: "low load" },
      ...input.candidates,
    ];
    const { groups } = scanForGroups({ ...input, candidates }, { ...SETTINGS, seed: 3 });
    expect(groups).toHaveLength(1);
    expect(groups[0]).toMatchObject({ family: "guided", label: "low load", members: place });
    expect(Math.abs(groups[0]!.deficit - 0.12)).toBeLessThan(2.6 * groups[0]!.standardError);
    expect(groups[0]!.score).toBeCloseTo(groups[0]!.deficit / groups[0]!.standardError, 10);
    expect(groups[0]!.pValue).toBeLessThanOrEqual(0.05);
  });

  it("goes on after the first group and finds a second one, without naming leftovers of the first", () => {
    const first = within(110, 150, 75);
    const second = within(330, 460, 75);
    const { groups } = scanForGroups(
      field(4, [
        { members: first, loss: 0.2 },
        { members: second, loss: 0.16 },
      ]),
      { ...SETTINGS, seed: 4 },
    );
    expect(groups).toHaveLength(2);
    const share = (members: Int32Array, place: Int32Array): number =>
      members.filter((member) => place.includes(member)).length / members.length;
    expect(share(groups[0]!.outline, first)).toBeGreaterThan(0.7);
    expect(share(groups[1]!.outline, second)).toBeGreaterThan(0.7);
  });

  it("leaves the spots of another place that the log points to when it draws the first one", () => {
    const first = within(210, 200, 75);
    const second = within(210, 200, 130).filter((member) => !first.includes(member));
    const losses = [
      { members: first, loss: 0.2 },
      { members: second, loss: 0.16 },
    ];
    const input = field(8, losses);
    const candidates = losses.map(
      ({ members }): Candidate => ({ family: "guided", members, label: "light" }),
    );
    const { groups } = scanForGroups({ ...input, candidates }, { ...SETTINGS, seed: 8 });
    expect(groups.map(({ candidate }) => candidate).sort()).toEqual([0, 1]);
    for (const { candidate, outline } of groups) {
      const other = losses[1 - candidate]!.members;
      expect(outline.filter((spot) => other.includes(spot))).toHaveLength(0);
    }
  });

  it("reports no smaller deficit than the candidate asks for", () => {
    const place = within(210, 300, 75);
    const input = field(3, [{ members: place, loss: 0.12 }]);
    const asking = (minimumDeficit: number): Candidate[] => [
      { family: "guided", members: place, label: "low load", minimumDeficit },
    ];
    const found = (minimumDeficit: number) =>
      scanForGroups({ ...input, candidates: asking(minimumDeficit) }, { ...SETTINGS, seed: 3 }).groups;
    const [group] = found(0);
    expect(found(group!.deficit - 0.001)).toHaveLength(1);
    expect(found(group!.deficit + 0.001)).toHaveLength(0);
  });

  it("does not test a place that cannot be told from a soil zone", () => {
    const zone = Int32Array.from([...spots.zone.keys()].filter((i) => spots.zone[i] === 2));
    const input = field(5, [{ members: zone, loss: 0.3 }]);
    const candidates: Candidate[] = [{ family: "guided", members: zone, label: "zone" }];
    const result = scanForGroups({ ...input, candidates }, { ...SETTINGS, seed: 5 });
    expect(result).toEqual({
      groups: [],
      tested: { guided: 0, free: 0 },
      critical: { guided: null, free: null },
    });
  });

  it("does not depend on the unit of the response: scores stay, deficits scale", () => {
    const place = within(210, 300, 75);
    const input = field(6, [{ members: place, loss: 0.15 }]);
    const unit = 1e6;
    const scaled: ScanInput = {
      ...input,
      response: input.response.map((value) => value * unit),
      adjusted: input.adjusted.map((value) => value * unit),
      factor: input.factor.map((value) => value * unit),
    };
    const plain = scanForGroups(input, { ...SETTINGS, seed: 6 });
    const other = scanForGroups(scaled, { ...SETTINGS, seed: 6 });
    expect(other.groups.map(({ candidate }) => candidate)).toEqual(
      plain.groups.map(({ candidate }) => candidate),
    );
    expect(other.groups[0]!.score).toBeCloseTo(plain.groups[0]!.score, 8);
    expect(other.groups[0]!.deficit / unit).toBeCloseTo(plain.groups[0]!.deficit, 10);
  });

  it("gives the same answer for the same seed", () => {
    const input = field(7, [{ members: within(210, 300, 75), loss: 0.15 }]);
    expect(scanForGroups(input, { ...SETTINGS, seed: 9 })).toEqual(
      scanForGroups(input, { ...SETTINGS, seed: 9 }),
    );
  });

  it("leaves deficits below the least reported alone", () => {
    const input = field(8, [{ members: within(210, 300, 75), loss: 0.15 }]);
    expect(scanForGroups(input, { ...SETTINGS, seed: 8, minimumDeficit: 0.5 }).groups).toEqual([]);
  });
});
