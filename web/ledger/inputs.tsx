/** What the answer was made from: every file, how its columns were read, what was left out and why. */
import type { DocumentInput } from "../../src/findings/findings-document.ts";
import type { LayerRole } from "../../src/manifest/manifest.ts";
import { missingParts } from "../../src/roles/missing-parts.ts";
import type { InputReport } from "../../src/vocabulary/field.ts";
import { saveJson } from "../controls/save-file.ts";
import * as state from "../model/state.ts";
import { groupThousands } from "../words/format.ts";
import { texts } from "../words/texts/texts.ts";

export function Inputs() {
  const inputs = state.findingsDocument.value?.inputs ?? [];
  const manifest = state.manifest.value;
  return (
    <ul class="inputs">
      {manifest && (
        <li>
          <button type="button" onClick={() => saveJson("field.json", manifest)}>
            {texts.value.ledger.saveField}
          </button>{" "}
          {texts.value.ledger.saveFieldSaid}
        </li>
      )}
      {inputs.map((input) => (
        <li key={`${input.role} ${input.file}`}>
          <strong>{roleSaid(input.role)}</strong>: {input.file}, {usedSaid(input)}
          <ReadColumns report={reportOf(input)} />
          <NotesSaid notes={input.notes} />
        </li>
      ))}
      <Missing />
    </ul>
  );
}

function roleSaid(role: string): string {
  const { roles } = texts.value;
  return role in roles ? roles[role as LayerRole] : role;
}

function usedSaid({ records, used, leftOut }: DocumentInput): string {
  const [all, taken, without] = [records, used, leftOut].map((count) => groupThousands(String(count)));
  const { ledger } = texts.value;
  return leftOut === 0 ? ledger.allUsed(all!) : ledger.someUsed(taken!, all!, without!);
}

/** The report carries no columns: only a page that read the files knows them. */
function reportOf(input: DocumentInput): InputReport | undefined {
  return state.inputReports.value.find(({ file, role }) => file === input.file && role === input.role);
}

function ReadColumns({ report }: { report: InputReport | undefined }) {
  if (!report || report.recognised.length === 0) return null;
  const { recognised, unrecognised, unusedReasons = [] } = report;
  const said = texts.value.ledger;
  return (
    <details>
      <summary>{said.columnsRead(unusedReasons.length)}</summary>
      <ul>
        {recognised.map(({ variable, column, unit, reason }) => (
          <li key={`${variable} ${column}`}>
            {said.columnAs(column, variable, unit === "1" ? "" : `, ${unit}`, reason)}
          </li>
        ))}
        {unusedReasons.map((reason, index) => (
          <li key={`not used ${unrecognised[index]}`}>{said.columnUnused(unrecognised[index]!, reason)}</li>
        ))}
      </ul>
    </details>
  );
}

/** What the files lack, and what each would change. */
function Missing() {
  const log = state.inputReports.value.find(({ role }) => role === "plantingLog");
  const manifest = state.manifest.value;
  if (!log || !manifest) return null;
  const lacks = missingParts(manifest, new Set(log.recognised.map(({ variable }) => variable)));
  if (lacks.length === 0) return null;
  return (
    <li>
      {texts.value.sorting.missing}
      <Lacks lacks={lacks} />
    </li>
  );
}

/** What `missingParts` lists. */
export function Lacks({ lacks }: { lacks: readonly string[] }) {
  return (
    <ul>
      {lacks.map((lack) => (
        <li key={lack}>{texts.value.sorting.lacks(lack)}</li>
      ))}
    </ul>
  );
}

function NotesSaid({ notes }: { notes: DocumentInput["notes"] }) {
  if (notes.length === 0) return null;
  return (
    <ul>
      {notes.map(({ reason, effect, count, field, firstRecord, value }) => (
        <li key={`${reason} ${field}`}>
          {reason} ({effect}
          {count > 1 ? `, ${texts.value.ledger.noteRecords(groupThousands(String(count)))}` : ""}
          {firstRecord === null ? "" : `, ${texts.value.ledger.firstRecord(String(firstRecord))}`}
          {field === null ? "" : `, ${field}`}
          {value === null ? "" : `: ${value}`})
        </li>
      ))}
    </ul>
  );
}
