/** The ground of the document: planted, judged, planted twice, left out, by measures that must agree. */
import { isBalanceInDoubt } from "../causes/draft-ground.ts";
import { REPEATED } from "../field/repeated-records.ts";
import { hectares } from "../quantities/format.ts";
import type { DocumentParts } from "./document-parts.ts";
import type { GroundPart } from "./findings-document.ts";

/** Null where the balance was not worked out. */
export function groundPart(parts: DocumentParts): GroundPart | null {
  const { balance, passes } = parts;
  if (!balance) return null;
  const area = (squareMetres: number): number => Number(hectares(squareMetres).toFixed(2));
  const { spacing } = passes;
  let sweptM2 = 0;
  for (let record = 0; record < passes.passOf.length; record++) {
    if (passes.passOf[record] !== 0) sweptM2 += passes.distanceM[record]! * passes.widthM[record]!;
  }
  const lengthM = passes.passes.reduce((sum, pass) => sum + pass.lengthM, 0);
  return {
    plantedHa: area(balance.plantedM2),
    overlapHa: area(balance.overlapM2),
    skippedHa: area(balance.skippedM2),
    within: balance.insideBoundary ? "boundary" : "outline",
    judgedHa: area(balance.judgedM2),
    placedShare: placedShare(parts),
    wayTimesWidthHa: area(sweptM2),
    wayTimesSpacingHa: spacing?.isSettled ? area(lengthM * spacing.spacingM) : null,
    widthM: Number(parts.swathWidthM.toFixed(2)),
    spacingM: spacing?.isSettled ? Number(spacing.spacingM.toFixed(2)) : null,
    inDoubt: isBalanceInDoubt(balance),
    replanted: parts.replanted
      ? {
          areaHa: area(parts.replanted.areaM2),
          firstPlanted: parts.replanted.firstPlanted,
          again: parts.replanted.again,
        }
      : null,
    machines: machinesOf(parts),
  };
}

/** Machines with a record on a pass; none where the log names fewer than two. */
function machinesOf({ field, passes }: DocumentParts): string[] {
  const { machine } = field.log.labels;
  if (!machine) return [];
  const met = new Set<number>();
  machine.codes.forEach((code, record) => {
    if (code >= 0 && passes.passOf[record] !== 0) met.add(code);
  });
  return met.size < 2 ? [] : Array.from(met, (code) => machine.labels[code]!);
}

/** Share of the log's records, lifted ones and repeats aside, that have a place on a pass. */
function placedShare({ field, passes }: DocumentParts): number {
  const input = field.inputs.find(({ role }) => role === "plantingLog");
  const { working } = field.log.values;
  let placed = 0;
  let lost = 0;
  for (let record = 0; record < passes.passOf.length; record++) {
    if (passes.passOf[record] !== 0) placed++;
    else if (working?.[record] !== 0) lost++;
  }
  const repeated = input?.notes.find(({ reason }) => reason === REPEATED)?.count ?? 0;
  // A log with a column for each row unit has more records inside than in the file.
  const perRecord = input && input.used > 0 ? passes.passOf.length / input.used : 1;
  lost += Math.max(0, (input?.leftOut ?? 0) - repeated) * perRecord;
  return placed === 0 ? 0 : Number((placed / (placed + lost)).toFixed(4));
}
