/** A colour scale with its numbers and, in words, which end is which. */
import { unitLabel } from "../../../src/quantities/format.ts";
import { type ColourScale, scaleOf } from "../../colours/colour-scale.ts";
import { colourAt, cssColour } from "../../colours/palettes.ts";
import { Origin } from "../../controls/origin.tsx";
import * as state from "../../model/state.ts";
import type { ValueName } from "../../protocol/ground.ts";
import { formatNumber, formatTarget } from "../../words/format.ts";
import { texts } from "../../words/texts/texts.ts";
import { targetOf, VARIABLES } from "../../words/variables.ts";

const STEPS = 24;
const WIDTH = 216;

export function Ramp({ variable, scale }: { variable: ValueName; scale: ColourScale }) {
  const words = VARIABLES[variable];
  const system = state.unitSystem.value;
  const number = (value: number) => formatNumber(value, words.kind, system);
  const middle = scale.neutral ? scale.neutral.map(number) : [number((scale.low + scale.high) / 2)];
  return (
    <figure class="ramp">
      {/* On paper the choice of the variable, which names it, is left out. */}
      <p class="on-paper ramp-title">{words.title}</p>
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
      <figcaption class="visually-hidden">{rampNote(scale, targetSaid(variable))}</figcaption>
    </figure>
  );
}

/** The same in words: the technical name, and which colour is which side of the target. */
export function RampWords({ variable }: { variable: ValueName | null }) {
  const values = variable && state.mapGround.value?.values[variable];
  const targets = state.layers.value?.targets;
  if (!variable || !values || !targets) return null;
  const note = rampNote(scaleOf(variable, values, targets), targetSaid(variable));
  return (
    <div class="small ramp-words">
      <Origin of="colours" variable={variable}>
        {VARIABLES[variable].technical}
      </Origin>
      {note && <p>{note}</p>}
    </div>
  );
}

export function targetSaid(variable: ValueName): string | null {
  const targets = state.layers.value?.targets;
  const target = targets ? targetOf(variable, targets) : null;
  return target === null ? null : formatTarget(target, VARIABLES[variable].kind, state.unitSystem.value);
}

export function rampNote(scale: ColourScale, target: string | null): string {
  if (!scale.neutral) return "";
  return target ? texts.value.map.targetSides(target) : texts.value.map.noTarget;
}
