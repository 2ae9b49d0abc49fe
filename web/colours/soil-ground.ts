/**
 * Soil drawn as ground: marks by texture as in soil-profile drawing (dots for sand, dashes for silt, lines
 * for clay; common practice, no source) over a quiet tone. The marks are data, so that the map, the strip
 * and the legend draw the same ground.
 */
import type { TextureClass } from "../../src/vocabulary/field.ts";

/** Side of the repeated tile, CSS pixels. */
export const TILE = 24;

export interface GroundMarks {
  /** Centre of each dot. */
  dots: [number, number][];
  /** Start and length of each level stroke. */
  strokes: [number, number, number][];
}

interface SoilGround {
  key: string;
  tone: string;
  marks: GroundMarks;
  /** How the marks are spoken of in the legend. */
  said: string;
}

export const MARK_INK = "#5b4630";

const GROUNDS: Readonly<Record<NonNullable<TextureClass> | "unknown", SoilGround>> = {
  sand: {
    key: "sand",
    tone: "#f0e4c3",
    said: "dots",
    marks: { dots: grid(6, 3), strokes: [] },
  },
  "sandy loam": {
    key: "sandy-loam",
    tone: "#ecdfc0",
    said: "dots, few dashes",
    marks: { dots: grid(8, 4), strokes: [[14, 18, 5]] },
  },
  loam: {
    key: "loam",
    tone: "#e5d9bf",
    said: "dots and dashes",
    marks: {
      dots: [
        [4, 6],
        [16, 18],
      ],
      strokes: [
        [12, 6, 7],
        [2, 18, 7],
      ],
    },
  },
  "silt loam": {
    key: "silt-loam",
    tone: "#e7e0cb",
    said: "dashes",
    marks: {
      dots: [],
      strokes: [
        [2, 6, 8],
        [14, 18, 8],
      ],
    },
  },
  "clay loam": {
    key: "clay-loam",
    tone: "#dccfb8",
    said: "lines and dots",
    marks: {
      dots: [
        [6, 12],
        [18, 12],
      ],
      strokes: [
        [0, 6, 24],
        [0, 18, 24],
      ],
    },
  },
  clay: {
    key: "clay",
    tone: "#d3c6b1",
    said: "lines",
    marks: {
      dots: [],
      strokes: [
        [0, 3, 24],
        [0, 9, 24],
        [0, 15, 24],
        [0, 21, 24],
      ],
    },
  },
  unknown: { key: "unknown", tone: "#eae4d5", said: "plain", marks: { dots: [], strokes: [] } },
};

export function soilGround(texture: TextureClass): SoilGround {
  return GROUNDS[texture ?? "unknown"];
}

export const ALL_GROUNDS: readonly SoilGround[] = Object.values(GROUNDS);

/** The tile as pixels for the map's pattern, at twice the size for sharp screens. */
export function groundImage(ground: SoilGround): { width: number; height: number; data: Uint8ClampedArray } {
  const scale = 2;
  const size = TILE * scale;
  const canvas = document.createElement("canvas");
  canvas.width = size;
  canvas.height = size;
  const context = canvas.getContext("2d", { willReadFrequently: true })!;
  context.scale(scale, scale);
  context.fillStyle = MARK_INK;
  context.strokeStyle = MARK_INK;
  context.lineWidth = 1;
  for (const [x, y] of ground.marks.dots) {
    context.beginPath();
    context.arc(x, y, 1, 0, 2 * Math.PI);
    context.fill();
  }
  for (const [x, y, length] of ground.marks.strokes) {
    context.beginPath();
    context.moveTo(x, y);
    context.lineTo(x + length, y);
    context.stroke();
  }
  const { data } = context.getImageData(0, 0, size, size);
  return { width: size, height: size, data };
}

/** Dots on a staggered grid that repeats with the tile. */
function grid(step: number, first: number): [number, number][] {
  const dots: [number, number][] = [];
  for (let row = 0; row * step < TILE; row++) {
    const shift = row % 2 === 0 ? 0 : step / 2;
    for (let x = first + shift; x < TILE + first; x += step) dots.push([x % TILE, row * step + first]);
  }
  return dots;
}
