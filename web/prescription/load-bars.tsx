/**
 * A zone's loads for dry, fit and damp ground: the range that serves as well as the best as a band of soil, the
 * gauge wheel of today (open) and the one prescribed (filled) standing on it, and the number beside it.
 */
import type { ZoneDecision } from "../../src/prescription/prescription.ts";
import { MOISTURES, type Moisture } from "../../src/vocabulary/moisture.ts";
import * as page from "../model/state.ts";
import { loadFigure, loadText, MOISTURE_WORDS } from "../words/rate-words.ts";
import { texts } from "../words/texts/texts.ts";
import { type LoadScale, placeOf } from "./load-scale.ts";

const WIDTH = 230;
const HEIGHT = 24;
/** Room on both sides of the scale for a wheel that stands at its end. */
const EDGE = 8;
const SURFACE = 17;
const RADIUS = 6;

interface BarsProps {
  decision: ZoneDecision;
  picked: Moisture;
  /** Load that is being tried in the picked state, N; the prescribed one otherwise. */
  triedN: number;
  scale: LoadScale;
}

export function LoadBars({ decision, picked, triedN, scale }: BarsProps) {
  const system = page.unitSystem.value;
  return (
    <table class="load-bars">
      <caption class="visually-hidden">{texts.value.prescription.loadsOn(decision.soilZone)}</caption>
      <thead class="visually-hidden">
        <tr>
          <th scope="col">{texts.value.prescription.groundHead}</th>
          <th scope="col">{texts.value.prescription.asWell}</th>
          <th scope="col">{texts.value.prescription.loadToSet}</th>
        </tr>
      </thead>
      <tbody>
        {MOISTURES.map((state) => {
          const { lowN, highN } = decision.best[state];
          const loadN = state === picked ? triedN : decision.prescribedN[state];
          return (
            <tr key={state} class={state === picked ? "picked" : ""}>
              <th scope="row">
                {MOISTURE_WORDS[state].title}
                {state === picked && <span class="visually-hidden">{texts.value.prescription.picked}</span>}
              </th>
              <td class="load-bar">
                <Bar
                  scale={scale}
                  lowN={lowN}
                  highN={highN}
                  loadN={loadN}
                  today={state === picked ? decision : null}
                />
                <span class="load-range">
                  {texts.value.map.between(loadFigure(lowN, system), loadText(highN, system))}
                </span>
              </td>
              <td class="load-figure">{loadText(loadN, system)}</td>
            </tr>
          );
        })}
        <tr class="load-axis">
          <td />
          <td>
            <Axis scale={scale} />
          </td>
          <td />
        </tr>
      </tbody>
    </table>
  );
}

function Bar(props: {
  scale: LoadScale;
  lowN: number;
  highN: number;
  loadN: number;
  today: ZoneDecision | null;
}) {
  const at = (loadN: number) => EDGE + placeOf(props.scale, loadN, WIDTH - 2 * EDGE);
  const [low, high] = [at(props.lowN), at(props.highN)];
  const { currentMarginN, currentMarginP10N } = props.today ?? {};
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} class={props.today ? "picked" : ""} aria-hidden="true">
      <rect x={low} y={SURFACE} width={Math.max(high - low, 2)} height={HEIGHT - SURFACE} class="load-good" />
      <path d={`M0 ${SURFACE}H${WIDTH}`} class="load-surface" />
      <path d={`M${low} ${SURFACE - 3}V${HEIGHT}M${high} ${SURFACE - 3}V${HEIGHT}`} class="load-ends" />
      {typeof currentMarginN === "number" && (
        <>
          {typeof currentMarginP10N === "number" && (
            <path
              d={`M${at(currentMarginP10N)} ${SURFACE - RADIUS}H${at(currentMarginN)}`}
              class="load-lightest"
            />
          )}
          <circle cx={at(currentMarginN)} cy={SURFACE - RADIUS} r={RADIUS - 1} class="wheel-today" />
        </>
      )}
      <Wheel x={at(props.loadN)} />
    </svg>
  );
}

function Wheel({ x }: { x: number }) {
  return (
    <>
      <circle cx={x} cy={SURFACE - RADIUS} r={RADIUS} class="wheel-set" />
      <circle cx={x} cy={SURFACE - RADIUS} r="1.6" class="wheel-hub" />
    </>
  );
}

function Axis({ scale }: { scale: LoadScale }) {
  const system = page.unitSystem.value;
  return (
    <svg viewBox={`0 0 ${WIDTH} 16`} aria-hidden="true">
      {scale.ticksN.map((tickN, i) => (
        <text
          key={tickN}
          x={i === scale.ticksN.length - 1 ? WIDTH : EDGE + placeOf(scale, tickN, WIDTH - 2 * EDGE)}
          y="12"
          class={i === scale.ticksN.length - 1 ? "last" : ""}
        >
          {loadFigure(tickN, system)}
        </text>
      ))}
    </svg>
  );
}

/** What the signs of the bars mean; once for all cards. */
export function BarSigns() {
  const y = SURFACE - RADIUS;
  return (
    <ul class="signs bar-signs">
      <li>
        <svg viewBox="0 0 26 24" aria-hidden="true">
          <path d={`M2 ${y}H17`} class="load-lightest" />
          <circle cx="18" cy={y} r={RADIUS - 1} class="wheel-today" />
          <path d={`M0 ${SURFACE}H26`} class="load-surface" />
        </svg>
        {texts.value.prescription.signToday}
      </li>
      <li>
        <svg viewBox="0 0 26 24" aria-hidden="true">
          <path d={`M0 ${SURFACE}H26`} class="load-surface" />
          <Wheel x={13} />
        </svg>
        {texts.value.prescription.signSet}
      </li>
      <li>
        <svg viewBox="0 0 26 24" aria-hidden="true">
          <rect x="4" y={SURFACE} width="18" height={HEIGHT - SURFACE} class="load-good" />
          <path d={`M0 ${SURFACE}H26`} class="load-surface" />
          <path d={`M4 ${SURFACE - 3}V24M22 ${SURFACE - 3}V24`} class="load-ends" />
        </svg>
        {texts.value.prescription.signGood}
      </li>
    </ul>
  );
}
