/** The files of a proof: the result itself, and where to count, as waypoints and as a form to type into. */
import { convert } from "../quantities/units.ts";
import { waypointsGpx } from "../scout/scout-gpx.ts";
import { thousandthAcreRowLengthM } from "../stand/counts.ts";
import type { ProofResult, ProofSpot } from "./proof-result.ts";

/** @param rowSpacingM of the planter, m */
export function proofFiles(result: ProofResult, rowSpacingM: number): { name: string; content: string }[] {
  const files = [{ name: "proof.json", content: `${JSON.stringify(result, null, 1)}\n` }];
  if (result.toCount.length === 0) return files;
  const waypoints = result.toCount.map((spot) => ({ ...spot, description: wordsOf(spot) }));
  return [
    ...files,
    { name: "proof-counts.csv", content: countsForm(result.toCount, rowSpacingM) },
    { name: "proof-counts.gpx", content: waypointsGpx(`${result.field.name}: strips to count`, waypoints) },
  ];
}

function wordsOf({ zone, side }: ProofSpot): string {
  return side === "strip" ? `in the strip of zone ${zone}` : `beside the strip of zone ${zone}`;
}

/** A line a spot; `standCounts` reads it as it is once the plants are filled in. */
function countsForm(spots: readonly ProofSpot[], rowSpacingM: number): string {
  const rowLengthFt = convert(thousandthAcreRowLengthM(rowSpacingM), "m", "ft").toFixed(2);
  const rowSpacingIn = String(Number(convert(rowSpacingM, "m", "in").toFixed(2)));
  const lines = spots.map((spot, i) =>
    [
      String(i + 1),
      spot.longitude.toFixed(7),
      spot.latitude.toFixed(7),
      wordsOf(spot),
      "1",
      rowLengthFt,
      rowSpacingIn,
      "",
      "",
      "",
    ].join(","),
  );
  const head = "spot,lon,lat,why,rows_counted,row_length_ft,row_spacing_in,date,plants,late_plants";
  return [head, ...lines].map((line) => `${line}\r\n`).join("");
}
