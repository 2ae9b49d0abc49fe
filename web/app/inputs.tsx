/** What the answer was made from: every file, how its columns were read, what was left out and why. */
import type { Recognition } from "../../src/field/field.ts";
import type { DocumentInput } from "../../src/report/findings-document.ts";
import { groupThousands } from "../words/format.ts";
import { saveJson } from "./save-json.ts";
import * as state from "./state.ts";

const ROLES_SAID: Readonly<Record<string, string>> = {
  plantingLog: "planter's log",
  soilZones: "soil map",
  standCounts: "stand counts",
  digs: "digs",
  boundary: "boundary",
  seedLots: "seed lots",
  weather: "weather",
  yield: "yield",
};

export function Inputs() {
  const inputs = state.findingsDocument.value?.inputs ?? [];
  const manifest = state.manifest.value;
  return (
    <ul class="inputs">
      {manifest && (
        <li>
          <button type="button" onClick={() => saveJson("field.json", manifest)}>
            Save field.json
          </button>{" "}
          which file is what and how its columns are read; keep it beside the files
        </li>
      )}
      {inputs.map((input) => (
        <li key={`${input.role} ${input.file}`}>
          <strong>{ROLES_SAID[input.role] ?? input.role}</strong>: {input.file}, {usedSaid(input)}
          <ReadColumns columns={columnsOf(input)} />
          <NotesSaid notes={input.notes} />
        </li>
      ))}
    </ul>
  );
}

function usedSaid({ records, used, leftOut }: DocumentInput): string {
  const [all, taken, without] = [records, used, leftOut].map((count) => groupThousands(String(count)));
  return leftOut === 0 ? `all ${all} records used` : `${taken} of ${all} records used, ${without} left out`;
}

/** The report carries no columns: only a page that read the files knows them. */
function columnsOf(input: DocumentInput): Recognition[] {
  return (
    state.inputReports.value.find(({ file, role }) => file === input.file && role === input.role)
      ?.recognised ?? []
  );
}

function ReadColumns({ columns }: { columns: Recognition[] }) {
  if (columns.length === 0) return null;
  return (
    <details>
      <summary>How its columns were read</summary>
      <ul>
        {columns.map(({ variable, column, unit, reason }) => (
          <li key={`${variable} ${column}`}>
            {column} as {variable}
            {unit === "1" ? "" : `, ${unit}`}: {reason}
          </li>
        ))}
      </ul>
    </details>
  );
}

function NotesSaid({ notes }: { notes: DocumentInput["notes"] }) {
  if (notes.length === 0) return null;
  return (
    <ul>
      {notes.map(({ reason, effect, count, field, firstRecord, value }) => (
        <li key={`${reason} ${field}`}>
          {reason} ({effect}
          {count > 1 ? `, ${groupThousands(String(count))} records` : ""}
          {firstRecord === null ? "" : `, first record ${firstRecord}`}
          {field === null ? "" : `, ${field}`}
          {value === null ? "" : `: ${value}`})
        </li>
      ))}
    </ul>
  );
}
