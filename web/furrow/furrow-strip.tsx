/** The furrow strip with its pass chooser; the pointer and the arrow keys move a marker along it and on the map. */
import { computed, signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { runsOf } from "../../src/words/finding-words.ts";
import * as state from "../model/state.ts";
import { formatQuantity, groupThousands } from "../words/format.ts";
import { groundReadout } from "../words/readout.ts";
import { texts } from "../words/texts/texts.ts";
import { FurrowDrawing, LengthAxis } from "./furrow-drawing.tsx";
import { type FurrowFrame, furrowFrame, stretchSaid } from "./furrow-frame.ts";
import { aroundMarked, type Moment, type Strip, stripOf } from "./strip-data.ts";

const wholePass = computed<Strip | null>(() => {
  const ground = state.ground.value;
  const pass = state.selectedPass.value;
  return ground && pass !== null ? stripOf(ground, pass, state.selectedFinding.value) : null;
});

/** Only the stretch in the finding and some ground around it, instead of the whole pass. */
const closer = signal(false);

const strip = computed<Strip | null>(() =>
  closer.value && wholePass.value ? aroundMarked(wholePass.value) : wholePass.value,
);

/** @param chooser with the pass chooser above it. */
export function FurrowStrip({ chooser = false }: { chooser?: boolean }) {
  const host = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<{ width: number; height: number } | null>(null);
  useEffect(() => {
    const element = host.current;
    if (!element) return undefined;
    const measure = () => setSize({ width: element.clientWidth, height: element.clientHeight });
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, []);
  return (
    <div class="furrow">
      {chooser && <PassChooser />}
      <div class="furrow-host" ref={host}>
        {size && size.width > 0 && <Section width={size.width} height={size.height} />}
      </div>
    </div>
  );
}

export function PassChooser() {
  const lines = state.layers.value?.passLines.features ?? [];
  const finding = state.selectedFinding.value;
  const named = new Set(finding?.where.passes ?? []);
  const at = lines.findIndex((line) => line.properties.pass === state.selectedPass.value);
  const step = (by: number) => {
    const next = lines[at + by]?.properties.pass;
    if (next !== undefined) choosePass(next);
  };
  return (
    <div class="pass-chooser">
      <button
        type="button"
        disabled={at <= 0}
        onClick={() => step(-1)}
        aria-label={texts.value.tables.passBefore}
      >
        ‹
      </button>
      <label>
        <span class="visually-hidden">{texts.value.tables.passShown}</span>
        <select
          value={String(state.selectedPass.value ?? "")}
          onChange={(event) => choosePass(Number(event.currentTarget.value))}
        >
          {lines.map(({ properties }) => (
            <option key={properties.pass} value={String(properties.pass)}>
              {texts.value.tables.passOption(
                String(properties.pass),
                properties.headland,
                named.has(properties.pass),
              )}
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        disabled={at < 0 || at >= lines.length - 1}
        onClick={() => step(1)}
        aria-label={texts.value.tables.nextPass}
      >
        ›
      </button>
      {(wholePass.value?.marked.length ?? 0) > 0 && (
        <button
          type="button"
          aria-pressed={closer.value}
          onClick={() => {
            closer.value = !closer.value;
          }}
        >
          {texts.value.tables.closer}
        </button>
      )}
      <PassSaid />
    </div>
  );
}

function PassSaid() {
  const shown = strip.value;
  if (!shown) return null;
  const system = state.unitSystem.value;
  const units = Math.max(...shown.moments.map((moment) => moment.pieces.length));
  return (
    <span class="small">
      {texts.value.tables.passSaid(
        formatQuantity(shown.toM - shown.fromM, "length", system),
        units > 1 ? groupThousands(String(units)) : null,
        shown.marked.length > 0,
        units > 1 && shown.rowUnits.length > 0 ? runsOf(shown.rowUnits) : null,
      )}
    </span>
  );
}

function choosePass(pass: number): void {
  state.selectedPass.value = pass;
  state.cursor.value = null;
}

function Section({ width, height }: { width: number; height: number }) {
  const ground = state.ground.value;
  const layers = state.layers.value;
  const shown = strip.value;
  if (!ground || !layers || !shown) {
    return <p class="furrow-none">{texts.value.tables.choosePass}</p>;
  }
  const frame = furrowFrame(shown, ground, width, height, false);
  const system = state.unitSystem.value;
  const cursor = ground.pass[state.cursor.value ?? -1] === shown.pass ? state.cursor.value : null;
  const at = cursor === null ? -1 : shown.moments.findIndex((moment) => moment.pieces.includes(cursor));
  const point = (moment: Moment | undefined, place: number) => {
    const piece = moment?.pieces[Math.min(Math.max(place, 0), moment.pieces.length - 1)];
    if (piece === undefined) return;
    state.cursor.value = piece;
    state.readout.value = groundReadout(ground, layers, piece, system);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const step = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] }[event.key];
    if (!step) return;
    event.preventDefault();
    const from = Math.max(at, 0);
    const moment = shown.moments[Math.min(Math.max(from + step[0]!, 0), shown.moments.length - 1)];
    const place = cursor === null ? 0 : shown.moments[from]!.pieces.indexOf(cursor);
    point(moment, place + step[1]!);
  };
  return (
    <div
      class="furrow-slider"
      role="slider"
      tabIndex={0}
      aria-label={texts.value.tables.slider(String(shown.pass))}
      aria-valuemin={0}
      aria-valuemax={shown.moments.length - 1}
      aria-valuenow={Math.max(at, 0)}
      aria-valuetext={
        cursor === null ? texts.value.tables.noPlace : groundReadout(ground, layers, cursor, system)
      }
      onKeyDown={onKeyDown}
      onMouseMove={(event) => {
        const box = event.currentTarget.getBoundingClientRect();
        const moment = nearestMoment(shown, frame.x.invert(event.clientX - box.left));
        point(moment, placeAt(moment, ground.values.seedingDepth, frame, event.clientY - box.top));
      }}
      onMouseLeave={() => {
        state.cursor.value = null;
        state.readout.value = "";
      }}
    >
      <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
        <FurrowDrawing
          strip={shown}
          ground={ground}
          layers={layers}
          frame={frame}
          system={system}
          small={false}
          cursor={cursor}
        />
        <LengthAxis frame={frame} strip={shown} system={system} />
        <text x={4} y={height - 5} class="furrow-label">
          {stretchSaid(frame)}
        </text>
        <text x={frame.left - 8} y={frame.loadTop + 9} class="furrow-label end">
          {texts.value.tables.wheel}
        </text>
        <text x={frame.left - 8} y={frame.loadTop + 23} class="furrow-label end">
          {texts.value.tables.load}
        </text>
      </svg>
    </div>
  );
}

function nearestMoment(shown: Strip, alongM: number): Moment | undefined {
  let best: Moment | undefined;
  for (const moment of shown.moments) {
    if (!best || Math.abs(moment.alongM - alongM) < Math.abs(best.alongM - alongM)) best = moment;
  }
  return best;
}

/** Over the weights the row by its line, below the surface the seed nearest in depth. */
function placeAt(
  moment: Moment | undefined,
  depths: Float32Array | undefined,
  frame: FurrowFrame,
  y: number,
): number {
  if (!moment) return 0;
  if (y < frame.surface || !depths) {
    const share = (y - frame.loadTop) / (frame.surface - frame.loadTop);
    return Math.floor(share * moment.pieces.length);
  }
  const depth = frame.y.invert(y);
  let best = 0;
  moment.pieces.forEach((i, place) => {
    const chosen = depths[moment.pieces[best]!]!;
    if (Math.abs(depths[i]! - depth) < Math.abs(chosen - depth) || Number.isNaN(chosen)) best = place;
  });
  return best;
}
