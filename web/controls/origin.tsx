/** Every figure answers how it was computed and from where: one click on it, or Enter. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import * as state from "../model/state.ts";
import type { ValueName } from "../protocol/ground.ts";
import { ORIGINS, type OriginName } from "../words/origins.ts";
import { texts } from "../words/texts/texts.ts";
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
      title={texts.value.map.howComputed(ORIGINS[of].title)}
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
    [texts.value.map.computedAs, formula],
    [texts.value.map.from, from],
    [texts.value.map.source, source],
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
        <button type="submit">{texts.value.map.close}</button>
      </form>
    </dialog>
  );
}

function columnsSaid(variable: ValueName | null): [string, string][] {
  if (variable === null) return [];
  const said: [string, string][] = [[texts.value.map.thisOne, VARIABLES[variable].technical]];
  const log = state.inputReports.value.find(({ role }) => role === "plantingLog");
  for (const { variable: read, column, unit, reason } of log?.recognised ?? []) {
    if (read === variable) {
      said.push([
        texts.value.map.column,
        texts.value.map.columnOf(column, log!.file, unit === "1" ? "" : `, ${unit}`, reason),
      ]);
    }
  }
  return said;
}
