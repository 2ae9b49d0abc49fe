/** Last year's figures, from the findings of an analysis. */
import { FileUnusableError } from "../errors.ts";
import { FINDINGS_SCHEMA, type FindingsDocument } from "../report/findings-document.ts";
import type { CheckVariable, LastYear } from "./check-result.ts";

const VARIABLES: readonly CheckVariable[] = [
  "seedingDepth",
  "downForceMargin",
  "groundContact",
  "misses",
  "multiples",
  "singulation",
  "population",
  "speed",
];

/**
 * Means over all passes, weighed by their records, and the rows that departed.
 * @param file name for messages
 * @throws {FileUnusableError} where the text is not a findings.json of this program
 */
export function lastYearOf(text: string, file: string): LastYear {
  const document = findingsIn(text, file);
  const means: LastYear["means"] = {};
  for (const variable of VARIABLES) {
    const rows = document.comparison.filter(
      (row) =>
        row.variable === variable &&
        row.pass !== null &&
        row.soilZone === null &&
        row.rowUnit === null &&
        row.records > 0 &&
        Number.isFinite(row.mean),
    );
    const records = rows.reduce((sum, row) => sum + row.records, 0);
    if (records > 0) means[variable] = rows.reduce((sum, row) => sum + row.mean * row.records, 0) / records;
  }
  return {
    field: String(document.field.name),
    season: typeof document.field.season === "number" ? document.field.season : null,
    crop: String(document.field.crop),
    means,
    rows: (document.summary.departingRows ?? []).map(({ rowUnits, variable }) => ({ rowUnits, variable })),
  };
}

/** As far as it is read here, checked: a file may be cut short or another program's. */
function findingsIn(text: string, file: string): FindingsDocument {
  const refusal = (why: string, cause?: unknown): FileUnusableError =>
    new FileUnusableError(
      `${file}: ${why}; give the findings.json that "evenstand analyse" wrote last year`,
      {
        file,
        accepted: `JSON with "schema": "${FINDINGS_SCHEMA}"`,
        cause,
      },
    );
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (cause) {
    throw refusal("is not JSON, or is cut short", cause);
  }
  const document = json as Partial<FindingsDocument> | null;
  if (document?.schema !== FINDINGS_SCHEMA) throw refusal("is not the findings of an analysis");
  const isWhole =
    typeof document.field === "object" &&
    document.field !== null &&
    typeof document.summary === "object" &&
    document.summary !== null &&
    isListOfObjects(document.comparison) &&
    isListOfObjects(document.summary.departingRows ?? []) &&
    (document.summary.departingRows ?? []).every(({ rowUnits }) => Array.isArray(rowUnits));
  if (!isWhole) throw refusal("lacks parts of the findings of an analysis");
  return document as FindingsDocument;
}

function isListOfObjects(list: unknown): boolean {
  return Array.isArray(list) && list.every((entry) => typeof entry === "object" && entry !== null);
}
