/** Patchiness by place, where a loss was taken out that is larger than the true one. */
import { expect, it } from "vitest";
import { normal, seededRandom } from "../../src/numerics/random.ts";
import { patchinessByPlace } from "../../src/stand-model/noise/patchiness.ts";

it("the edge of a loss that was not taken out rightly does not pass for patchiness", () => {
  const random = seededRandom(5);
  const side = 24;
  const stepM = 15;
  const x = Float64Array.from({ length: side * side }, (_, i) => stepM * (i % side));
  const y = Float64Array.from({ length: side * side }, (_, i) => stepM * Math.floor(i / side));
  const far = (i: number): number => Math.hypot(x[i]! - 180, y[i]! - 180);
  const loss = Float64Array.from(x, (_, i) => (far(i) < 45 ? 0.3 : 0));
  const residual = loss.map((taken) => 0.01 * normal(random) + taken / 2);
  const seen = { x, y, zone: new Int32Array(x.length), residual, countingVariance: null };
  const middle = { x: Float64Array.of(180), y: Float64Array.of(180), zone: Int32Array.of(0) };
  const [apart] = patchinessByPlace({ ...seen, loss }, stepM)(middle);
  const [together] = patchinessByPlace(seen, stepM)(middle);
  expect(apart).toBeLessThan(1.3);
  expect(together).toBeGreaterThan(1.2 * apart!);
});
