/** What is gone over on a planter before spring: how to check it, its limit, and where the limit comes from. */

export type SetUpPart =
  | "bar"
  | "arms"
  | "gauge-wheels"
  | "depth-stops"
  | "discs"
  | "row-cleaners"
  | "closing-wheels"
  | "meters"
  | "vacuum"
  | "seed-tubes"
  | "drive"
  | "down-force"
  | "load-cells"
  | "tires"
  | "monitor";

export interface SetUpLine {
  part: SetUpPart;
  title: string;
  how: string;
  limit: string;
  source: string;
  /** What is written down of each row unit; null where the planter as a whole is measured. */
  perRow: string | null;
  /** Places on the planter that are measured, where rows are not. */
  places: readonly string[];
}

const practice = "common practice, no source";
const manual = "the operator's manual; no figure of ours";

/** In the order of work: frame, ground engagement, metering, force. */
export const SET_UP_LINES: readonly SetUpLine[] = [
  {
    part: "bar",
    title: "Bar level and at its height",
    how: "Hitched to the tractor that pulls it, lowered to working height on a level floor with the units on blocks of the planting depth: lay a level on the bar, fore and aft and across, at the centre and on both wings.",
    limit: "level, wings as high as the centre; height as the manual says",
    source: "block test: University of Georgia Extension; the rest common practice, no source",
    perRow: null,
    places: ["left wing", "centre", "right wing", "height"],
  },
  {
    part: "tires",
    title: "Tires",
    how: "Measure the pressure cold; compare left with right, and drive tires with each other. Look where tires and tracks run against the rows.",
    limit: "as the manual says for the load, alike on both sides",
    source: manual,
    perRow: null,
    places: ["left", "inner left", "inner right", "right"],
  },
  {
    part: "arms",
    title: "Parallel arms and bushings",
    how: "Planter raised, locked and blocked: take the back of each unit, lift it and let it down, then push it to either side.",
    limit: "play under 2 in up and down, under 1 in sideways",
    source: "Iowa State University Extension",
    perRow: "play, in",
    places: [],
  },
  {
    part: "gauge-wheels",
    title: "Gauge wheels and their arms",
    how: "Turn each wheel by hand and rock it on its arm. Look at the tread beside the disc.",
    limit: "wheel just brushes the disc all round and still turns by hand; arm does not rock",
    source: practice,
    perRow: "sound?",
    places: [],
  },
  {
    part: "depth-stops",
    title: "Depth stops set equal",
    how: "Same notch on every row; gauge wheels on blocks of the planting depth on a level floor: the discs just touch the floor on each row. A depth sensor is checked on the same blocks.",
    limit: "all rows alike, within 1/8 in; prove it in the field by digging",
    source: practice,
    perRow: "depth, in",
    places: [],
  },
  {
    part: "discs",
    title: "Opener discs: size and contact",
    how: "Measure across each disc. Slide a card down between the discs from above and another from below, and measure between them. Look at scrapers and bearings.",
    limit: "15 in discs: change at 14.5 in, others by the manual; discs touch over 1.5 to 2 in",
    source: "14.5 in: Iowa State University Extension; contact: common practice, from memory",
    perRow: "across, in",
    places: [],
  },
  {
    part: "row-cleaners",
    title: "Row cleaners and coulters",
    how: "Turn them, look at bearings and teeth, and set them all alike; they move residue and no soil.",
    limit: "all rows alike, in line with the opener",
    source: practice,
    perRow: "sound?",
    places: [],
  },
  {
    part: "closing-wheels",
    title: "Closing wheels",
    how: "Pull the planter a few feet over firm ground with the units down: the furrow's mark lies in the middle between the wheels. Look at bushings and at the spring notch.",
    limit: "centred on the mark; same notch on every row",
    source: practice,
    perRow: "off centre, in",
    places: [],
  },
  {
    part: "meters",
    title: "Seed meters",
    how: "Run each meter on a test stand with your own seed size, at your rate and speed: disc, seal, brush, singulator.",
    limit: "95 % of seeds singled or better",
    source: "common practice, no source",
    perRow: "singled, %",
    places: [],
  },
  {
    part: "vacuum",
    title: "Vacuum or air pressure",
    how: "Fan at working speed, all meters charged with seed: read the gauge, then the reading at the first and the last meter of each manifold. Look for chafed hoses and leaking seals.",
    limit: "as the manual says for disc and seed; little lost from first to last meter",
    source: manual,
    perRow: null,
    places: ["gauge", "first meter", "last meter left", "last meter right"],
  },
  {
    part: "seed-tubes",
    title: "Seed tubes, guards and seed sensors",
    how: "Look through each tube for wear and ragged ends, measure the guard between the discs, brush the sensor clean.",
    limit: "smooth ends, guard not worn to the tube, sensor counts every seed dropped by hand",
    source: practice,
    perRow: "sound?",
    places: [],
  },
  {
    part: "drive",
    title: "Drive and rate",
    how: "Chains, sprockets, cables or motors turn freely. Catch or count the seeds of a measured distance at the rate set.",
    limit: "within 5 % of the rate set",
    source: "our judgement, not a published figure",
    perRow: "seeds counted",
    places: [],
  },
  {
    part: "down-force",
    title: "Springs, air bags or cylinders",
    how: "Work each unit through its whole travel by the system, standing clear. Look for leaks with a piece of cardboard, never with the hand.",
    limit: "all rows move alike; no leak; force holds at a standstill",
    source: practice,
    perRow: "sound?",
    places: [],
  },
  {
    part: "load-cells",
    title: "Load cells zeroed with the units raised",
    how: "Units raised and hanging free, nothing on the gauge wheels: zero as the manual says and write down what each row reads then. Lower the units and see that each row takes load.",
    limit: "reads 0, within 5 lb, on every row",
    source: "our judgement, not a published figure",
    perRow: "reads, lb",
    places: [],
  },
  {
    part: "monitor",
    title: "Monitor",
    how: "Rows, row spacing, offsets, weight of a row unit, names of fields and seed lots; what the logged depth is: sensed or only set.",
    limit: "as the planter is built",
    source: practice,
    perRow: null,
    places: ["rows", "spacing", "unit weight"],
  },
];
