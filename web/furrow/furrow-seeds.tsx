/** Below the surface: depth lines, the target, and the seeds where they lie. */
import type { UnitSystem } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import type { MapLayers } from "../../src/report/map-layers.ts";
import type { Ground } from "../protocol/ground.ts";
import type { FurrowFrame } from "./furrow-frame.ts";
import { roundTicks } from "./scales.ts";
import type { Strip } from "./strip-data.ts";

export function Depths(props: {
  strip: Strip;
  ground: Ground;
  layers: MapLayers;
  frame: FurrowFrame;
  system: UnitSystem;
  small: boolean;
}) {
  const { strip, ground, layers, frame, system, small } = props;
  const depths = ground.values.seedingDepth;
  const unit = system === "farm" ? "in" : "mm";
  const deepest = convert(frame.y.invert(frame.bottom), "mm", unit);
  const ticks = roundTicks(0, deepest, small ? 2 : 4);
  const target = layers.targets.seedingDepthMm;
  return (
    <g>
      {ticks.map((tick) => {
        const y = frame.y(convert(tick, unit, "mm"));
        return (
          <g key={tick}>
            {tick > 0 && <path d={`M${frame.left} ${y}H${frame.width - frame.right}`} class="furrow-grid" />}
            <text x={frame.left - 6} y={y + 4} class="furrow-label end">
              {tick === 0 && !small ? "surface" : `${tick} ${unit}`}
            </text>
          </g>
        );
      })}
      {depths && <Seeds strip={strip} ground={ground} depths={depths} frame={frame} small={small} />}
      {target !== null && (
        <path d={`M${frame.left} ${frame.y(target)}H${frame.width - frame.right}`} class="furrow-target" />
      )}
      <path d={`M${frame.left} ${frame.surface}H${frame.width - frame.right}`} class="furrow-surface" />
      {!depths && (
        <text
          x={(frame.left + frame.width) / 2}
          y={(frame.surface + frame.bottom) / 2}
          class="furrow-soil-name"
        >
          the log has no seed depth
        </text>
      )}
    </g>
  );
}

/** Seeds as dots: one path of round-ended points for all row units, another for the ones the finding names. */
function Seeds(props: {
  strip: Strip;
  ground: Ground;
  depths: Float32Array;
  frame: FurrowFrame;
  small: boolean;
}) {
  const { strip, ground, depths, frame, small } = props;
  const ordinary: string[] = [];
  const named: string[] = [];
  const whiskers: string[] = [];
  const sd = ground.values.depthSd;
  for (const moment of strip.moments) {
    const x = frame.x(moment.alongM);
    const step = frame.x(moment.alongM + moment.lengthM) - x;
    moment.pieces.forEach((i, place) => {
      const depth = depths[i]!;
      if (Number.isNaN(depth)) return;
      const spread = moment.pieces.length > 1 ? (place / (moment.pieces.length - 1) - 0.5) * step * 0.8 : 0;
      const point = `M${(x + spread).toFixed(1)} ${frame.y(Math.max(depth, 0)).toFixed(1)}h0`;
      (strip.rowUnits.includes(ground.rowUnit[i]!) ? named : ordinary).push(point);
      if (sd && !Number.isNaN(sd[i]!)) {
        const high = frame.y(Math.max(depth - sd[i]!, 0)).toFixed(1);
        whiskers.push(`M${x.toFixed(1)} ${high}V${frame.y(depth + sd[i]!).toFixed(1)}`);
      }
    });
  }
  const size = ground.pieces === "cells" ? 4 : small ? 1.8 : 2.4;
  return (
    <g>
      <path d={whiskers.join("")} class="furrow-whiskers" />
      <path d={ordinary.join("")} class="furrow-seeds" stroke-width={size} />
      <path d={named.join("")} class="furrow-seeds named" stroke-width={size + 1.8} />
    </g>
  );
}
