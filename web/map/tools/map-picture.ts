/** The map as shown, as a picture to keep: its name above it, legend, scale, north and the list of findings under it. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { unitLabel } from "../../../src/quantities/format.ts";
import { scaleOf } from "../../colours/colour-scale.ts";
import { colourAt, cssColour } from "../../colours/palettes.ts";
import * as prescription from "../../model/prescription-state.ts";
import * as state from "../../model/state.ts";
import { formatNumber, formatQuantity } from "../../words/format.ts";
import { targetOf, VARIABLES } from "../../words/variables.ts";
import { legendEntries, shownGround } from "../rates/rate-map.ts";
import { MAP_FONT } from "../style.ts";
import { shownSaid } from "./filter-panel.tsx";
import { rampNote, targetSaid } from "./ramp.tsx";
import { scaleBar } from "./scale-bar.ts";

/** CSS pixels; the picture has as many dots a pixel as the map on the screen. */
const MARGIN = 16;
const TITLE_HEIGHT = 62;
const LINE = 20;
const RAMP = { width: 240, height: 14, steps: 48 };
/** A narrower map (a phone's) gets a picture at least this wide, so that its legend has room. */
const LEAST_WIDTH = 560;
const INK = "#2b2419";
const PAPER = "#faf6ea";

/** @throws {Error} where there is no map to take */
export async function pictureOfMap(): Promise<Blob> {
  const map = (window as { evenstandMap?: MapLibreMap }).evenstandMap;
  if (!map) throw new Error("the map has not been drawn yet");
  const source = map.getCanvas();
  const dots = source.width / source.clientWidth;
  const width = Math.max(source.clientWidth, LEAST_WIDTH);
  const legend = legendLines();
  const height = TITLE_HEIGHT + source.clientHeight + footHeight(legend.length);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * dots);
  canvas.height = Math.round(height * dots);
  const context = canvas.getContext("2d");
  if (!context) throw new Error("this browser cannot draw the picture");
  context.scale(dots, dots);
  context.fillStyle = PAPER;
  context.fillRect(0, 0, width, height);
  drawTitle(context);
  context.drawImage(source, 0, TITLE_HEIGHT, source.clientWidth, source.clientHeight);
  context.strokeStyle = INK;
  context.strokeRect(0.5, TITLE_HEIGHT + 0.5, source.clientWidth - 1, source.clientHeight - 1);
  drawNorth(context, source.clientWidth - 26, TITLE_HEIGHT + 14);
  const foot = TITLE_HEIGHT + source.clientHeight + MARGIN;
  drawRamp(context, foot);
  drawScale(context, map, width - MARGIN, foot);
  write(context, legend, MARGIN, foot + 3 * LINE + 8);
  return new Promise((resolve, reject) =>
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error("the picture was not made"))),
      "image/png",
    ),
  );
}

function footHeight(lines: number): number {
  return 2 * MARGIN + 3 * LINE + lines * LINE + 8;
}

/** The findings by their numbers on the map (or the loads by colour), the soils, and where the colours come from. */
function legendLines(): string[] {
  const layers = state.layers.value;
  const system = state.unitSystem.value;
  const lines = prescription.loadsShown.value
    ? []
    : state.findings.value.map(
        ({ number, finding }) =>
          `${number}  ${finding.words.title}, ${finding.words.place}, ${formatQuantity(finding.where.areaHa, "area", system)}`,
      );
  const soils = layers ? layers.zoneNames.filter((name) => name !== "") : [];
  if (soils.length > 0) lines.push(`Soils: ${soils.join(", ")}`);
  if ((layers?.counts.features.length ?? 0) > 0)
    lines.push("Circles: stand counts, the darker the fewer plants");
  const shown = shownSaid();
  if (shown) lines.push(shown);
  return [...lines, "Colours around a target: ColorBrewer, Cynthia Brewer (colorbrewer.org)"];
}

function drawTitle(context: CanvasRenderingContext2D): void {
  const field = state.findingsDocument.value?.field;
  const system = state.unitSystem.value;
  context.fillStyle = INK;
  context.font = `600 20px "${MAP_FONT}", sans-serif`;
  context.fillText(field?.name ?? "", MARGIN, 27);
  const name = state.variable.value;
  const parts = [
    prescription.loadsShown.value ? "Gauge-wheel load to set" : name && VARIABLES[name].title,
    field?.season ? String(field.season) : null,
    field ? formatQuantity(field.areaHa, "area", system) : null,
    field?.crop ?? null,
  ];
  write(context, [parts.filter((part) => part).join(" \u00b7 ")], MARGIN, 48);
}

function drawRamp(context: CanvasRenderingContext2D, top: number): void {
  if (prescription.loadsShown.value) {
    drawLoads(context, top);
    return;
  }
  const name = state.variable.value;
  const values = name && state.mapGround.value?.values[name];
  const targets = state.layers.value?.targets;
  if (!name || !values || !targets) return;
  const scale = scaleOf(name, values, targets);
  const step = RAMP.width / RAMP.steps;
  for (let i = 0; i < RAMP.steps; i++) {
    context.fillStyle = cssColour(colourAt(scale.palette, i / (RAMP.steps - 1)));
    context.fillRect(MARGIN + i * step, top, step + 0.5, RAMP.height);
  }
  context.strokeRect(MARGIN + 0.5, top + 0.5, RAMP.width - 1, RAMP.height - 1);
  const { kind } = VARIABLES[name];
  const system = state.unitSystem.value;
  const ends = [scale.low, scale.high].map((value) => formatNumber(value, kind, system));
  const target = targetOf(name, targets);
  context.fillStyle = INK;
  context.font = `13px "${MAP_FONT}", sans-serif`;
  const base = top + RAMP.height + 15;
  context.fillText(ends[0]!, MARGIN, base);
  context.textAlign = "right";
  context.fillText(`${ends[1]} ${unitLabel(kind, system)}`, MARGIN + RAMP.width, base);
  context.textAlign = "left";
  if (target !== null || scale.neutral)
    write(context, [rampNote(scale, targetSaid(name))], MARGIN, base + 18);
}

function drawLoads(context: CanvasRenderingContext2D, top: number): void {
  const view = prescription.view.value;
  const layers = state.layers.value;
  if (!view || !layers) return;
  const shown = shownGround(view, layers, prescription.mapMode.value, state.unitSystem.value);
  legendEntries(shown).forEach(({ said, colour }, i) => {
    context.fillStyle = colour;
    context.fillRect(MARGIN + i * 90, top, 22, 16);
    context.strokeRect(MARGIN + i * 90 + 0.5, top + 0.5, 21, 15);
    write(context, [said], MARGIN + i * 90 + 28, top + 13);
  });
}

function drawScale(context: CanvasRenderingContext2D, map: MapLibreMap, right: number, top: number): void {
  const { pixels, said } = scaleBar(map.getCenter().lat, map.getZoom(), state.unitSystem.value);
  context.strokeStyle = INK;
  context.lineWidth = 1.5;
  context.beginPath();
  context.moveTo(right - pixels, top);
  context.lineTo(right - pixels, top + 8);
  context.lineTo(right, top + 8);
  context.lineTo(right, top);
  context.stroke();
  context.lineWidth = 1;
  context.textAlign = "right";
  write(context, [said], right, top + 26);
  context.textAlign = "left";
}

/** North is up: the map is never turned. */
function drawNorth(context: CanvasRenderingContext2D, x: number, top: number): void {
  context.fillStyle = PAPER;
  context.fillRect(x - 12, top - 6, 24, 48);
  context.fillStyle = INK;
  context.beginPath();
  context.moveTo(x, top);
  context.lineTo(x + 6, top + 18);
  context.lineTo(x, top + 14);
  context.lineTo(x - 6, top + 18);
  context.closePath();
  context.fill();
  context.textAlign = "center";
  write(context, ["N"], x, top + 36);
  context.textAlign = "left";
}

function write(context: CanvasRenderingContext2D, lines: readonly string[], x: number, base: number): void {
  context.fillStyle = INK;
  context.font = `13.5px "${MAP_FONT}", sans-serif`;
  lines.forEach((line, i) => {
    context.fillText(line, x, base + i * LINE);
  });
}
