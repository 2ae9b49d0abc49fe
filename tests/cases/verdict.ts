/** What a case's result says, as its test asks it. */
import { centerOfMass as centroidOfGround } from "@turf/turf";
import type { MultiPolygon } from "geojson";
import type { Contrast, Finding } from "../../src/findings/findings-document.ts";
import type { ContrastKind } from "../../src/stand-model/contrast.ts";
import { metresAt } from "./case-ground.ts";
import type { CaseResult } from "./field-builder.ts";

/** True where the result says of the field, or of ground in it, that nothing is wrong. */
export function saysNothingWrong({ printed, document }: CaseResult): boolean {
  const words = `${printed} ${document.summary.sentence.toLowerCase()}`;
  return /nothing wrong found|nothing here asks|tested and even on/.test(words);
}

/** Findings that stand, counted or predicted. */
export function troubles({ document }: CaseResult): Finding[] {
  return document.findings.filter(({ basis }) => basis !== "cleared");
}

export function counted({ document }: CaseResult): Finding[] {
  return document.findings.filter(({ basis }) => basis === "counted");
}

/** The contrast of a kind, and a name where several are of it; undefined where there is none. */
export function contrastOf(
  { document }: CaseResult,
  kind: ContrastKind,
  name?: string | RegExp,
): Contrast | undefined {
  return document.summary.contrasts.find(
    (contrast) => contrast.kind === kind && (name === undefined || contrast.name.match(name) !== null),
  );
}

/** Names of the contrasts that were found short. */
export function shortOnes({ document }: CaseResult): string[] {
  return document.summary.contrasts.filter(({ verdict }) => verdict === "short").map(({ name }) => name);
}

/** Probability that a finding gives a cause, 0 where it does not name it. */
export function probabilityOf({ cause, probability, alternatives }: Finding, asked: string): number {
  if (cause === asked) return probability;
  return alternatives.find((other) => other.cause === asked)?.probability ?? 0;
}

/** True where the middle of the finding's ground lies near a place, m from the south-west. */
export function isAbout(finding: Finding, at: readonly [number, number], withinM: number): boolean {
  const [longitude, latitude] = centroidOfGround(finding.where.geometry as MultiPolygon).geometry.coordinates;
  const [x, y] = metresAt([longitude!, latitude!]);
  return Math.hypot(x - at[0], y - at[1]) <= withinM;
}
