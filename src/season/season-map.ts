/** The fields of a season as a drawing: outlines where they can be seen, a ring as large as what was lost. */
import { escapeMarkup } from "../write/markup.ts";
import type { DegreePolygons } from "./field/field-extract.ts";
import type { KeptField } from "./field-result.ts";

const WIDTH = 1000;
const TALLEST = 640;
const EDGE = 46;
/** Drawn smaller than this a field is a spot. */
const SMALLEST = 5;
const LARGEST_RING = 34;
/** So many fields, those that lost most, carry their names; on a phone, where letters are drawn larger, so many of these. */
const MOST_NAMES = 8;
const NAMES_ON_PHONE = 3;
/** About the width of a letter and the height of a line of a name, and how much larger the style makes them on a phone. */
const LETTER = 7.5;
const LINE = 15;
const LARGER_ON_PHONE = 2.2;

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** An SVG with a link to each field's row; empty without outlines. */
export function seasonMap(kept: readonly KeptField[]): string {
  const placed = kept
    .map((field) => ({ field, middle: middleOf(field.digest.outline) }))
    .filter((entry): entry is { field: KeptField; middle: [number, number] } => entry.middle !== null);
  if (placed.length === 0) return "";
  const points = placed.flatMap(({ field }) => field.digest.outline.flat(2));
  const [west, east] = limits(points.map(([longitude]) => longitude));
  const [south, north] = limits(points.map(([, latitude]) => latitude));
  const narrowing = Math.cos((((south + north) / 2) * Math.PI) / 180);
  const across = Math.max((east - west) * narrowing, 1e-6);
  const up = Math.max(north - south, 1e-6);
  const scale = Math.min((WIDTH - 2 * EDGE) / across, (TALLEST - 2 * EDGE) / up);
  const height = Math.round(up * scale + 2 * EDGE);
  const left = (WIDTH - across * scale) / 2;
  const at = ([longitude, latitude]: readonly [number, number]): [number, number] => [
    Number((left + (longitude - west) * narrowing * scale).toFixed(1)),
    Number((EDGE + (north - latitude) * scale).toFixed(1)),
  ];
  const lossOf = ({ digest }: KeptField): number => digest.money?.estimate ?? 0;
  const largest = Math.max(...placed.map(({ field }) => lossOf(field)));
  // The ring's area, not its width, goes with the loss.
  const radiusOf = (field: KeptField): number =>
    largest > 0 ? LARGEST_RING * Math.sqrt(lossOf(field) / largest) : 0;
  const shapes = placed.map(({ field, middle }) => {
    const rings = field.digest.outline.flat().map((ring) => ring.map(at));
    const [x, y] = at(middle);
    const [low, high] = limits(rings.flat().map(([px]) => px));
    const body =
      high - low < SMALLEST
        ? `<circle class="spot" cx="${x}" cy="${y}" r="3"/>`
        : `<path class="outline" d="${rings.map((ring) => `M${ring.map((point) => point.join(" ")).join("L")}Z`).join("")}" fill-rule="evenodd"/>`;
    const radius = radiusOf(field);
    const ring = radius > 2 ? `<circle class="loss" cx="${x}" cy="${y}" r="${radius.toFixed(1)}"/>` : "";
    return `<a href="#field-${field.id}"><title>${escapeMarkup(field.label)}</title>${body}${ring}</a>`;
  });
  const names: string[] = [];
  const taken: Box[] = [];
  const byLoss = placed
    .filter(({ field }) => lossOf(field) > 0)
    .sort((a, b) => lossOf(b.field) - lossOf(a.field));
  for (const { field, middle } of byLoss) {
    if (names.length === MOST_NAMES) break;
    const [x, y] = at(middle);
    const isOnPhone = names.length < NAMES_ON_PHONE;
    const size = isOnPhone ? LARGER_ON_PHONE : 1;
    const half = (field.label.length * LETTER * size) / 2;
    const base = y - radiusOf(field) - 6;
    // Drawn inside the map, and not over a costlier one's name.
    const across = Math.min(Math.max(x, half + 4), WIDTH - half - 4);
    const box: Box = { left: across - half, right: across + half, top: base - LINE * size, bottom: base };
    if (taken.some((other) => overlap(box, other))) continue;
    taken.push(box);
    const also = isOnPhone ? "" : ' class="also"';
    names.push(
      `<text${also} x="${across.toFixed(1)}" y="${base.toFixed(1)}" text-anchor="middle">${escapeMarkup(field.label)}</text>`,
    );
  }
  return `<svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="Where the fields lie">${shapes.join("")}${names.join("")}</svg>`;
}

function middleOf(outline: DegreePolygons): [number, number] | null {
  const points = outline.flat(2);
  if (points.length === 0) return null;
  const [west, east] = limits(points.map(([longitude]) => longitude));
  const [south, north] = limits(points.map(([, latitude]) => latitude));
  return [(west + east) / 2, (south + north) / 2];
}

function limits(values: readonly number[]): [low: number, high: number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return [low, high];
}
