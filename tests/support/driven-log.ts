/** Logs of a planter driven along given lines, with the truth of what was pass and row unit. */

export interface DrivenLine {
  /** Corners of the way of the bar's middle, local metres. */
  way: [number, number][];
  /** Stretches along the way where the planter is lifted, m from its start. */
  lifted?: [number, number][];
}

export interface DrivenLog {
  x: number[];
  y: number[];
  time: number[];
  rowUnit: number[];
  /** Index of the line each record was planted on. */
  line: number[];
  /** Number of the moment. */
  moment: number[];
  speed: number[];
  headingDeg: number[];
}

export interface DriveSettings {
  rowUnits: number;
  rowSpacingM: number;
  /** Way between two moments, m; each moment takes one second. */
  stepM?: number;
  /** Whole-bar records instead of row-unit records. */
  bar?: boolean;
  /** Seconds lost between two lines. */
  turnSeconds?: number;
}

/** Drives the lines one after the other and logs every moment at which the planter is down. */
export function drive(lines: readonly DrivenLine[], settings: DriveSettings): DrivenLog {
  const { rowUnits, rowSpacingM, stepM = 2, bar = false, turnSeconds = 40 } = settings;
  const log: DrivenLog = {
    x: [],
    y: [],
    time: [],
    rowUnit: [],
    line: [],
    moment: [],
    speed: [],
    headingDeg: [],
  };
  let seconds = 0;
  let moment = 0;
  for (const [number, line] of lines.entries()) {
    let gone = 0;
    for (let corner = 1; corner < line.way.length; corner++) {
      const [ax, ay] = line.way[corner - 1]!;
      const [bx, by] = line.way[corner]!;
      const length = Math.hypot(bx - ax, by - ay);
      const east = (bx - ax) / length;
      const north = (by - ay) / length;
      for (let way = stepM / 2; way < length; way += stepM) {
        seconds++;
        const down = !(line.lifted ?? []).some(([from, to]) => gone + way >= from && gone + way < to);
        if (!down) continue;
        for (let unit = 1; unit <= (bar ? 1 : rowUnits); unit++) {
          const right = bar ? 0 : (unit - (rowUnits + 1) / 2) * rowSpacingM;
          log.x.push(ax + east * way + north * right);
          log.y.push(ay + north * way - east * right);
          log.time.push(1_777_000_000 + seconds);
          log.rowUnit.push(unit);
          log.line.push(number);
          log.moment.push(moment);
          log.speed.push(stepM);
          log.headingDeg.push(((Math.atan2(east, north) * 180) / Math.PI + 360) % 360);
        }
        moment++;
      }
      gone += length;
    }
    seconds += turnSeconds;
  }
  return log;
}

/** Lines side by side, driven up and down (or always up). */
export function upAndDown(count: number, widthM: number, lengthM: number, alwaysUp = false): DrivenLine[] {
  return Array.from({ length: count }, (_, index) => {
    const x = index * widthM;
    const up: [number, number][] = [
      [x, 0],
      [x, lengthM],
    ];
    return { way: index % 2 === 0 || alwaysUp ? up : up.toReversed() };
  });
}
