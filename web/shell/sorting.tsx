/** After files were dropped: what each is taken for, how much of it lies on the field, and the choice beside it. */
import { Fragment } from "preact";
import { useState } from "preact/hooks";
import { LAYER_ROLES, type LayerRole } from "../../src/manifest/manifest.ts";
import { missingParts } from "../../src/roles/missing-parts.ts";
import { lookAtFirstPasses, readSorted } from "../client/open-field.ts";
import { saveJson } from "../controls/save-file.ts";
import { Lacks } from "../ledger/inputs.tsx";
import { type FileChoice, manifestBy, rolesTwice, type SortedFile } from "../protocol/file-choices.ts";
import type { SortingShown } from "../protocol/protocol.ts";
import { formatPercent, groupThousands } from "../words/format.ts";
import { ROLES_SAID } from "../words/role-words.ts";
import { ColumnPickers, offersColumns } from "./column-pickers.tsx";
import { OpenFields } from "./welcome.tsx";

export function Sorting({ sorting }: { sorting: SortingShown }) {
  const { files, manifest, trouble } = sorting;
  const [choices, setChoices] = useState<Record<string, FileChoice>>({});
  const roleOf = ({ file, role }: SortedFile) => (choices[file] ? choices[file].role : role);
  const twice = rolesTwice(files, choices);
  const log = files.some((file) => roleOf(file) === "plantingLog");
  const held =
    twice.length > 0
      ? `Two files are to be the ${twice.map((role) => ROLES_SAID[role]).join(" and the ")}: choose one, the other "not used".`
      : log
        ? null
        : "No file is taken for the planter's log yet: choose it below. Nothing can be worked out without one.";
  const used = files.filter((file) => roleOf(file) !== null);
  const logAlone = used.length === 1 && log;
  const chosen = manifestBy(manifest, files, choices);
  return (
    <section class="sorting" aria-labelledby="sorting-title">
      <h2 id="sorting-title">What these files are taken for</h2>
      {trouble && (
        <div class="trouble" role="alert">
          <p>{trouble.message.replace(/^./, (letter) => letter.toUpperCase())}.</p>
          {trouble.accepted && !trouble.message.includes(trouble.accepted) && (
            <p>Accepted would be: {trouble.accepted}</p>
          )}
        </div>
      )}
      <table class="sorting-table">
        <thead>
          <tr>
            <th scope="col">File</th>
            <th scope="col">Taken for</th>
            <th scope="col" class="number">
              Records
            </th>
            <th scope="col" class="number">
              On the field
            </th>
          </tr>
        </thead>
        <tbody>
          {files.map((file) => (
            <Row
              key={file.file}
              file={file}
              role={roleOf(file)}
              choice={choices[file.file]}
              onChoice={(choice) => setChoices({ ...choices, [file.file]: choice })}
            />
          ))}
        </tbody>
      </table>
      <Missing manifest={chosen} log={files.find((file) => roleOf(file) === "plantingLog")} />
      {logAlone && (
        <p class="small">
          Planting still goes on? “Look at the first passes” says what to change now and where to dig.
        </p>
      )}
      <p class="small" role="status">
        {held}
      </p>
      <div class="welcome-actions">
        <button
          type="button"
          class="main-action"
          disabled={held !== null}
          onClick={() => void readSorted(chosen)}
        >
          Work it out
        </button>
        {logAlone && (
          <button type="button" onClick={() => void lookAtFirstPasses(chosen)}>
            Look at the first passes
          </button>
        )}
        <button type="button" disabled={held !== null} onClick={() => saveJson("field.json", chosen)}>
          Save as field.json
        </button>
        <OpenFields title="Choose other files" />
      </div>
    </section>
  );
}

function Row(props: {
  file: SortedFile;
  role: LayerRole | null;
  choice: FileChoice | undefined;
  onChoice: (choice: FileChoice) => void;
}) {
  const { file, role, choice, onChoice } = props;
  const asTaken = role === file.role;
  return (
    <tr class={role === null ? "unused" : undefined}>
      <th scope="row">
        <FileName name={file.file} />
      </th>
      <td>
        <select
          aria-label={`What ${file.file} is`}
          value={role ?? ""}
          disabled={file.records === null}
          onChange={(event) => {
            const chosen = event.currentTarget.value;
            onChoice({ role: LAYER_ROLES.find((each) => each === chosen) ?? null });
          }}
        >
          <option value="">not used</option>
          {LAYER_ROLES.map((each) => (
            <option key={each} value={each}>
              {ROLES_SAID[each]}
            </option>
          ))}
        </select>
        <p class="small">{asTaken ? reasonSaid(file) : "as you chose"}</p>
        {asTaken &&
          file.warnings.map((warning) => (
            <p key={warning} class="sorting-warning">
              {warning}
            </p>
          ))}
        {asTaken && <UnusedColumns file={file} />}
        {offersColumns(file, role) && (
          <ColumnPickers file={file} role={role!} choice={choice ?? { role }} onChoice={onChoice} />
        )}
      </td>
      <td class="number" data-said="records">
        {file.records === null ? "" : groupThousands(String(file.records))}
      </td>
      <td class="number" data-said="on the field">
        {file.onField === null ? "" : formatPercent(file.onField)}
      </td>
    </tr>
  );
}

/** A name that breaks before its marks where it does not fit. */
function FileName({ name }: { name: string }) {
  const [first, ...rest] = name.split(/(?=[._/\\-])/);
  return (
    <>
      {first}
      {rest.map((part, index) => (
        <Fragment key={index}>
          <wbr />
          {part}
        </Fragment>
      ))}
    </>
  );
}

/** Columns that play no part, each with the reason, before anything is worked out. */
function UnusedColumns({ file: { file, unused } }: { file: SortedFile }) {
  if (unused.length === 0) return null;
  return (
    <details class="unused-columns">
      <summary>
        {unused.length === 1
          ? "1 of its columns is not used"
          : `${unused.length} of its columns are not used`}
        , and why
      </summary>
      <ul class="small" aria-label={`Columns of ${file} that are not used`}>
        {unused.map(({ column, reason }) => (
          <li key={column}>
            <strong>{column}</strong>: {reason}
          </li>
        ))}
      </ul>
    </details>
  );
}

/** What the files lack, and what each would change; of a log that was chosen by hand only the other files are looked at. */
function Missing({ manifest, log }: { manifest: Record<string, unknown>; log: SortedFile | undefined }) {
  if (!log) return null;
  const lacks = missingParts(manifest, log.role === "plantingLog" ? new Set(log.variables) : null);
  if (lacks.length === 0) return null;
  return (
    <div class="sorting-missing">
      <h3>Missing, and what it changes</h3>
      <Lacks lacks={lacks} />
    </div>
  );
}

/** Why a file is taken for what it is, in words: the library names roles as a manifest does. */
function reasonSaid({ file, reason }: SortedFile): string {
  const said = LAYER_ROLES.reduce((text, role) => text.replaceAll(role, ROLES_SAID[role]), reason);
  return said.startsWith(`${file}: `) ? said.slice(file.length + 2) : said;
}
