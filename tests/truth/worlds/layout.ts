/** The way of the bar over an invented field: one entry a moment. */

export const ROWS = 16;
export const ROW_SPACING_M = 0.762;
export const BAR_M = ROWS * ROW_SPACING_M;
export const PASS_COUNT = 36;
/** Way between two moments, m. */
export const STEP_M = 6;

export interface Way {
  count: number;
  /** 1..n. */
  pass: Int32Array;
  x: Float64Array;
  y: Float64Array;
  /** Unit vector to the right of travel. */
  rightX: Float64Array;
  rightY: Float64Array;
  seconds: Float64Array;
}

/** Straight passes of 600 m, up and down. */
export function straightWay(): Way {
  return follow(
    () => 600,
    () => 0,
  );
}

/** An L of 600 m and 336 m passes that follow a slow bend. */
export function bentWay(): Way {
  return follow(
    (pass) => (pass <= 20 ? 600 : 336),
    (y) => 22 * Math.sin((2 * Math.PI * y) / 520),
  );
}

function follow(lengthOf: (pass: number) => number, bend: (y: number) => number): Way {
  const list: number[][] = [];
  let seconds = 1_777_000_000;
  for (let pass = 1; pass <= PASS_COUNT; pass++) {
    const moments = Math.floor(lengthOf(pass) / STEP_M);
    const up = pass % 2 === 1;
    for (let k = 0; k < moments; k++) {
      const y = ((up ? k : moments - 1 - k) + 0.5) * STEP_M;
      const slope = bend(y + 0.5) - bend(y - 0.5);
      const length = Math.hypot(slope, 1) * (up ? 1 : -1);
      list.push([pass, (pass - 0.5) * BAR_M + bend(y), y, 1 / length, -slope / length, seconds]);
      seconds += 3;
    }
    seconds += 40;
  }
  const column = (at: number): Float64Array => Float64Array.from(list, (row) => row[at]!);
  return {
    count: list.length,
    pass: Int32Array.from(list, (row) => row[0]!),
    x: column(1),
    y: column(2),
    rightX: column(3),
    rightY: column(4),
    seconds: column(5),
  };
}
