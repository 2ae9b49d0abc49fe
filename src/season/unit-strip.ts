/** One row unit over the season as a strip of dots, a field each, in order of planting. */

import { UNIT_BANDS } from "./field/unit-variables.ts";
import type { UnitEffect } from "./unit-effects.ts";

const WIDTH = 640;
const HEIGHT = 84;
const EDGE = 10;

export function unitStrip({ variable, fields, rowUnit }: UnitEffect): string {
  const { fromBar } = UNIT_BANDS[variable];
  const largest = Math.max(1.3 * fromBar, ...fields.map(({ departure }) => Math.abs(departure)));
  const y = (value: number): number => HEIGHT / 2 - (value / largest) * (HEIGHT / 2 - EDGE);
  const step = (WIDTH - 2 * EDGE) / Math.max(1, fields.length - 1);
  const dots = fields.map(({ departure, standsOut }, k) => {
    const x = fields.length === 1 ? WIDTH / 2 : EDGE + k * step;
    return `<circle${standsOut ? ' class="out"' : ""} cx="${x.toFixed(1)}" cy="${y(departure).toFixed(1)}" r="4"/>`;
  });
  const top = y(fromBar);
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="Row unit ${rowUnit}, field by field"><rect class="slack" x="0" y="${top.toFixed(1)}" width="${WIDTH}" height="${(HEIGHT - 2 * top).toFixed(1)}"/><line class="middle" x1="0" x2="${WIDTH}" y1="${HEIGHT / 2}" y2="${HEIGHT / 2}"/>${dots.join("")}</svg>`;
}
