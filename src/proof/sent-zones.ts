/** The zones that were sent to the machine, read back from the file that `evenstand prescribe` wrote. */
import { FileUnusableError } from "../errors.ts";
import { localPolygons } from "../field/local-polygons.ts";
import type { RawColumn, RawLayer } from "../ingest/layer.ts";
import { convert } from "../quantities/units.ts";
import type { LocalFrame, LocalPolygon } from "../vocabulary/field.ts";

export interface SentZone {
  /** Number of the rate zone, as in sheet and files. */
  number: string;
  /** Names of the soil zones that lie in it. */
  soil: string;
  /** True where the old setting was left on purpose. */
  isStrip: boolean;
  /** Load asked for, N; null where the file carries a force or a pressure. */
  askedN: number | null;
  polygons: LocalPolygon[];
}

/** Columns of the load on the gauge wheels, and the unit each is in. */
const LOAD_COLUMNS = { MARGIN_LBF: "lbf", MARGIN_N: "N" } as const;

const NEEDED =
  'the zones as "evenstand prescribe" wrote them: GeoJSON or shapefile with ZONE, SOIL_ZONE and PROOF';

/**
 * The zones in the field's frame.
 * @throws {FileUnusableError} where the layer holds no zones of a prescription, or none of them is a strip
 */
export function sentZones(layer: RawLayer, frame: LocalFrame): SentZone[] {
  const { file, columns } = layer;
  const [number, soil, proof] = ["ZONE", "SOIL_ZONE", "PROOF"].map((name) => {
    const column = columns.find((one) => one.name === name);
    if (column) return column;
    const given = columns.map((one) => one.name).join(", ") || "none";
    throw new FileUnusableError(`${file}: has no column ${name} (its columns: ${given}); give ${NEEDED}`, {
      file,
      field: name,
      accepted: NEEDED,
    });
  });
  const load = (Object.keys(LOAD_COLUMNS) as (keyof typeof LOAD_COLUMNS)[]).find((name) =>
    columns.some((one) => one.name === name && one.kind === "number"),
  );
  const loads = columns.find((one) => one.name === load);
  const zones = localPolygons(layer, frame).map(
    (polygons, i): SentZone => ({
      number: textAt(number!, i),
      soil: textAt(soil!, i),
      isStrip: textAt(proof!, i) === "yes",
      askedN: load && loads?.kind === "number" ? convert(loads.values[i]!, LOAD_COLUMNS[load], "N") : null,
      polygons,
    }),
  );
  const usable = zones.filter(({ polygons }) => polygons.length > 0);
  if (!usable.some(({ isStrip }) => isStrip))
    throw new FileUnusableError(
      `${file}: no zone has PROOF "yes"; without a strip left at the old setting nothing can be proved`,
      { file, field: "PROOF", accepted: '"yes" for the strips' },
    );
  return usable;
}

function textAt(column: RawColumn, i: number): string {
  if (column.kind === "number") return String(column.values[i]);
  return column.labels[column.codes[i]!] ?? "";
}
