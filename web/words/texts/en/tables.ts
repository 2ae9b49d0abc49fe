/** The tables and charts under the map, and the furrow. */
export const tables = {
  caption: (title: string) => `${title}, mean of each pass in each soil`,
  noFigures: (pass: number, soil: string) => `pass ${pass} has no figures in ${soil}`,
  cell: (pass: string, ends: boolean, soil: string, title: string, mean: string) =>
    `pass ${pass}${ends ? " (end rows)" : ""} in ${soil}: ${title} ${mean}`,
  interval: (level: string, low: string, high: string) => ` (${level} interval ${low} to ${high})`,
  againstPasses: (difference: string, interval: string) =>
    `${difference} against the other passes there${interval}`,
  againstRows: (difference: string, interval: string) =>
    `${difference} against the others at the same moments${interval}`,
  unit: (unit: string, figure: string) => `row unit ${unit}: ${figure}`,
  unitFigure: (unit: string, figure: string) => `row unit ${unit} ${figure}`,
  chart: (title: string, rows: number, middle: string, apart: string) =>
    `${title} of ${rows} row units; the middle one has ${middle}; ${apart === "" ? "none stands apart" : `apart from the others: ${apart}`}`,
  noRows: "The log has no row units to compare: it was recorded for the whole bar.",
  noPasses: "There are no passes to compare within one soil.",
  by: "Passes and soils by",
  asList: "The same as a list",
  listCaption: (title: string) =>
    `${title} of each pass in each soil zone, and how far it lies from the other passes there`,
  area: "Area",
  mean: "Mean",
  spread: "Spread (SD)",
  outside: "Outside target",
  against: "Against other passes",
  levelInterval: (level: string) => `${level} interval`,
  how: "How computed:",
  howMean: "mean",
  howSpread: "spread",
  howOutside: "outside target",
  howAgainst: "against other passes",
  noCounts: "No stand counts and no digs were given: everything here rests on the log only.",
  spot: "Spot",
  standing: "Plants standing",
  ninety: "90 % interval",
  cameUp: "Of the seeds came up",
  late: "Late",
  counted: "Counted",
  showCount: (spot: string) => `Show count ${spot} on the map`,
  dig: "Dig",
  found: "What was found",
  showDig: (dig: string) => `Show dig ${dig} on the map`,
  countsShown: (shown: string, all: string) =>
    `${shown} of the ${all} stand counts are drawn and listed, spread over the file; the findings rest on all of them.`,
  passBefore: "Pass before",
  nextPass: "Next pass",
  passShown: "Pass shown",
  passOption: (pass: string, ends: boolean, named: boolean) =>
    `Pass ${pass}${ends ? ", end rows" : ""}${named ? " (in the finding)" : ""}`,
  closer: "Closer",
  passSaid: (length: string, units: string | null, shaded: boolean, large: string | null) =>
    `${length} long${units ? `, ${units} row units` : ""}${shaded ? ", shaded in the finding" : ""}${large ? `, large seeds: row unit ${large}` : ""}`,
  choosePass: "Choose a pass, or a finding in the ledger, to see its furrow in long section.",
  slider: (pass: string) =>
    `Furrow of pass ${pass} in long section; arrow keys move along it and across the row units`,
  noPlace: "no place chosen",
  wheel: "gauge-wheel",
  load: "load",
};
