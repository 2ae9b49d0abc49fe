/** The tables of a season, each as CSV and as Parquet with the same columns; places as GeoParquet beside them. */
import { csvHeading, csvLines, type TableCell } from "../report/tables.ts";
import { PLANTING_VARIABLES } from "../vocabulary/variables.ts";
import { type ParquetColumn, ParquetTable, type TakeBytes } from "../write/parquet.ts";
import type {
  ExtractedFinding,
  ExtractedPass,
  ExtractedStand,
  ExtractedUnit,
  ExtractedZone,
  FieldExtract,
} from "./field/field-extract.ts";
import type { KeptField } from "./field-result.ts";
import { calledAs } from "./repairs.ts";
import type { SeasonDocument, SeasonField } from "./season-document.ts";
import type { UnitEffect } from "./unit-effects.ts";

/** Where the bytes of a table go. */
export type TakeTable = (name: string) => TakeBytes;

type Of<Part> = { field: KeptField; part: Part };

/** Text is handed on in pieces of about this many characters. */
const PIECE = 1 << 16;

/** Names of the files of every table. */
export const TABLE_FILES: readonly string[] = [
  ...["fields", "findings", "passes", "row-units", "row-units-over-fields", "soil-zones", "stands"].flatMap(
    (name) => [`${name}.csv`, `${name}.parquet`],
  ),
  "places.parquet",
  "field-outlines.parquet",
];

/** Writes the tables while the fields go by; of each field nothing is kept but what a group of rows holds. */
export class SeasonTables {
  readonly #findings: BothForms<Of<ExtractedFinding>>;
  readonly #passes: BothForms<Of<ExtractedPass>>;
  readonly #units: BothForms<Of<ExtractedUnit>>;
  readonly #zones: BothForms<Of<ExtractedZone>>;
  readonly #stands: BothForms<Of<ExtractedStand>>;
  readonly #places: ParquetTable<Of<ExtractedFinding>>;
  readonly #outlines: ParquetTable<KeptField>;

  constructor(document: SeasonDocument, take: TakeTable) {
    this.#findings = new BothForms("findings", FINDING_COLUMNS, take);
    this.#passes = new BothForms("passes", PASS_COLUMNS, take);
    this.#units = new BothForms("row-units", UNIT_COLUMNS, take);
    this.#zones = new BothForms("soil-zones", ZONE_COLUMNS, take);
    this.#stands = new BothForms("stands", STAND_COLUMNS, take);
    this.#places = new ParquetTable(FINDING_COLUMNS, take("places.parquet"), ({ part }) => ({
      type: "MultiPolygon",
      coordinates: part.polygons,
    }));
    this.#outlines = new ParquetTable(OUTLINE_COLUMNS, take("field-outlines.parquet"), ({ digest }) => ({
      type: "MultiPolygon",
      coordinates: digest.outline,
    }));
    new BothForms("fields", FIELD_COLUMNS, take).addAll(document.fields).finish();
    new BothForms("row-units-over-fields", EFFECT_COLUMNS, take).addAll(document.units).finish();
  }

  /** The next field, in the order of the ids. */
  add(field: KeptField, extract: FieldExtract): void {
    for (const part of extract.findings) {
      this.#findings.add({ field, part });
      this.#places.add({ field, part });
    }
    for (const part of extract.passes) this.#passes.add({ field, part });
    for (const part of extract.units) this.#units.add({ field, part });
    for (const part of extract.zones) this.#zones.add({ field, part });
    if (extract.stand) this.#stands.add({ field, part: extract.stand });
    this.#outlines.add(field);
  }

  finish(): void {
    for (const table of [this.#findings, this.#passes, this.#units, this.#zones, this.#stands])
      table.finish();
    this.#places.finish();
    this.#outlines.finish();
  }
}

/** A table as CSV and as Parquet with the same columns. */
class BothForms<Row> {
  readonly #parquet: ParquetTable<Row>;
  readonly #line: (row: Row) => string;
  readonly #takeText: TakeBytes;
  readonly #encoder = new TextEncoder();
  #text: string;

  constructor(name: string, columns: readonly ParquetColumn<Row>[], take: TakeTable) {
    const cells = columns.map((column) => ({
      heading: column.name,
      cell: (row: Row): TableCell => {
        const value = column.cell(row);
        return typeof value === "boolean" ? (value ? "yes" : "no") : value;
      },
    }));
    this.#parquet = new ParquetTable(columns, take(`${name}.parquet`));
    this.#takeText = take(`${name}.csv`);
    this.#line = csvLines(cells);
    this.#text = csvHeading(cells);
  }

  addAll(rows: readonly Row[]): this {
    for (const row of rows) this.add(row);
    return this;
  }

  add(row: Row): void {
    this.#parquet.add(row);
    this.#text += this.#line(row);
    if (this.#text.length >= PIECE) this.#handOn();
  }

  finish(): void {
    this.#parquet.finish();
    this.#handOn();
  }

  #handOn(): void {
    this.#takeText(this.#encoder.encode(this.#text));
    this.#text = "";
  }
}

function text<Row>(name: string, cell: (row: Row) => string | null): ParquetColumn<Row> {
  return { name, type: "STRING", cell };
}

function figure<Row>(name: string, cell: (row: Row) => number | null): ParquetColumn<Row> {
  return { name, type: "DOUBLE", cell };
}

function whole<Row>(name: string, cell: (row: Row) => number | null): ParquetColumn<Row> {
  return { name, type: "INT32", cell };
}

function flag<Row>(name: string, cell: (row: Row) => boolean): ParquetColumn<Row> {
  return { name, type: "BOOLEAN", cell };
}

const FIELD_COLUMNS: ParquetColumn<SeasonField>[] = [
  text("field", ({ id }) => id),
  text("name", ({ label }) => label),
  text("grower", ({ grower }) => grower),
  text("operator", ({ operator }) => operator),
  text("planter", ({ planter }) => planter),
  text("planted", ({ planted }) => planted),
  figure("area_ha", ({ areaHa }) => areaHa),
  whole("findings", ({ findings }) => findings),
  figure("loss", ({ money }) => money?.estimate ?? null),
  figure("loss_low", ({ money }) => money?.low ?? null),
  figure("loss_high", ({ money }) => money?.high ?? null),
  text("currency", ({ money }) => money?.currency ?? null),
];

const OUTLINE_COLUMNS: ParquetColumn<KeptField>[] = [
  text("field", ({ id }) => id),
  text("name", ({ label }) => label),
  figure("area_ha", ({ digest }) => digest.areaHa),
];

/** Columns that say whose row it is. */
function ofField<Part>(): ParquetColumn<Of<Part>>[] {
  return [
    text("field", ({ field }) => field.id),
    text("name", ({ field }) => field.label),
    text("planter", ({ field }) => field.planter),
    text("operator", ({ field }) => field.operator),
  ];
}

const FINDING_COLUMNS: ParquetColumn<Of<ExtractedFinding>>[] = [
  ...ofField<ExtractedFinding>(),
  text("finding", ({ part }) => part.id),
  text("kind", ({ part }) => part.kind),
  text("cause", ({ part }) => part.cause),
  text("title", ({ part }) => part.title),
  text("place", ({ part }) => part.place),
  text("basis", ({ part }) => part.basis),
  figure("probability", ({ part }) => part.probability),
  figure("area_ha", ({ part }) => part.areaHa),
  text("row_units", ({ part }) => part.rowUnits.join(" ") || null),
  text("soil_zones", ({ part }) => part.soilZones.join("; ") || null),
  figure("plants_short", ({ part }) => part.deficitShare?.estimate ?? null),
  figure("loss", ({ part }) => part.money?.estimate ?? null),
  figure("loss_low", ({ part }) => part.money?.low ?? null),
  figure("loss_high", ({ part }) => part.money?.high ?? null),
  text("currency", ({ part }) => part.money?.currency ?? null),
  text("remedy", ({ part }) => part.remedyCode),
];

/** Column names of the variables carry their units. */
const MEAN_NAMES: Record<(typeof PLANTING_VARIABLES)[number], string> = {
  seedingDepth: "depth_mm",
  downForceMargin: "margin_n",
  downForce: "down_force_n",
  groundContact: "ground_contact_share",
  singulation: "singulation_share",
  multiples: "multiples_share",
  misses: "misses_share",
  population: "population_per_ha",
  spacingVariation: "spacing_variation_share",
  speed: "speed_m_s",
};

function meansOf<Part extends Pick<ExtractedPass, "means" | "noLoadShare">>(): ParquetColumn<Of<Part>>[] {
  return [
    ...PLANTING_VARIABLES.map((variable) =>
      figure(MEAN_NAMES[variable], ({ part }: Of<Part>) => part.means[variable] ?? null),
    ),
    figure("no_load_share", ({ part }) => part.noLoadShare),
  ];
}

const PASS_COLUMNS: ParquetColumn<Of<ExtractedPass>>[] = [
  ...ofField<ExtractedPass>(),
  whole("pass", ({ part }) => part.pass),
  text("date", ({ part }) => part.date),
  flag("end_rows", ({ part }) => part.headland),
  figure("area_ha", ({ part }) => part.areaHa),
  ...meansOf<ExtractedPass>(),
];

const ZONE_COLUMNS: ParquetColumn<Of<ExtractedZone>>[] = [
  ...ofField<ExtractedZone>(),
  text("soil_zone", ({ part }) => part.soilZone),
  text("texture", ({ part }) => part.texture),
  figure("area_ha", ({ part }) => part.areaHa),
  ...meansOf<ExtractedZone>(),
  figure("prescribed_n", ({ part }) => part.prescribedN),
];

const UNIT_COLUMNS: ParquetColumn<Of<ExtractedUnit>>[] = [
  ...ofField<ExtractedUnit>(),
  text("planted", ({ field }) => field.digest.planted),
  whole("row_unit", ({ part }) => part.rowUnit),
  text("variable", ({ part }) => part.variable),
  whole("passes", ({ part }) => part.passes),
  figure("departure", ({ part }) => part.departure),
  figure("standard_error", ({ part }) => (part.variance === null ? null : Math.sqrt(part.variance))),
];

const STAND_COLUMNS: ParquetColumn<Of<ExtractedStand>>[] = [
  ...ofField<ExtractedStand>(),
  whole("counts", ({ part }) => part.counts),
  figure("plants_per_ha", ({ part }) => part.perHa.estimate),
  figure("plants_per_ha_low", ({ part }) => part.perHa.low),
  figure("plants_per_ha_high", ({ part }) => part.perHa.high),
  figure("share_of_target", ({ part }) => part.ofTarget?.estimate ?? null),
  figure("late_share", ({ part }) => part.lateShare?.estimate ?? null),
];

const EFFECT_COLUMNS: ParquetColumn<UnitEffect>[] = [
  text("planter", ({ planter }) => planter),
  whole("row_unit", ({ rowUnit }) => rowUnit),
  text("variable", ({ variable }) => variable),
  whole("fields", ({ fields }) => fields.length),
  whole("fields_standing_out", ({ fields }) => fields.filter(({ standsOut }) => standsOut).length),
  figure("departure", ({ plain }) => plain),
  figure("effect", ({ effect }) => effect.estimate),
  figure("effect_low", ({ effect }) => effect.low),
  figure("effect_high", ({ effect }) => effect.high),
  figure("between_fields_sd", ({ betweenFields }) => Math.sqrt(betweenFields)),
  figure("p_value", ({ steady }) => steady?.pValue ?? null),
  figure("q_value", ({ steady }) => steady?.qValue ?? null),
  whole("fields_unusual", ({ often }) => often?.fields ?? 0),
  figure("unusual_departure", ({ often }) => often?.mean ?? null),
  figure("unusual_q_value", ({ often }) => often?.qValue ?? null),
  text("called", calledAs),
];
