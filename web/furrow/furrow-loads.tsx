/** Above the surface: the weight on each row unit's gauge wheels as tone, and the speed as a thin line. */
import type { UnitSystem } from "../../src/quantities/format.ts";
import { type ColourScale, colourOf } from "../colours/colour-scale.ts";
import { cssColour } from "../colours/palettes.ts";
import type { Ground } from "../protocol/ground.ts";
import { formatQuantity } from "../words/format.ts";
import type { FurrowFrame } from "./furrow-frame.ts";
import { scaleLinear } from "./scales.ts";
import type { Moment, Strip } from "./strip-data.ts";

/** One level line of tone a row unit, row unit 1 uppermost; drawn as one path a tone. */
export function Loads(props: { strip: Strip; ground: Ground; frame: FurrowFrame; scale: ColourScale }) {
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

export function Speed({ strip, frame, system }: { strip: Strip; frame: FurrowFrame; system: UnitSystem }) {
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
