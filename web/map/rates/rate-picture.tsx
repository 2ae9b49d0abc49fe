/** A map of the loads as a picture, for paper and the report: ground by load, outlined and numbered. */
import type { Position } from "geojson";
import { labelPoint } from "../../model/geometry.ts";
import type { ShownGround } from "./rate-map.ts";

const WIDTH = 320;
const MARGIN = 6;

interface PictureProps {
  title: string;
  /** What is coloured. */
  ground: readonly ShownGround[];
  /** The zones of the files, outlined. */
  outlines: readonly ShownGround[];
  /** West, south, east, north. */
  bounds: readonly [number, number, number, number];
}

export function RatePicture({ title, ground, outlines, bounds }: PictureProps) {
  const [west, south, east, north] = bounds;
  const stretch = Math.cos((((south + north) / 2) * Math.PI) / 180);
  const scale = (WIDTH - 2 * MARGIN) / ((east - west) * stretch);
  const height = Math.round((north - south) * scale + 2 * MARGIN);
  const at = ([longitude, latitude]: Position): [number, number] => [
    Number((MARGIN + (longitude! - west) * stretch * scale).toFixed(1)),
    Number((MARGIN + (north - latitude!) * scale).toFixed(1)),
  ];
  const path = (polygons: Position[][][]) =>
    polygons
      .flat()
      .map((ring) => `M${ring.map((place) => at(place).join(" ")).join("L")}Z`)
      .join("");
  const said = ground.map((each) => `${each.soilZones.join(", ")} ${each.said}`).join("; ");
  return (
    <svg viewBox={`0 0 ${WIDTH} ${height}`} role="img" aria-label={`${title}, north up: ${said}`}>
      <defs>
        <HatchPattern id="picture-strip" />
      </defs>
      {ground.map((each, i) => (
        <path key={i} d={path(each.polygons)} fill={each.colour} fill-rule="evenodd" />
      ))}
      {outlines.map((each, i) => (
        <path
          key={i}
          d={path(each.polygons)}
          fill={each.proofStrip ? "url(#picture-strip)" : "none"}
          class="load-outline"
        />
      ))}
      {ground.map((each, i) => {
        const place = labelPoint({ type: "MultiPolygon", coordinates: each.polygons });
        if (!place || each.proofStrip) return null;
        const [x, y] = at(place);
        return (
          <text key={i} x={x} y={y} class="load-label">
            {each.number}: {each.said}
          </text>
        );
      })}
    </svg>
  );
}

const HATCH = 6;

function HatchPattern({ id }: { id: string }) {
  return (
    <pattern id={id} width={HATCH} height={HATCH} patternUnits="userSpaceOnUse">
      <rect width={HATCH} height={HATCH} class="hatch-paper" />
      <path
        d={`M-1 ${HATCH + 1}L${HATCH + 1} -1M-1 1L1 -1M${HATCH - 1} ${HATCH + 1}L${HATCH + 1} ${HATCH - 1}`}
        class="hatch"
      />
    </pattern>
  );
}

export function HatchSwatch() {
  return (
    <svg width="22" height="16" aria-hidden="true">
      <defs>
        <HatchPattern id="swatch-strip" />
      </defs>
      <rect x="0.5" y="0.5" width="21" height="15" fill="url(#swatch-strip)" class="load-swatch" />
    </svg>
  );
}
