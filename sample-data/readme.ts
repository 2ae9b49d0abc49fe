/** The README that lies beside the files of the invented field. */
import { areaHa, FIELD_SHAPE, GROUND } from "./ground.ts";
import {
  DOWN_FORCE_SETTING_LBF,
  DUSTY_SENSOR_ROW,
  type GroundNumbers,
  ORDINARY_GROUND,
  PLACES,
  SHALLOW_ROW,
  SOIL_TEXTURES,
} from "./scenario.ts";

const percent = (share: number): string => `${Number((share * 100).toFixed(1))} %`;
const thousands = (count: number): string => count.toLocaleString("en-US");
const hectares = (shape: Parameters<typeof areaHa>[0]): string => `${areaHa(shape).toFixed(1)} ha`;

function numbersOf(ground: GroundNumbers): string[] {
  return [
    `${ground.depthIn} in (SD ${ground.depthSdIn})`,
    `${ground.speedMph} mph`,
    percent(ground.missShare),
    thousands(ground.plantsPerAcre),
    percent(ground.lateShare),
  ];
}

/** A Markdown table, its columns padded to one width; the first row is the heading. */
function table(rows: string[][]): string {
  const heading = rows[0] as string[];
  const widths = heading.map((_, column) => Math.max(...rows.map((row) => (row[column] as string).length)));
  const lines = rows.map(
    (row) => `| ${row.map((cell, column) => cell.padEnd(widths[column]!)).join(" | ")} |`,
  );
  const rule = `| ${widths.map((width) => "-".repeat(width)).join(" | ")} |`;
  return [lines[0], rule, ...lines.slice(1)].join("\n");
}

const FILES = table([
  ["file", "what is in it"],
  ["`field.json`", "the manifest: which file is what, the planter, targets and prices"],
  [
    "`planting.zip`",
    "planting log, zipped point shapefile in WGS 84 degrees: a record for each row unit every 2 s",
  ],
  ["`soil.geojson`", "soil map, attribute `texture`"],
  ["`counts.geojson`", "120 stand counts of 22 May: 108 by drone (4 rows x 6 m), 12 by hand (1 row x 25 m)"],
  ["`digs.csv`", "16 spots where seed was dug"],
  ["`boundary.geojson`", "edge of the field"],
  ["`weather.csv`", "daily rain, air and soil temperature, 10 April to 31 May"],
]);

const PUT_IN = table([
  ["place", "area", "gauge-wheel load", "depth", "speed", "misses", "plants", "late"],
  ["ordinary ground", "the rest", "115 lbf", ...numbersOf(ORDINARY_GROUND)],
  [
    "hard knoll in the clay loam",
    hectares(GROUND.places.knoll),
    "30 lbf, none 16 % of the time",
    ...numbersOf(PLACES.knoll),
  ],
  [
    "swale planted on the second day",
    hectares(GROUND.places.swaleDayTwo),
    "260 lbf",
    ...numbersOf(PLACES.swaleDayTwo),
  ],
  [
    "four short passes near the end",
    hectares(GROUND.places.fastPasses),
    "85 lbf, bouncing",
    ...numbersOf(PLACES.fastPasses),
  ],
  ["low pocket in the silt loam", hectares(GROUND.places.pocket), "115 lbf", ...numbersOf(PLACES.pocket)],
]);

/** README text (Markdown) for the files made with one seed. */
export function makeReadme(seed: number): string {
  const zones = SOIL_TEXTURES.map((texture) => `${texture} ${hectares(GROUND.zones[texture])}`).join(", ");
  return `# Larkspur Draw: an invented field

Nothing here was measured. The field, its soil, its weather, the planting and the plants are invented, made by
the script \`sample-data/make.ts\` with seed ${seed}:

\`\`\`
npm run build:command
node dist/sample-data/make.js --seed ${seed} --out sample-data/larkspur-draw
\`\`\`

The same seed gives the same files; another seed gives other noise on the same ground. The position on the
globe is arbitrary and stands for no real field; any likeness to a real place or farm is chance. The numbers
were made up to be plausible and support no agronomic claim.

## The files

${FILES}

Columns of the planting log: \`TIME\` (UTC), \`ROW_UNIT\` (1 is the leftmost in the direction of travel),
\`SPEED_MPH\`, \`HEADING\` (degrees from north), \`DEPTH_IN\` (sensed), \`FORCE_LBF\` (the hydraulic force),
\`MARGIN_LBF\` (load left on the gauge wheels), \`SINGUL_PCT\`, \`MISS_PCT\`, \`MULT_PCT\`, \`POP_AC\` (seeds per
acre). There is no pass number; the turns are not logged.

## The story

${hectares(FIELD_SHAPE)} of corn after soybean, cultivated; ${zones}. A bar of 24 row units at 30 in, filled from the
centre, depth and load sensed on every row unit, one hydraulic setting (${DOWN_FORCE_SETTING_LBF} lbf) left all day; target
2.0 in, 34,000 seeds/ac, 5.3 mph. On 24 April it was dry and 60 % of the field was planted, the end rows
first. On the 25th it rained 9 mm; the rest was planted on the 27th, when the swale was still tacky. On 3 May
31 mm fell in 40 minutes, and four hot, windy days followed.

## What was put in

So that an answer can be checked; look away if you want to find it yourself. Depth is that of an ordinary row
unit, as sensed; plants are per acre; late plants are two leaves behind on the knoll and in the swale, one
elsewhere.

${PUT_IN}

- Hard knoll: the gauge wheels ran light, the row units rode up.
- Swale: the same force on soft, wet ground pressed too hard and smeared the sidewall (4 of 4 digs). The part
  of the swale planted on the first day is ordinary.
- Four short passes: driven too fast.
- Low pocket: the log is clean in every column; the soil crusted after the downpour and the seed leafed out
  underground. No planter did that.
- Row unit ${SHALLOW_ROW.rowUnit}: its depth stop slipped, ${SHALLOW_ROW.shallowerIn} in shallow in every pass, load as elsewhere;
  ${thousands(SHALLOW_ROW.plantsPerAcre)} plants/ac in its row on ordinary ground, and late plants ${Math.round(SHALLOW_ROW.lateShareAdded * 100)} points more.
- Row unit ${DUSTY_SENSOR_ROW.rowUnit} is a decoy: on the first day dust on its seed sensor hid seeds, population reads ${percent(1 - DUSTY_SENSOR_ROW.populationFactor)} low
  and misses ${Math.round(DUSTY_SENSOR_ROW.missShareAdded * 100)} points high. Its plants and digs are as everywhere; it was wiped before the second day.
- Row units differ a little by nature (SD 0.04 in and 6 lbf), soils too (within 10 lbf and 1.5 % of the stand).
`;
}
