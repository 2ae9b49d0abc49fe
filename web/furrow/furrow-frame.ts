/** Where the parts of a furrow drawing lie, and its two scales: along the pass and down into the ground. */
import type { Ground } from "../protocol/ground.ts";
import { groupThousands } from "../words/format.ts";
import { type Scale, scaleLinear } from "./scales.ts";
import type { Strip } from "./strip-data.ts";

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
  const left = small ? 46 : 92;
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

/** How much larger depth is drawn than length, to two figures: "depth drawn 640 times as large as length". */
export function stretchSaid(frame: FurrowFrame): string {
  const pixelsPerMetreDown = (frame.y(1000) - frame.y(0)) / 1;
  const pixelsPerMetreAlong = frame.x(1) - frame.x(0);
  const times = pixelsPerMetreDown / pixelsPerMetreAlong;
  return `depth drawn ${groupThousands(String(Number(times.toPrecision(2))))} times as large as length`;
}
