/** The one thing to do about a finding. Figures come with their units. */

export interface FromTo {
  from: string;
  to: string;
}

export interface Rows {
  /** "3-5, 9". */
  rows: string;
}

export const remedies = {
  moreLoadOnRows: ({ rows, from, to }: FromTo & Rows): string =>
    `Carry more load on the gauge wheels of rows ${rows}: about ${to} instead of ${from}. Look at what feeds them: force setting of the section, weight on it, seed and liquid left in the tanks.`,
  moreLoadOnUnit: ({ rows, from, to }: FromTo & Rows): string =>
    `Row unit ${rows} carries ${from} on its gauge wheels where about ${to} is wanted: look at its spring or cylinder and at its load sensor.`,
  moreLoadOnField: ({ from, to }: FromTo): string =>
    `Carry more load on the gauge wheels over the whole field: about ${to} instead of ${from}, then dig to see that depth holds.`,
  moreLoadHere: ({ from, to }: FromTo): string =>
    `Carry more load on the gauge wheels on this ground: about ${to} instead of ${from}. One setting for the whole field cannot do that; let the force follow the ground, then dig to see that depth holds.`,
  waitOrLessLoad: ({ from, to }: FromTo): string =>
    `This ground was too wet to plant: wait until a ball of soil from seed depth crumbles between the fingers. Where it has to be planted damp, carry about ${to} instead of ${from}.`,
  lessLoadOnDamp: ({ from, to }: FromTo): string =>
    `On ground this damp take load off: about ${to} instead of ${from}, or let it dry first.`,
  lessLoadHere: ({ from, to }: FromTo): string =>
    `Take load off here: about ${to} instead of ${from}, then dig to see that depth holds.`,
  usualStartDry:
    "That load is the usual start for dry ground; the prescription works it out from this field's counts, within its limits.",
  usualStartFit:
    "That load is the usual start for ground that crumbles, neither wet nor dry; the prescription works it out from this field's counts, within its limits.",
  usualStartDamp:
    "That load is the usual start for damp ground; the prescription works it out from this field's counts, within its limits.",
  setDepth: (to: string): string =>
    `Set the depth at ${to}, dig to prove it, and do not trust the notch alone.`,
  repairUnit: ({ rows, from, to }: FromTo & Rows): string =>
    `Look at row unit ${rows}: depth stop, gauge-wheel arms, discs. It reads ${from} where the others read ${to}.`,
  checkDepthControl:
    "Look for what lets the depth jump: worn parallel arms, gauge-wheel arms, residue, speed.",
  slowDown: ({ from, to }: FromTo): string =>
    `Drive this planter at about ${to}, not ${from}: that fast, the units bounce, depth scatters and seeds are skipped.`,
  testMeterOf: (rows: string): string =>
    `Have the meter of row unit ${rows} run on a test stand: disc, seal, brush, vacuum.`,
  testMeters: "Have the meters run on a test stand before spring: discs, seals, brushes, vacuum.",
  setRate: ({ from, to }: FromTo): string =>
    `Check the rate setting: ${from} were dropped where ${to} were wanted.`,
  doubtSensor: (rows: string): string =>
    `Do not trust the sensor of row unit ${rows} yet, nor blame the unit: nothing was counted or dug in its row. Clean the sensor, then make the check.`,
  cleanSensor: (rows: string): string =>
    `Clean or replace the sensor of row unit ${rows} before trusting its figures; what was counted or dug in its row shows no harm.`,
  shutOffRows:
    "Switch rows off over ground that is planted already, or plant the end rows last; twice the plants crowd each other there and the seed is wasted.",
  checkGuidance:
    "Look at the guidance line, at where the bar is let down, and at rows that were switched off or ran empty here.",
  trafficOfRows: "Look at tire and track spacing, pressure and row cleaners before blaming these units.",
  traffic:
    "The end rows are driven over at every turn: look at tire and track pressure, at planting them last, and at the load carried on them, before the planter is changed for the whole field.",
  closeTheFurrow:
    "Look at what shuts the furrow: closing wheels in line with the row, worn or not, how hard they press. Where damp ground will not shut over the seed, wait.",
  clearResidue:
    "Keep residue out of the furrow: look at row cleaners, opener discs and what lies on the ground after harvest. Do not press residue in with more load.",
  plantIntoMoisture:
    "Dig for moisture before planting and set the depth to reach it, as deep as your local extension holds right for the crop; where it lies deeper, wait for rain.",
  crust:
    "Where a beating rain before emergence is followed by heat and wind, look under the crust within days; keeping residue or planting this pocket last helps. Ask your local extension before working a crusted stand.",
  watchTheGround:
    "Nothing in this log explains it. Look at drainage, crust, insects and seed, and at closing, residue and fertiliser, which leave no trace in a log, before you change the planter.",
  digAlongBareStretch:
    "Nothing in the log explains it. Dig along a bare stretch: crust, wet or dry ground, open furrow, residue, insects, seed each leave their own sign.",
  digFirst: "Dig before you change anything: the figures fit more than one cause.",
};
