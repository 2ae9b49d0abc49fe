/** Findings read back from a file. */
import { FileUnusableError } from "../errors.ts";
import { FINDINGS_SCHEMA, type FindingsDocument } from "./findings-document.ts";

/**
 * The findings in the text of a findings.json. Its outer parts are checked: a file may be cut short or another program's.
 * @param file name for messages
 * @throws {FileUnusableError} where the text is not a findings.json of this program
 */
export function findingsInText(text: string, file: string): FindingsDocument {
  const refusal = (why: string, cause?: unknown): FileUnusableError =>
    new FileUnusableError(`${file}: ${why}; give the findings.json that "evenstand analyse" wrote`, {
      file,
      accepted: `JSON with "schema": "${FINDINGS_SCHEMA}"`,
      cause,
    });
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
    isListOfObjects(document.findings) &&
    isListOfObjects(document.summary.departingRows ?? []) &&
    (document.summary.departingRows ?? []).every(({ rowUnits }) => Array.isArray(rowUnits));
  if (!isWhole) throw refusal("lacks parts of the findings of an analysis");
  return document as FindingsDocument;
}

function isListOfObjects(list: unknown): boolean {
  return Array.isArray(list) && list.every((entry) => typeof entry === "object" && entry !== null);
}
