/**
 * How each kind of figure on the page was computed: the formula in words, what goes into it, and whose method it
 * is. The long form of each stands in docs/methods.md, docs/comparison.md and docs/agronomy.md.
 */
export interface Origin {
  title: string;
  formula: string;
  from: string;
  source: string;
}

const OURS = "Our judgement: not published anywhere.";
const COMPARED =
  "Pass against pass within one soil zone, unit against unit at the same moments; autocorrelation along the pass cuts the number of records to an effective number, and passes count as clusters. docs/comparison.md has formulas and sources.";

const origin = (title: string, formula: string, from: string, source: string): Origin => ({
  title,
  formula,
  from,
  source,
});

export const ORIGINS = {
  money: origin(
    "Money lost in a place",
    "Area of the place x expected yield x share of the yield lost there x price of the grain.",
    "The outline on the map; expected yield and price of field.json; the share of yield lost, which stands in the same list.",
    "Arithmetic. The range is a 90 % interval by repeated seeded drawing from the interval of the stand and the range of the published studies.",
  ),
  moneyTotal: origin(
    "Money lost in all",
    "The sum over all places. Ground that lies in two places is charged once.",
    "The money of each place, and where their outlines overlap.",
    "Arithmetic; the range is a 90 % interval drawn for all places together.",
  ),
  probability: origin(
    "How sure the cause is",
    "Three accounts of the missing plants are weighed: planting explains them, something else does, or both do. Each one's prior weight (0.55, 0.30, 0.15) is multiplied by how well it fits the counts, then by how often what was dug is seen under it. A cause is named from 70 % on.",
    "What the log predicts for each cause, the counts and digs in the place.",
    `Bayes' rule. The weights: ${OURS.toLowerCase()}`,
  ),
  area: origin(
    "Area",
    "Area inside the outline on the map: whole pieces of the passes, 12 m long and as wide as the bar.",
    "Positions of the log.",
    "Plane geometry in the field's UTM zone.",
  ),
  plantsShort: origin(
    "Plants short",
    "What sound spots around let one expect there, minus what stands there, as a share of it.",
    "Stand counts; the target population; soil zones. Without counts, what the log predicts.",
    "Universal block kriging (Cressie 1993, chapter 3); its standard error is widened by 1.2, our judgement.",
  ),
  yieldLost: origin(
    "Share of the yield lost",
    "Yield at the stand that is there against yield at the stand that could be, by planting date; late plants cost besides. Losses multiply, a missing plant is paid for once.",
    "Plants short, late plants, day of planting.",
    "Nafziger 1994, J. Prod. Agric. 7:59-62, as printed by Purdue University 2012, and the studies of late plants listed in docs/agronomy.md.",
  ),
  chance: origin(
    "Chance of such a group in a field with nothing wrong",
    "The score of the place is compared with the largest score anywhere in 999 simulated fields that have the same soils and patchiness but nothing wrong.",
    "Stand counts and soil zones; the simulation is seeded by the counts, so that it comes out the same each time.",
    "Score test (Rao 1948), scan statistic (Kulldorff 1997), largest of many (Westfall & Young 1993).",
  ),
  here: origin(
    "Here",
    "Mean over the records inside the outline (the load at its lightest: their 10th percentile, type 7; spread along the row: root mean square of half the squared steps between records of one row unit).",
    "Records of the log, counts and digs inside the outline.",
    "Hyndman & Fan 1996 for the percentile; von Neumann et al. 1941 for the spread along the row.",
  ),
  elsewhere: origin(
    "Elsewhere",
    "The same figure over the ground where planting was ordinary.",
    "Records, counts and digs outside every place found.",
    "Arithmetic; percentiles and spreads as for the figure here.",
  ),
  target: origin(
    "Target",
    "What was aimed at; two numbers are the lowest and the highest wanted.",
    "The targets of field.json; where it has none, the default the finding's notes name.",
    "The user; defaults with their sources stand in docs/agronomy.md.",
  ),
  nothingFound: origin(
    "Without a finding",
    "Area of the field minus the area of all places found, overlaps counted once.",
    "The boundary, else the outline of the planted ground; the places.",
    "Plane geometry in the field's UTM zone.",
  ),
  groundCovered: origin(
    "Ground covered",
    "Each record covers its length along the pass times its width. Ground covered twice or more is planted twice; ground inside the outline covered by none is left out.",
    "Positions, width and order of the log; the boundary where there is one.",
    "Plane geometry on a fine grid; docs/comparison.md.",
  ),
  mean: origin(
    "Mean",
    "Sum of the readings divided by their number.",
    "All records of this pass, row unit or soil that have a value.",
    "Arithmetic.",
  ),
  spread: origin(
    "Spread (SD)",
    "Square root of the mean squared distance of the readings from their mean (n - 1).",
    "All records of this pass in this soil that have a value.",
    "Standard deviation.",
  ),
  outsideTarget: origin(
    "Outside target",
    "Share of the readings below the lowest or above the highest wanted value.",
    "The records, and the targets of field.json.",
    "Arithmetic.",
  ),
  difference: origin(
    "Difference and its interval",
    "Mean here minus the mean of the others that can be compared, with the interval in which the true difference lies in 95 of 100 cases.",
    "Records of the log.",
    COMPARED,
  ),
  ordinarySpread: origin(
    "Ordinary spread of the row units",
    "From the 5th to the 95th percentile (type 7) of the row units that do not stand apart.",
    "The means of the row units.",
    "Hyndman & Fan 1996; that nine tenths count as ordinary is our judgement.",
  ),
  standCount: origin(
    "Plants standing",
    "Plants counted divided by the length of row times the row spacing, or by the area of the hoop.",
    "The counts file.",
    "Geometry: a thousandth of an acre is 17 ft 5 in of a 30 in row. The interval adds the chance of counting few plants and the error of position.",
  ),
  late: origin(
    "Late",
    "Late plants as a share of the plants standing: as the file gives it, or from plants flagged by the day they came up.",
    "The counts file.",
    "As counted; what late plants cost stands in docs/agronomy.md.",
  ),
  colours: origin(
    "Colours of the passes",
    "The ramp ends at the 2nd and the 98th percentile of all records; beyond them the end colour holds. Around a target the pale middle is the target.",
    "The records of the log on the page, pieces of 12 m in the report.",
    "Percentiles; the ends are our judgement, for drawing only.",
  ),
} as const satisfies Record<string, Origin>;

export type OriginName = keyof typeof ORIGINS;
