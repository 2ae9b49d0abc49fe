/** Straight scales and round ticks for the drawings. */
export interface Scale {
  (value: number): number;
  invert(place: number): number;
}

export function scaleLinear(domain: [number, number], range: [number, number]): Scale {
  const span = domain[1] - domain[0] || 1;
  const slope = (range[1] - range[0]) / span;
  const scale = (value: number) => range[0] + (value - domain[0]) * slope;
  return Object.assign(scale, { invert: (place: number) => domain[0] + (place - range[0]) / slope });
}

/** Round values (1, 2 or 5 times a power of ten apart) from low to high, at most about `wanted` of them. */
export function roundTicks(low: number, high: number, wanted: number): number[] {
  const span = high - low;
  // Values that differ by rounding alone have no round figures between them.
  if (!(span > 1e-9 * Math.max(Math.abs(low), Math.abs(high)))) return [low];
  const rough = span / Math.max(wanted, 1);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((size) => size >= rough)!;
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++) {
    ticks.push(Number((k * step).toPrecision(12)));
  }
  return ticks;
}
