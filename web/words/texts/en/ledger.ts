/** Findings, worst money first, and what stands around them. */
export const ledger = {
  title: "Ledger",
  caution:
    "Before you touch a machine, seed or a stand: the operator's manual, the product's label, the insurer's adjuster and local rules come first.",
  cleared: "Looked bad in the log, did no harm",
  fieldNote: "Note on the whole field",
  placeNote: (number: number) => `Note on place ${number}`,
  restsOn: "What it rests on",
  lost: "Lost in all",
  interval: (range: string, level: string) => `${range}, ${level} interval`,
  loadToCome: "The load to carry here is being worked out…",
  cantTell: "can't tell which",
  sure: (how: string) => `${how} sure`,
  logOnly: "from the log only",
  countsOf: (count: number, shown: string) => `${shown} ${count === 1 ? "count" : "counts"}`,
  digsOf: (count: number, shown: string) => `${shown} ${count === 1 ? "dig" : "digs"}`,
  counts: "counts",
  clearedBy: (seen: string) => `cleared by ${seen}`,
  without: "Without a finding",
  onRest: "on the rest of the field",
  onWhole: "on the whole field: what was tested there stands above, what could not be judged below",
  covered: "Ground covered",
  coveredSaid: (twice: string, left: string, within: "boundary" | "planted", doubt: boolean) =>
    `planted twice ${twice}, left out ${left} within the ${within === "boundary" ? "boundary" : "outline of the planted ground"}${doubt ? ": so much that the width of the bar, the positions or the boundary are in doubt" : ""}`,
  notJudged: "Could not be judged",
  tested: "What was tested",
  saveField: "Save field.json",
  saveFieldSaid: "which file is what and how its columns are read; keep it beside the files",
  allUsed: (all: string) => `all ${all} records used`,
  someUsed: (taken: string, all: string, without: string) =>
    `${taken} of ${all} records used, ${without} left out`,
  columnsRead: (unused: number) =>
    `How its columns were read${unused > 0 ? `, and why ${unused} are not used` : ""}`,
  columnAs: (column: string, variable: string, unit: string, reason: string) =>
    `${column} as ${variable}${unit}: ${reason}`,
  columnUnused: (column: string, reason: string) => `${column} is not used: ${reason}`,
  noteRecords: (shown: string) => `${shown} records`,
  firstRecord: (record: string) => `first record ${record}`,
};
