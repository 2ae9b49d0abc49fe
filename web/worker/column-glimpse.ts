/** A look at the columns that a question is about. Runs in the worker. */
import type { OpenChoice } from "../../src/errors.ts";
import type { RawColumn, RawLayer } from "../../src/ingest/layer.ts";
import type { ColumnChoice } from "../../src/manifest/manifest-schema.ts";
import { quantilesInPlace } from "../../src/numerics/quantile.ts";
import { type ColumnGlimpse, type ColumnQuestion, columnsOf, type Histogram } from "../protocol/answers.ts";

export type { ColumnGlimpse };

const BARS = 24;
/** Share of values beyond each end of the bars, so that marks such as -9999 do not press all others into one. */
const TRIMMED_SHARE = 0.01;
const SAMPLES = 6;
/** More columns than this (one a row unit) are not drawn each. */
const MOST_DRAWN = 3;

/** The library's open choice as a question with a look at each column it is about. */
export function questionOf({ role, variable, question, lines }: OpenChoice, layer: RawLayer): ColumnQuestion {
  const answers = lines.map((line) => (JSON.parse(`{${line}}`) as Record<string, ColumnChoice>)[variable]!);
  const names = [...new Set(answers.flatMap((answer) => columnsOf(answer).slice(0, MOST_DRAWN)))];
  const columns = names.map((name) => layer.columns.find((column) => column.name === name));
  return {
    role,
    variable,
    why: question,
    answers,
    columns: columns.filter((column) => column !== undefined).map(glimpseOf),
  };
}

export function glimpseOf(column: RawColumn): ColumnGlimpse {
  if (column.kind === "text") {
    const present = column.codes.filter((code) => code >= 0);
    return {
      name: column.name,
      records: column.codes.length,
      missing: column.codes.length - present.length,
      samples: [...new Set(present)].slice(0, SAMPLES).map((code) => column.labels[code] ?? ""),
      middle: null,
      histogram: null,
    };
  }
  const present = column.values.filter((value) => Number.isFinite(value));
  const samples = new Set<number>();
  for (const value of present) {
    samples.add(value);
    if (samples.size === SAMPLES) break;
  }
  const [low, middle, high] = quantilesInPlace(present, [TRIMMED_SHARE, 0.5, 1 - TRIMMED_SHARE]);
  return {
    name: column.name,
    records: column.values.length,
    missing: column.values.length - present.length,
    samples: [...samples].map(String),
    middle: present.length === 0 ? null : middle!,
    histogram: present.length === 0 ? null : histogramOf(present, low!, high!),
  };
}

function histogramOf(values: Float64Array, low: number, high: number): Histogram {
  const counts = new Array<number>(high > low ? BARS : 1).fill(0);
  let beyond = 0;
  let [least, most] = [low, high];
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
    if (value < low || value > high) beyond++;
    else {
      const bar = high > low ? Math.min(Math.floor((BARS * (value - low)) / (high - low)), BARS - 1) : 0;
      counts[bar] = counts[bar]! + 1;
    }
  }
  return { low, high, counts, beyond, least, most };
}
