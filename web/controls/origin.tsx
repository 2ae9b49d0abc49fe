/** Every figure answers how it was computed and from where: one click on it, or Enter. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import * as state from "../model/state.ts";
import type { ValueName } from "../protocol/ground.ts";
import { ORIGINS, type OriginName } from "../words/origins.ts";
import { VARIABLES } from "../words/variables.ts";

interface Asked {
  of: OriginName;
  /** The variable a legend or a chart shows, whose column is named too. */
  variable: ValueName | null;
}

const asked = signal<Asked | null>(null);

/** A figure or its heading as a button; on paper it is plain text. */
export function Origin(props: { of: OriginName; variable?: ValueName; children: ComponentChildren }) {
  const { of, variable, children } = props;
  return (
    <button
      type="button"
      class="origin"
      aria-haspopup="dialog"
      title={`How this was computed: ${ORIGINS[of].title}`}
      onClick={() => {
        asked.value = { of, variable: variable ?? null };
      }}
    >
      {children}
    </button>
  );
}

/** Stands once on the page. */
export function OriginDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const shown = asked.value;
  useEffect(() => {
    if (shown && !dialog.current?.open) dialog.current?.showModal();
  }, [shown]);
  if (!shown) return null;
  const { title, formula, from, source } = ORIGINS[shown.of];
  const rows: [string, string][] = [
    ["Computed as", formula],
    ["From", from],
    ["Source", source],
    ...columnsSaid(shown.variable),
  ];
  return (
    <dialog
      ref={dialog}
      class="origin-dialog"
      aria-labelledby="origin-title"
      onClose={() => {
        asked.value = null;
      }}
    >
      <h2 id="origin-title">{title}</h2>
      <dl>
        {rows.map(([name, text]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      <form method="dialog">
        <button type="submit">Close</button>
      </form>
    </dialog>
  );
}

function columnsSaid(variable: ValueName | null): [string, string][] {
  if (variable === null) return [];
  const said: [string, string][] = [["This one", VARIABLES[variable].technical]];
  const log = state.inputReports.value.find(({ role }) => role === "plantingLog");
  for (const { variable: read, column, unit, reason } of log?.recognised ?? []) {
    if (read === variable) {
      said.push(["Column", `${column} of ${log!.file}${unit === "1" ? "" : `, ${unit}`}: ${reason}`]);
    }
  }
  return said;
}
