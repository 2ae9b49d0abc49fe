/** The order to walk the spots in: nearest next, then crossings undone (2-opt). */

/** Indices of the points in walking order; starts at the south-west. */
export function walkingOrder(x: readonly number[], y: readonly number[]): number[] {
  const left = new Set(x.keys());
  const order: number[] = [];
  const away = (a: number, b: number): number => Math.hypot(x[a]! - x[b]!, y[a]! - y[b]!);
  while (left.size > 0) {
    const from = order.at(-1);
    let best = -1;
    for (const point of left) {
      const score = (one: number): number => (from === undefined ? x[one]! + y[one]! : away(from, one));
      if (best < 0 || score(point) < score(best)) best = point;
    }
    left.delete(best);
    order.push(best);
  }
  // An open path: its first point stays, its last may change.
  for (let isBetter = true; isBetter; ) {
    isBetter = false;
    for (let i = 1; i < order.length - 1; i++) {
      for (let k = i + 1; k < order.length; k++) {
        const [before, first, last] = [order[i - 1]!, order[i]!, order[k]!];
        const after = order[k + 1];
        const now = away(before, first) + (after === undefined ? 0 : away(last, after));
        const then = away(before, last) + (after === undefined ? 0 : away(first, after));
        if (then < now - 1e-9) {
          order.splice(i, k - i + 1, ...order.slice(i, k + 1).reverse());
          isBetter = true;
        }
      }
    }
  }
  return order;
}
