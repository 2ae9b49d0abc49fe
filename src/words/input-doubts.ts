/** What was left out or assumed on reading the files: said in terminal, page and report alike. */
import type { DocumentInput } from "../findings/findings-document.ts";
import { groupThousands } from "../quantities/format.ts";

export const INPUT_DOUBTS_TITLE = "Left out or assumed on reading the files";

/** Records of the files that were not used, and what was assumed about them, a sentence each. */
export function inputDoubts(inputs: readonly DocumentInput[]): string[] {
  return inputs.flatMap(doubtsOf);
}

function doubtsOf({ file, records, leftOut, notes }: DocumentInput): string[] {
  const doubts: string[] = [];
  if (leftOut > 0) {
    const reasons = notes.filter((note) => note.effect === "left out" && note.field === null);
    const why = reasons.map((note) => note.reason).join("; ");
    const [some, all] = [leftOut, records].map((count) => groupThousands(String(count)));
    doubts.push(`${file}: ${some} of ${all} records left out${why ? `: ${why}` : ""}`);
  }
  const assumed = notes.filter((note) => note.effect === "assumed");
  return [
    ...doubts,
    ...assumed.map(({ field, reason }) => {
      const column = field === null ? "" : `, column ${field}`;
      return `${file}${column}: assumed: ${reason}`;
    }),
  ];
}
