/** What a field's files lack, and what each would change, told before the run. */
import type { Manifest } from "../manifest/manifest-schema.ts";
import type { RecognitionResult } from "../recognise/recognition.ts";

/** Variables of the log, one of a line enough, and what their lack means. */
const LOG_LACKS: readonly (readonly [readonly string[], string])[] = [
  [["seedingDepth"], "seeding depth: shallow and deep planting cannot be told"],
  [
    ["downForceMargin", "downForce"],
    "down force: too much and too little load cannot be told, and no load is advised",
  ],
  [["population"], "population: seeds dropped against the target cannot be judged"],
  [["singulation", "multiples", "misses"], "singulation, misses or multiples: the meters cannot be judged"],
  [["speed", "distance", "time"], "speed, or times to work it out: planting too fast cannot be told"],
  [
    ["swathWidth", "rowUnit", "section"],
    "swath width: the planted ground is worked out from the spacing of the passes",
  ],
  [["rowUnit", "section"], "row units: one bad row cannot be told from the whole bar"],
  [["time", "pass"], "times or pass numbers: passes are found from the track alone"],
];

const LAYER_LACKS: readonly (readonly [keyof Manifest, string])[] = [
  ["soilZones", "soil map: planter and ground cannot be told apart by soil"],
  ["standCounts", "stand counts: findings are predictions, and the loss is not measured"],
  ["digs", "digs: depth, smear and furrow are not checked in the ground"],
  ["boundary", "boundary: ground that was never planted cannot be told"],
  ["weather", "weather: rain and cold after planting are not weighed"],
];

/**
 * Lines that each name what is missing and what it would change.
 * @param inLog variables of the log, those that are still to be chosen among them; null without a log
 */
export function missingParts(
  manifest: Readonly<Record<string, unknown>>,
  inLog: ReadonlySet<string> | null,
): string[] {
  return [
    ...LOG_LACKS.filter(([variables]) => inLog && !variables.some((one) => inLog.has(one))).map(
      ([, lack]) => lack,
    ),
    ...LAYER_LACKS.filter(([role]) => manifest[role] === undefined).map(([, lack]) => lack),
  ];
}

/** Variables that a layer has, those that are still to be chosen among them. */
export function variablesIn({ found, open }: Pick<RecognitionResult, "found" | "open">): string[] {
  return [...found.keys(), ...open.map(({ variable }) => variable)];
}
