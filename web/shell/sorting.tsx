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
import { texts } from "../words/texts/texts.ts";
import { ColumnPickers, offersColumns } from "./column-pickers.tsx";
import { OpenFields } from "./welcome.tsx";

export function Sorting({ sorting }: { sorting: SortingShown }) {
  const { files, manifest, trouble } = sorting;
  const { sorting: said, roles, welcome } = texts.value;
  const [choices, setChoices] = useState<Record<string, FileChoice>>({});
  const roleOf = ({ file, role }: SortedFile) => (choices[file] ? choices[file].role : role);
  const twice = rolesTwice(files, choices);
  const log = files.some((file) => roleOf(file) === "plantingLog");
  const held = twice.length > 0 ? said.twice(twice.map((role) => roles[role])) : log ? null : said.noLog;
  const used = files.filter((file) => roleOf(file) !== null);
  const logAlone = used.length === 1 && log;
  const chosen = manifestBy(manifest, files, choices);
  return (
    <section class="sorting" aria-labelledby="sorting-title">
      <h2 id="sorting-title">{said.title}</h2>
      {trouble && (
        <div class="trouble" role="alert">
          <p>{trouble.message.replace(/^./, (letter) => letter.toUpperCase())}.</p>
          {trouble.accepted && !trouble.message.includes(trouble.accepted) && (
            <p>{welcome.accepted(trouble.accepted)}</p>
          )}
        </div>
      )}
      <table class="sorting-table">
        <thead>
          <tr>
            <th scope="col">{said.file}</th>
            <th scope="col">{said.takenFor}</th>
            <th scope="col" class="number">
              {said.records}
            </th>
            <th scope="col" class="number">
              {said.onField}
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
      {logAlone && <p class="small">{said.stillPlanting}</p>}
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
          {said.workOut}
        </button>
        {logAlone && (
          <button type="button" onClick={() => void lookAtFirstPasses(chosen)}>
            {said.firstPasses}
          </button>
        )}
        <button type="button" disabled={held !== null} onClick={() => saveJson("field.json", chosen)}>
          {said.saveAs}
        </button>
        <OpenFields title={said.chooseOther} />
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
  const { sorting: said, roles } = texts.value;
  return (
    <tr class={role === null ? "unused" : undefined}>
      <th scope="row">
        <FileName name={file.file} />
      </th>
      <td>
        <select
          aria-label={said.whatIs(file.file)}
          value={role ?? ""}
          disabled={file.records === null}
          onChange={(event) => {
            const chosen = event.currentTarget.value;
            onChoice({ role: LAYER_ROLES.find((each) => each === chosen) ?? null });
          }}
        >
          <option value="">{said.notUsed}</option>
          {LAYER_ROLES.map((each) => (
            <option key={each} value={each}>
              {roles[each]}
            </option>
          ))}
        </select>
        <p class="small">{asTaken ? reasonSaid(file) : said.asChosen}</p>
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
      <summary>{texts.value.sorting.unusedColumns(unused.length)}</summary>
      <ul class="small" aria-label={texts.value.sorting.columnsUnused(file)}>
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
      <h3>{texts.value.sorting.missing}</h3>
      <Lacks lacks={lacks} />
    </div>
  );
}

/** Why a file is taken for what it is, in words: the library names roles as a manifest does. */
function reasonSaid({ file, reason }: SortedFile): string {
  const said = LAYER_ROLES.reduce((text, role) => text.replaceAll(role, texts.value.roles[role]), reason);
  return said.startsWith(`${file}: `) ? said.slice(file.length + 2) : said;
}
