/**
 * The furrow in long section: speed as a thin line, the weight on each row unit's gauge wheels as tone over
 * the surface, seeds where they lie below it, the target depth, and the soils underneath. Lengths and depths
 * are each to scale; how much deeper than long it is drawn stands beside it.
 */
import { useId } from "preact/hooks";
import { formatQuantity, type UnitSystem } from "../../src/report/format.ts";
import type { MapLayers } from "../../src/report/map-layers.ts";
import { convert } from "../../src/units.ts";
import type { Ground } from "../engine/ground.ts";
import { type ColourScale, colourOf, scaleOf } from "../map/colour-scale.ts";
import { cssColour } from "../map/palettes.ts";
import { GroundPattern } from "../map/soil-swatch.tsx";
import { roundTicks, type Scale, scaleLinear } from "./scales.ts";
import type { Moment, Strip } from "./strip-data.ts";

export interface FurrowFrame {
  width: number;
  height: number;
  left: number;
  right: number;
  speedTop: number;
  loadTop: number;
  surface: number;
  bottom: number;
  soilBottom: number;
  x: Scale;
  /** Depth in mm to pixels. */
  y: Scale;
}

/** Deepest depth the section shows, mm, unless seeds lie deeper. */
const USUAL_DEEPEST_MM = 76;

export function furrowFrame(
  strip: Strip,
  ground: Ground,
  width: number,
  height: number,
  small: boolean,
): FurrowFrame {
  const left = small ? 34 : 92;
  const right = small ? 6 : 16;
  const speedTop = small ? 2 : 16;
  const loadTop = small ? 6 : 34;
  const loadHeight = small ? 10 : ground.pieces === "cells" ? 30 : Math.max(30, Math.min(52, height * 0.22));
  const surface = loadTop + loadHeight;
  const soilBottom = height - (small ? 2 : 20);
  const bottom = soilBottom - (small ? 16 : 26);
  let deepest = USUAL_DEEPEST_MM;
  const depths = ground.values.seedingDepth;
  if (depths) {
    for (const moment of strip.moments) {
      for (const i of moment.pieces) if (depths[i]! > deepest) deepest = depths[i]!;
    }
  }
  return {
    width,
    height,
    left,
    right,
    speedTop,
    loadTop,
    surface,
    bottom,
    soilBottom,
    x: scaleLinear([strip.fromM, strip.toM], [left, width - right]),
    y: scaleLinear([0, deepest], [surface, bottom]),
  };
}

export function FurrowDrawing(props: {
  strip: Strip;
  ground: Ground;
  layers: MapLayers;
  frame: FurrowFrame;
  system: UnitSystem;
  small: boolean;
  cursor: number | null;
}) {
  const { strip, ground, layers, frame, system, small, cursor } = props;
  const id = useId().replaceAll(":", "");
  const load = ground.values.downForceMargin;
  return (
    <>
      <Soils id={id} strip={strip} layers={layers} frame={frame} small={small} />
      {strip.marked.map((run) => (
        <rect
          key={run.fromM}
          class="furrow-marked"
          x={frame.x(run.fromM)}
          y={frame.loadTop - 4}
          width={Math.max(frame.x(run.toM) - frame.x(run.fromM), 2)}
          height={frame.bottom - frame.loadTop + 4}
        />
      ))}
      {load && (
        <Loads
          strip={strip}
          ground={ground}
          frame={frame}
          scale={scaleOf("downForceMargin", load, layers.targets)}
        />
      )}
      {!small && <Speed strip={strip} frame={frame} system={system} />}
      <Depths strip={strip} ground={ground} layers={layers} frame={frame} system={system} small={small} />
      {cursor !== null && <Cursor ground={ground} frame={frame} piece={cursor} />}
    </>
  );
}

function Soils(props: { id: string; strip: Strip; layers: MapLayers; frame: FurrowFrame; small: boolean }) {
  const { id, strip, layers, frame, small } = props;
  const textureOf = (zone: number) =>
    layers.zones.features.find((feature) => feature.properties.zone === zone)?.properties.texture ?? null;
  const zones = [...new Set(strip.zones.map((run) => run.zone))];
  return (
    <g>
      <defs>
        {zones.map((zone) => (
          <GroundPattern key={zone} id={`${id}-${zone}`} texture={textureOf(zone)} />
        ))}
      </defs>
      {strip.zones.map((run) => {
        const x = frame.x(run.fromM);
        const width = Math.max(frame.x(run.toM) - x, 1);
        const name = layers.zoneNames[run.zone] ?? "no soil zone";
        return (
          <g key={run.fromM}>
            <rect
              x={x}
              y={frame.surface}
              width={width}
              height={frame.bottom - frame.surface}
              class={run.zone % 2 === 0 ? "furrow-earth" : "furrow-earth other"}
            />
            <rect
              x={x}
              y={frame.bottom}
              width={width}
              height={frame.soilBottom - frame.bottom}
              fill={`url(#${id}-${run.zone})`}
              class="furrow-soil"
            />
            {!small && width > name.length * 7 + 12 && (
              <text x={x + width / 2} y={frame.bottom + 17} class="furrow-soil-name">
                {name}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** One level line of tone a row unit, row unit 1 uppermost; drawn as one path a tone. */
function Loads(props: { strip: Strip; ground: Ground; frame: FurrowFrame; scale: ColourScale }) {
  const { strip, ground, frame, scale } = props;
  const values = ground.values.downForceMargin!;
  const rows = Math.max(...strip.moments.map((moment) => moment.pieces.length));
  const rowHeight = (frame.surface - 3 - frame.loadTop) / rows;
  const paths = new Map<string, string[]>();
  for (const moment of strip.moments) {
    const x = frame.x(moment.alongM - moment.lengthM / 2);
    const width = frame.x(moment.alongM + moment.lengthM / 2) - x + 0.4;
    moment.pieces.forEach((i, place) => {
      if (Number.isNaN(values[i]!)) return;
      const row = rows > 1 && ground.rowUnit[i]! > 0 ? ground.rowUnit[i]! - 1 : place;
      const colour = cssColour(colourOf(scale, stepped(scale, values[i]!)));
      const y = frame.loadTop + (Math.min(row, rows - 1) + 0.5) * rowHeight;
      const list = paths.get(colour) ?? [];
      list.push(`M${x.toFixed(1)} ${y.toFixed(1)}h${width.toFixed(1)}`);
      paths.set(colour, list);
    });
  }
  return (
    <g fill="none" stroke-width={rowHeight + 0.3}>
      {[...paths].map(([colour, parts]) => (
        <path key={colour} d={parts.join("")} stroke={colour} />
      ))}
    </g>
  );
}

/** Nearest of 32 steps of the ramp: few paths, and no step the eye can see. */
function stepped(scale: ColourScale, value: number): number {
  const step = (scale.high - scale.low) / 32 || 1;
  return scale.low + Math.round((value - scale.low) / step) * step;
}

function Speed({ strip, frame, system }: { strip: Strip; frame: FurrowFrame; system: UnitSystem }) {
  const speeds = strip.moments
    .map((moment) => moment.speed)
    .filter((speed): speed is number => speed !== null);
  if (speeds.length === 0) return null;
  const top = Math.max(...speeds) * 1.05;
  const y = scaleLinear([0, top], [frame.loadTop - 5, frame.speedTop - 12]);
  const mean = speeds.reduce((sum, speed) => sum + speed, 0) / speeds.length;
  const points = strip.moments
    .filter((moment): moment is Moment & { speed: number } => moment.speed !== null)
    .map((moment) => `${frame.x(moment.alongM).toFixed(1)} ${y(moment.speed).toFixed(1)}`);
  return (
    <g>
      <path d={`M${points.join("L")}`} class="furrow-speed" />
      <text x={frame.left - 8} y={y(mean) + 4} class="furrow-label end">
        {formatQuantity(mean, "speed", system)}
      </text>
    </g>
  );
}

function Depths(props: {
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

function Cursor({ ground, frame, piece }: { ground: Ground; frame: FurrowFrame; piece: number }) {
  const x = frame.x(ground.alongM[piece]!);
  const depth = ground.values.seedingDepth?.[piece];
  return (
    <g class="furrow-cursor">
      <path d={`M${x} ${frame.loadTop - 6}V${frame.soilBottom}`} />
      {depth !== undefined && !Number.isNaN(depth) && <circle cx={x} cy={frame.y(depth)} r="5" />}
    </g>
  );
}

/** How much larger depth is drawn than length: "depth 120 × length". */
export function stretchSaid(frame: FurrowFrame): string {
  const pixelsPerMetreDown = (frame.y(1000) - frame.y(0)) / 1;
  const pixelsPerMetreAlong = frame.x(1) - frame.x(0);
  const times = pixelsPerMetreDown / pixelsPerMetreAlong;
  return `depth ${times.toFixed(times < 10 ? 1 : 0)} × length`;
}

export function LengthAxis({
  frame,
  strip,
  system,
}: {
  frame: FurrowFrame;
  strip: Strip;
  system: UnitSystem;
}) {
  const unit = system === "farm" ? "ft" : "m";
  const low = convert(strip.fromM, "m", unit);
  const high = convert(strip.toM, "m", unit);
  return (
    <g>
      {roundTicks(low, high, Math.max(3, frame.width / 160))
        .filter((tick) => frame.x(convert(tick, unit, "m")) > frame.left + 60)
        .map((tick) => (
          <text
            key={tick}
            x={frame.x(convert(tick, unit, "m"))}
            y={frame.height - 5}
            class="furrow-label middle"
          >
            {formatQuantity(convert(tick, unit, "m"), "length", system)}
          </text>
        ))}
    </g>
  );
}
