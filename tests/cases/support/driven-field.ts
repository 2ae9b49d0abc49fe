/** Invented planting logs of known truth, in any layout, order and clock, as the files a planter would write. */
import { normal, seededRandom } from "../../../src/numerics/random.ts";

export type Layout = "bar" | "section" | "row" | "polygon";

/** One machine's work. */
export interface Machine {
  rows: number;
  /** Passes side by side. */
  passes: number;
  speedMetresPerSecond: number;
}

export interface Plan {
  seed: number;
  layout: Layout;
  machines: Machine[];
  rowSpacingM: number;
  lengthM: number;
  /** Seconds between two moments. */
  periodS: number;
  /** Sections of the bar in a section log; polygons may be of sections, too. */
  sections: number;
  /** Direction the field lies in, degrees clockwise from north. */
  turnedDeg: number;
  /** Ground left out across the middle, m wide; 0 for none. */
  waterwayM: number;
  /** Strips across either end, planted first. */
  headlands: number;
  /** SD of positions, m. */
  noiseM: number;
  /** Logged position behind the middle of the record's stretch, as a share of it: 0.5 the start, -0.5 the end, 0 the middle. */
  pointAt: number;
}

/** One record as driven, in metres in a frame of its own and SI units. */
export interface DrivenRecord {
  x: number;
  y: number;
  headingDeg: number;
  seconds: number;
  machine: number;
  /** Truth: number of the line it was planted on, over all machines. */
  pass: number;
  moment: number;
  /** Row unit or section, 1 the leftmost in the direction of travel; 0 for the whole bar. */
  part: number;
  widthM: number;
  barWidthM: number;
  distanceM: number;
  speed: number;
  depthMm: number;
  seedsPerHa: number;
  marginN: number;
  /** Ground of the record. */
  ring: [number, number][];
}

export interface DrivenField {
  plan: Plan;
  records: DrivenRecord[];
  /** Truth: ground planted, m2. No two records share ground. */
  areaM2: number;
}

interface Line {
  from: [number, number];
  to: [number, number];
  lifted: [number, number] | null;
}

const START = Date.UTC(2026, 3, 24, 13) / 1000;
const TURN_S = 35;

/** Drives a plan. */
export function driveField(plan: Plan): DrivenField {
  const random = seededRandom(plan.seed);
  const records: DrivenRecord[] = [];
  let areaM2 = 0;
  let east = 0;
  let pass = 0;
  for (const [machine, own] of plan.machines.entries()) {
    const bar = own.rows * plan.rowSpacingM;
    let seconds = START + machine * 3.4;
    let moment = 0;
    for (const line of linesOf(plan, own, bar, east)) {
      pass++;
      const way = Math.hypot(line.to[0] - line.from[0], line.to[1] - line.from[1]);
      // Whole steps from end to end: the planter is down over all of its line.
      const step = way / Math.max(1, Math.round(way / (own.speedMetresPerSecond * plan.periodS)));
      const [dx, dy] = [(line.to[0] - line.from[0]) / way, (line.to[1] - line.from[1]) / way];
      const heading = (Math.atan2(dx, dy) * 180) / Math.PI;
      for (let k = 0; (k + 1) * step <= way + 1e-9; k++) {
        seconds += plan.periodS;
        const middle = (k + 0.5) * step;
        if (line.lifted && middle > line.lifted[0] && middle < line.lifted[1]) continue;
        moment++;
        const [noiseX, noiseY] = [plan.noiseM * normal(random), plan.noiseM * normal(random)];
        const parts = plan.layout === "row" ? own.rows : plan.sections;
        const width = bar / parts;
        for (let part = 1; part <= parts; part++) {
          const right = (part - (parts + 1) / 2) * width;
          const at = (along: number, across: number): [number, number] =>
            turned(
              line.from[0] + along * dx + across * dy,
              line.from[1] + along * dy - across * dx,
              plan.turnedDeg,
            );
          const [x, y] = at(middle - plan.pointAt * step, right);
          const depth = 50 + 4 * Math.sin(moment / 9) + 2 * normal(random);
          records.push({
            x: x + noiseX,
            y: y + noiseY,
            headingDeg: (heading + plan.turnedDeg + 720) % 360,
            seconds,
            machine,
            pass,
            moment,
            part: parts > 1 ? part : 0,
            widthM: width,
            barWidthM: bar,
            distanceM: step,
            speed: step / plan.periodS,
            depthMm: depth,
            seedsPerHa: 84_000 + 900 * normal(random),
            marginN: 480 + 40 * normal(random),
            ring: [
              at(middle - step / 2, right - width / 2),
              at(middle + step / 2, right - width / 2),
              at(middle + step / 2, right + width / 2),
              at(middle - step / 2, right + width / 2),
            ],
          });
          areaM2 += width * step;
        }
      }
      seconds += TURN_S;
    }
    east += own.passes * bar;
  }
  return { plan, records, areaM2 };
}

/** Strips across the ends, then up and down between them. */
function linesOf(plan: Plan, machine: Machine, bar: number, east: number): Line[] {
  const lines: Line[] = [];
  const width = machine.passes * bar;
  for (let strip = 0; strip < plan.headlands; strip++) {
    for (const north of [-(strip + 0.5) * bar, plan.lengthM + (strip + 0.5) * bar]) {
      const ends: [number, number][] = [
        [east, north],
        [east + width, north],
      ];
      const [from, to] = lines.length % 2 === 0 ? ends : ends.toReversed();
      lines.push({ from: from!, to: to!, lifted: null });
    }
  }
  for (let pass = 0; pass < machine.passes; pass++) {
    const x = east + (pass + 0.5) * bar;
    const ends: [number, number][] = [
      [x, 0],
      [x, plan.lengthM],
    ];
    const [from, to] = pass % 2 === 0 ? ends : ends.toReversed();
    const middle = plan.lengthM / 2;
    const lifted: [number, number] | null =
      plan.waterwayM > 0 ? [middle - plan.waterwayM / 2, middle + plan.waterwayM / 2] : null;
    lines.push({ from: from!, to: to!, lifted });
  }
  return lines;
}

function turned(x: number, y: number, degrees: number): [number, number] {
  const angle = (degrees * Math.PI) / 180;
  return [x * Math.cos(angle) + y * Math.sin(angle), y * Math.cos(angle) - x * Math.sin(angle)];
}
