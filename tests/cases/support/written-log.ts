/** Driven fields written down as the log of a monitor: names, units, clocks and orders of every kind. */
import { utmFrame } from "../../../src/ingest/crs/crs.ts";
import { seededRandom } from "../../../src/numerics/random.ts";
import type { DrivenField, DrivenRecord } from "./driven-field.ts";

export type Clock =
  | "iso"
  | "seconds since 1970"
  | "time of day"
  | "coarse"
  | "set back"
  | "one time"
  | "day"
  | "none";
export type Order =
  | "as driven"
  | "interleaved"
  | "pieces"
  | "shuffled"
  | "part after part"
  | "machine after machine";

export interface Style {
  clock: Clock;
  order: Order;
  names: keyof typeof NAMES;
  /** Unit of lengths across and along the way. */
  lengthUnit: "ft" | "m" | "in";
  /** Whether the unit stands in the name of the column. */
  unitInName: boolean;
  width: "record" | "bar" | "none";
  distance: boolean;
  heading: boolean;
  passNumber: "none" | "honest" | "restarting";
  machineName: boolean;
  seed: number;
  /** Changes of a polygon's corners, local metres. */
  ring?: (ring: [number, number][], record: DrivenRecord, index: number) => [number, number][];
}

/** Names a column may have; `{u}` stands for the unit, where it is in the name. */
const NAMES = {
  plain: {
    time: "Time", speed: "Speed", distance: "Distance", width: "Swath Width", heading: "Heading",
    depth: "Depth", rate: "Population", margin: "Downforce Margin", pass: "Pass", row: "Row Unit", section: "Section", machine: "Machine",
  },
  capitals: {
    time: "DATE_TIME", speed: "SPEED", distance: "DISTANCE", width: "SWATH_WIDTH", heading: "HEADING",
    depth: "SEED_DEPTH", rate: "SEED_RATE", margin: "DF_MARGIN", pass: "PASS_NUM", row: "ROW_UNIT", section: "SECTION", machine: "MACHINE",
  },
  short: {
    time: "Date_Time", speed: "Speed", distance: "Distance", width: "Swth_Wdth", heading: "Track_deg",
    depth: "Depth", rate: "Population", margin: "DF_Margin", pass: "Pass_Num", row: "Row", section: "Section", machine: "Machine",
  },
} as const; // biome-ignore format: one table

const PER_METRE = { ft: 1 / 0.3048, m: 1, in: 1 / 0.0254 } as const;
const ORIGIN = utmFrame(-93.6, 42);

export interface WrittenLog {
  /** GeoJSON text. */
  text: string;
  /** The driven record behind each record of the file. */
  behind: DrivenRecord[];
  /** Truth: column and unit of each variable that the log has. */
  truth: Record<string, { column: string; unit: string | null }>;
}

/** Writes a log. */
export function writeLog(field: DrivenField, style: Style): WrittenLog {
  const { plan } = field;
  const behind = inOrder(field.records, style);
  const names = NAMES[style.names];
  const named = (name: string, unit: string): string => (style.unitInName ? `${name}_${unit}` : name);
  const perUnit = PER_METRE[style.lengthUnit];
  const truth: WrittenLog["truth"] = {};
  const columns: { name: string; value: (record: DrivenRecord, index: number) => number | string }[] = [];
  const add = (
    variable: string,
    name: string,
    unit: string | null,
    value: (record: DrivenRecord, index: number) => number | string,
  ): void => {
    truth[variable] = { column: name, unit };
    columns.push({ name, value });
  };
  const last = field.records.reduce((most, { seconds }) => Math.max(most, seconds), 0);
  const first = field.records.reduce(
    (least, { seconds }) => Math.min(least, seconds),
    Number.POSITIVE_INFINITY,
  );
  if (style.clock !== "none")
    add("time", names.time, null, (record) => timeText(record, style.clock, first, last));
  add("speed", named(names.speed, "mph"), "mi/h", ({ speed }) => round(speed / 0.44704, 2));
  if (style.distance) {
    add("distance", named(names.distance, style.lengthUnit), style.lengthUnit, ({ distanceM }) =>
      round(distanceM * perUnit, 3),
    );
  }
  if (style.width !== "none") {
    add("swathWidth", named(names.width, style.lengthUnit), style.lengthUnit, ({ widthM, barWidthM }) =>
      round((style.width === "bar" ? barWidthM : widthM) * perUnit, 3),
    );
  }
  if (style.heading) add("heading", names.heading, "deg", ({ headingDeg }) => round(headingDeg, 1));
  add("seedingDepth", `${names.depth}_in`, "in", ({ depthMm }) => round(depthMm / 25.4, 2));
  add("population", names.rate, "seeds/ac", ({ seedsPerHa }) => Math.round(seedsPerHa * 0.40468564224));
  add("downForceMargin", `${names.margin}_lbf`, "lbf", ({ marginN }) => round(marginN / 4.4482216152605, 1));
  if (style.passNumber !== "none") {
    add("pass", names.pass, null, ({ pass }) =>
      style.passNumber === "restarting" ? 1 + ((pass - 1) % 12) : pass,
    );
  }
  if (plan.layout === "row") add("rowUnit", names.row, null, ({ part }) => part);
  else if (plan.sections > 1 && plan.layout === "section")
    add("section", names.section, null, ({ part }) => part);
  if (style.machineName)
    add("machine", names.machine, null, ({ machine }) => ["North planter", "South planter"][machine]!);
  const lonLat = ([x, y]: readonly [number, number]): number[] =>
    ORIGIN.toLonLat(x, y).map((degrees) => round(degrees, 8));
  const features = behind.map((record, index) => {
    const ring = style.ring ? style.ring(record.ring, record, index) : record.ring;
    return {
      type: "Feature",
      geometry:
        plan.layout === "polygon"
          ? { type: "Polygon", coordinates: [[...ring, ring[0]!].map(lonLat)] }
          : { type: "Point", coordinates: lonLat([record.x, record.y]) },
      properties: Object.fromEntries(columns.map(({ name, value }) => [name, value(record, index)])),
    };
  });
  return { text: JSON.stringify({ type: "FeatureCollection", features }), behind, truth };
}

function inOrder(records: readonly DrivenRecord[], { order, seed }: Style): DrivenRecord[] {
  const byTime = (a: DrivenRecord, b: DrivenRecord): number =>
    a.seconds - b.seconds || a.machine - b.machine || a.part - b.part;
  const list = [...records];
  if (order === "as driven" || order === "interleaved") return list.sort(byTime);
  if (order === "machine after machine") return list.sort((a, b) => a.machine - b.machine || byTime(a, b));
  if (order === "part after part")
    return list.sort((a, b) => a.machine - b.machine || a.part - b.part || a.seconds - b.seconds);
  const random = seededRandom(seed);
  if (order === "shuffled") {
    list.sort(byTime);
    for (let k = list.length - 1; k > 0; k--) {
      const other = Math.floor(random() * (k + 1));
      [list[k], list[other]] = [list[other]!, list[k]!];
    }
    return list;
  }
  // Pieces of the work, the last ones first.
  list.sort(byTime);
  const pieces = 4;
  const passes = [...new Set(list.map(({ pass }) => pass))];
  const pieceOf = new Map(passes.map((pass, index) => [pass, Math.floor((index / passes.length) * pieces)]));
  return list.sort((a, b) => pieceOf.get(b.pass)! - pieceOf.get(a.pass)! || byTime(a, b));
}

function timeText({ seconds }: DrivenRecord, clock: Clock, first: number, last: number): string | number {
  const iso = (at: number): string => new Date(Math.round(at * 1000)).toISOString();
  switch (clock) {
    case "seconds since 1970":
      return round(seconds, 2);
    case "time of day":
      return iso(seconds).slice(11, 22);
    case "coarse":
      return iso(Math.floor(seconds)).slice(0, 19);
    case "set back":
      return iso(seconds > first + 0.55 * (last - first) ? seconds - 3600 : seconds);
    case "one time":
      return iso(first);
    case "day":
      return iso(first).slice(0, 10);
    default:
      return iso(seconds);
  }
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
