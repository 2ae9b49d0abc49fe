/** Soil marks as SVG: a pattern to fill with, and a small sample for the legend. */
import type { TextureClass } from "../../src/vocabulary/field.ts";
import { MARK_INK, soilGround, TILE } from "./soil-ground.ts";

/** A pattern element; fill with `url(#id)`. */
export function GroundPattern({ id, texture }: { id: string; texture: TextureClass }) {
  const ground = soilGround(texture);
  return (
    <pattern id={id} width={TILE} height={TILE} patternUnits="userSpaceOnUse">
      <rect width={TILE} height={TILE} fill={ground.tone} />
      {ground.marks.dots.map(([x, y]) => (
        <circle key={`${x} ${y}`} cx={x} cy={y} r="1" fill={MARK_INK} />
      ))}
      {ground.marks.strokes.map(([x, y, length]) => (
        <path key={`${x} ${y}`} d={`M${x} ${y}h${length}`} stroke={MARK_INK} />
      ))}
    </pattern>
  );
}

export function GroundSwatch({ texture }: { texture: TextureClass }) {
  const id = `swatch-${soilGround(texture).key}`;
  return (
    <svg width="30" height="18" class="swatch" aria-hidden="true">
      <defs>
        <GroundPattern id={id} texture={texture} />
      </defs>
      <rect x="0.5" y="0.5" width="29" height="17" fill={`url(#${id})`} stroke={MARK_INK} />
    </svg>
  );
}
