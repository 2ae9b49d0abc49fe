/** Pictures the map's style draws with: the soils' marks and the sign of a dig. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { ALL_GROUNDS, groundImage } from "../colours/soil-ground.ts";

export function addImages(map: MapLibreMap): void {
  for (const ground of ALL_GROUNDS) {
    map.addImage(`soil-${ground.key}`, groundImage(ground), { pixelRatio: 2 });
  }
  map.addImage("dig", digImage(), { pixelRatio: 2 });
}

/** A small spade-cut: a triangle pointing down. */
function digImage(): ImageData {
  const canvas = document.createElement("canvas");
  canvas.width = 28;
  canvas.height = 28;
  const context = canvas.getContext("2d", { willReadFrequently: true })!;
  context.beginPath();
  context.moveTo(3, 5);
  context.lineTo(25, 5);
  context.lineTo(14, 25);
  context.closePath();
  context.fillStyle = "#faf6ea";
  context.strokeStyle = "#2b2419";
  context.lineWidth = 3;
  context.fill();
  context.stroke();
  return context.getImageData(0, 0, 28, 28);
}
