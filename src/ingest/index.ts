/** Files to layers: the public surface of this stage. */
export {
  placeInFrame,
  projectColumns,
  toLonLat,
  type UtmFrame,
  utmFrame,
  WGS84_DEFINITION,
} from "./crs/crs.ts";
export { type ColumnDescription, describeColumn, describeLayer, type LayerDescription } from "./describe.ts";
export { type Extent, extentOf } from "./extent.ts";
export type {
  CoordinateSystem,
  InputFile,
  LayerFile,
  LayerGeometry,
  LayerPart,
  NumberColumn,
  PolygonRings,
  RawColumn,
  RawLayer,
  StreamedFile,
  TextColumn,
} from "./layer.ts";
export { readLayer } from "./read-layer.ts";
export type { ExpectedGeometry, ReadOptions } from "./read-options.ts";
