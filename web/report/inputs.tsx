/** What the answer was made from: every file, what was used, and what was left out and why. */
import type { FindingsDocument } from "../../src/report/findings-document.ts";
import { groupThousands } from "../../src/report/format.ts";

export function Inputs({ document }: { document: FindingsDocument }) {
  return (
    <section aria-labelledby="inputs-title">
      <h2 id="inputs-title">What it rests on</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Role</th>
            <th scope="col">File</th>
            <th scope="col" class="number">
              Records
            </th>
            <th scope="col" class="number">
              Used
            </th>
            <th scope="col" class="number">
              Left out
            </th>
          </tr>
        </thead>
        <tbody>
          {document.inputs.map((input) => (
            <tr key={`${input.role} ${input.file}`}>
              <td>{input.role}</td>
              <td>{input.file}</td>
              <td class="number">{groupThousands(String(input.records))}</td>
              <td class="number">{groupThousands(String(input.used))}</td>
              <td class="number">{groupThousands(String(input.leftOut))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <ul class="notes small">
        {document.inputs.flatMap((input) =>
          input.notes.map((note) => (
            <li key={`${input.file} ${note.reason} ${note.field}`}>
              {input.file}: {note.reason} ({note.effect}, {groupThousands(String(note.count))})
            </li>
          )),
        )}
      </ul>
    </section>
  );
}
