/** A colour scale with its numbers and, in words, which end is which. */
import { unitLabel } from "../../src/report/format.ts";
import { Origin } from "../app/origin.tsx";
import * as state from "../app/state.ts";
import type { ValueName } from "../engine/ground.ts";
import { formatNumber, formatTarget } from "../words/format.ts";
import { targetOf, VARIABLES } from "../words/variables.ts";
import type { ColourScale } from "./colour-scale.ts";
import { colourAt, cssColour } from "./palettes.ts";

const STEPS = 24;
const WIDTH = 216;

export function Ramp({ variable, scale }: { variable: ValueName; scale: ColourScale }) {
  const targets = state.layers.value?.targets;
  if (!targets) return null;
  const words = VARIABLES[variable];
  const system = state.unitSystem.value;
  const target = targetOf(variable, targets);
  const number = (value: number) => formatNumber(value, words.kind, system);
  const middle = scale.neutral ? scale.neutral.map(number) : [number((scale.low + scale.high) / 2)];
  return (
    <figure class="ramp">
      <svg
        width={WIDTH}
        height="12"
        viewBox={`0 0 ${WIDTH} 12`}
        preserveAspectRatio="none"
        aria-hidden="true"
      >
        {Array.from({ length: STEPS }, (_, i) => (
          <rect
            key={i}
            x={(i * WIDTH) / STEPS}
            width={WIDTH / STEPS + 0.5}
            height="12"
            fill={cssColour(colourAt(scale.palette, i / (STEPS - 1)))}
          />
        ))}
      </svg>
      <div class="ramp-numbers">
        <span>{number(scale.low)}</span>
        <span>{[...new Set(middle)].join("–")}</span>
        <span>
          {number(scale.high)} {unitLabel(words.kind, system)}
        </span>
      </div>
      <figcaption class="small">
        <Origin of="colours" variable={variable}>
          {words.technical}
        </Origin>
        <span class="ramp-note">
          {rampNote(scale, target === null ? null : formatTarget(target, words.kind, system))}
        </span>
      </figcaption>
    </figure>
  );
}

function rampNote(scale: ColourScale, target: string | null): string {
  if (!scale.neutral) return "";
  return target ? `Target ${target}: orange below, purple above` : "No target set: orange low, purple high";
}
