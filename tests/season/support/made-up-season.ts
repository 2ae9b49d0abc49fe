/** Made-up extracts of a season's fields, the season of them and its tables. */
import { normal, seededRandom } from "../../../src/numerics/random.ts";
import { digestField } from "../../../src/season/field/field-digest.ts";
import { EXTRACT_SCHEMA, type FieldExtract } from "../../../src/season/field/field-extract.ts";
import { FIELD_RUN_SCHEMA, type FieldResult } from "../../../src/season/field-result.ts";
import { seasonOf } from "../../../src/season/season-document.ts";
import { PLAN_SCHEMA, type PlannedField } from "../../../src/season/season-plan.ts";
import { SeasonTables } from "../../../src/season/season-tables.ts";

export const ROWS = 12;

/** A field with the extract that its digest is made from. */
export type Result = FieldResult & { extract: FieldExtract };

interface Put {
  fields?: number;
  /** Departure in skips of a row unit, by field. */
  skips?: (rowUnit: number, field: number) => number;
  change?: (extract: FieldExtract, field: number) => void;
  planned?: (field: number) => Partial<PlannedField>;
}

export function results({ fields = 12, skips = () => 0, change, planned }: Put = {}): Result[] {
  const random = seededRandom(7);
  const standing = Array.from({ length: ROWS }, () => 0.001 * normal(random));
  return Array.from({ length: fields }, (_, k) => {
    const id = `field-${String(k + 1).padStart(2, "0")}`;
    const extract: FieldExtract = {
      schema: EXTRACT_SCHEMA,
      name: `Field ${k + 1}`,
      season: 2026,
      crop: "corn",
      planted: `2026-04-${10 + k}`,
      areaHa: 20,
      affectedHa: 2,
      sentence: "1 place.",
      form: "places",
      money: { estimate: 100, low: 40, high: 300, level: 0.9, currency: "USD" },
      speedTarget: null,
      rowUnits: ROWS,
      rowSpacingM: 0.762,
      machines: [],
      wanted: [],
      departing: [],
      stand: null,
      outline: [square(-93 + 0.01 * k)],
      findings: [
        {
          id: "1",
          kind: "area",
          cause: "lost-ground-contact",
          basis: "predicted",
          probability: 0.9,
          title: "=Gauge wheels <running> light",
          place: "east side",
          areaHa: 2,
          rowUnits: [],
          passes: 0,
          soilZones: ["clay"],
          deficitShare: null,
          money: { estimate: 100, low: 40, high: 300, level: 0.9, currency: "USD" },
          remedyCode: "raise-margin",
          remedy: "Carry more load.",
          caution: "",
          polygons: [square(-93 + 0.01 * k)],
        },
      ],
      passes: Array.from({ length: 8 }, (_, pass) => ({
        pass: pass + 1,
        date: "2026-04-10",
        headland: pass === 0,
        areaHa: 1,
        means: { speed: 2.3 + 0.1 * normal(random), misses: 0.02 },
        noLoadShare: 0.01,
      })),
      units: Array.from({ length: ROWS }, (_, unit) => ({
        rowUnit: unit + 1,
        variable: "misses" as const,
        passes: 8,
        departure: standing[unit]! + skips(unit + 1, k) + 0.0005 * normal(random),
        variance: 0.0005 ** 2,
      })),
      zones: [],
      lots: [],
    };
    change?.(extract, k);
    const field: PlannedField = {
      id,
      path: id,
      name: null,
      planter: "old",
      grower: null,
      operator: null,
      ...planned?.(k),
    };
    const run = {
      schema: FIELD_RUN_SCHEMA,
      key: id,
      status: "done",
      name: extract.name,
      logSha256: id,
      reason: null,
      choices: [],
    } as const;
    return { field, run, extract, digest: digestField(extract) };
  });
}

function square(west: number): [number, number][][] {
  return [
    [
      [west, 42],
      [west + 0.005, 42],
      [west + 0.005, 42.004],
      [west, 42.004],
      [west, 42],
    ],
  ];
}

export function seasonFrom(put: Put | FieldResult[] = {}) {
  const all = Array.isArray(put) ? put : results(put);
  const plan = {
    schema: PLAN_SCHEMA,
    name: "A <season>",
    season: 2026,
    fields: all.map(({ field }) => field),
  } as const;
  return seasonOf(plan, all);
}

/** Every table's bytes by its name. */
export function tablesOf(all: readonly Result[]): Map<string, ArrayBuffer> {
  const { document, kept } = seasonFrom([...all]);
  const pieces = new Map<string, Uint8Array[]>();
  const tables = new SeasonTables(document, (name) => {
    const own: Uint8Array[] = [];
    pieces.set(name, own);
    return (bytes) => own.push(bytes.slice());
  });
  for (const field of kept) tables.add(field, all.find((one) => one.field.id === field.id)!.extract);
  tables.finish();
  return new Map([...pieces].map(([name, own]) => [name, Uint8Array.from(Buffer.concat(own)).buffer]));
}
