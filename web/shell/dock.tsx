/** Under the map: the furrow strip, the row units, the passes by soil, the counts, stand and money, or another season; one at a time. */
import { paneSizes, setPane } from "../model/panes.ts";
import * as state from "../model/state.ts";
import { texts } from "../words/texts/texts.ts";
import { DOCK_PARTS } from "./dock-parts.tsx";

export function DockPanel() {
  const chosen = state.dock.value;
  const { tools, body } = DOCK_PARTS[chosen];
  const title = DOCK_PARTS[chosen].title();
  return (
    <section class="dock" data-shows={chosen} aria-label={texts.value.dock.label}>
      <div class="dock-choice">
        {state.DOCKS.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={chosen === name}
            onClick={() => {
              state.dock.value = name;
              const { dock } = paneSizes.value;
              if (dock.shut) setPane("dock", { ...dock, shut: false });
            }}
          >
            {DOCK_PARTS[name].title()}
          </button>
        ))}
        {tools?.()}
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region has to be reachable by keyboard */}
      <section class="dock-body" tabIndex={0} aria-label={title}>
        <h2 class="visually-hidden">{title}</h2>
        {body()}
      </section>
    </section>
  );
}
