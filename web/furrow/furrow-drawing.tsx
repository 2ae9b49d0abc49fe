/**
 * The furrow in long section: speed as a thin line, the weight on each row unit's gauge wheels as tone over
 * the surface, seeds where they lie below it, the target depth, and the soils underneath. Lengths and depths
 * are each to scale; how much deeper than long it is drawn stands beside it.
 */
import { useId } from "preact/hooks";
import type { UnitSystem } from "../../src/quantities/format.ts";
import { convert } from "../../src/quantities/units.ts";
import type { MapLayers } from "../../src/report/map-layers.ts";
import { scaleOf } from "../colours/colour-scale.ts";
import { GroundPattern } from "../colours/soil-swatch.tsx";
import type { Ground } from "../protocol/ground.ts";
import { formatQuantity } from "../words/format.ts";
import { type FurrowFrame, stretchSaid } from "./furrow-frame.ts";
import { Loads, Speed } from "./furrow-loads.tsx";
import { Depths } from "./furrow-seeds.tsx";
import { roundTicks } from "./scales.ts";
import type { Strip } from "./strip-data.ts";

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

/** Pixels, at most, of a letter of the small type, and of half a length written in it. */
const LETTER = 6.4;
const HALF_A_NUMBER = 30;

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
        .filter((tick) => {
          // Room for the words at the left, and for half a number at the right.
          const x = frame.x(convert(tick, unit, "m"));
          return x > stretchSaid(frame).length * LETTER + HALF_A_NUMBER && x < frame.width - 26;
        })
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
