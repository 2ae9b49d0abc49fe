/** The line between two parts of the page: dragged, moved with the arrow keys, or shut and opened. */
import { useRef, useState } from "preact/hooks";
import { dragged, type PaneName, paneSizes, setPane, sizesFor } from "../model/panes.ts";
import { texts } from "../words/texts/texts.ts";

/** One press of an arrow key, CSS pixels. */
const STEP = 24;

const TITLES = { ledger: "ledgerWidth", dock: "dockHeight" } as const satisfies Record<PaneName, string>;

export function Splitter({ pane }: { pane: PaneName }) {
  const line = useRef<HTMLDivElement>(null);
  const [held, setHeld] = useState(false);
  const upright = pane === "ledger";
  const { size, shut } = paneSizes.value[pane];
  /** The part, and the room that it and the map share, as they lie on the page now. */
  const measured = () => {
    const spread = line.current!.parentElement!.getBoundingClientRect();
    const part = line.current!.parentElement!.querySelector(upright ? ".ledger-pane" : ".dock");
    const box = part?.getBoundingClientRect();
    return upright
      ? { room: spread.width, now: box?.width ?? 0, edge: spread.left }
      : { room: spread.height, now: box?.height ?? 0, edge: spread.bottom };
  };
  const change = (by: number) => {
    const { room, now } = measured();
    setPane(pane, dragged(pane, (shut ? sizesFor(pane, room).least : now) + by, room));
  };
  const toggle = () => setPane(pane, { size, shut: !shut });
  return (
    // biome-ignore lint/a11y/useSemanticElements: a rule (hr) cannot be moved; a window splitter is this role with a value
    <div
      ref={line}
      class={`splitter ${upright ? "upright" : "level"}${held ? " held" : ""}`}
      role="separator"
      tabIndex={0}
      aria-label={texts.value.map[TITLES[pane]]}
      aria-orientation={upright ? "vertical" : "horizontal"}
      aria-valuenow={shut ? 0 : (size ?? Math.round(sizesFor(pane, 0).least))}
      aria-valuemin={0}
      aria-valuemax={4000}
      aria-valuetext={
        shut ? texts.value.map.shut : size === null ? texts.value.map.asLaidOut : texts.value.map.pixels(size)
      }
      title={texts.value.map.splitterHint}
      onDblClick={toggle}
      onPointerDown={(event) => {
        event.preventDefault();
        event.currentTarget.setPointerCapture(event.pointerId);
        event.currentTarget.focus({ focusVisible: false } as FocusOptions);
        setHeld(true);
      }}
      onPointerMove={(event) => {
        if (!held) return;
        const { room, edge } = measured();
        const wanted = upright ? event.clientX - edge : edge - event.clientY;
        setPane(pane, dragged(pane, wanted, room));
      }}
      onPointerUp={() => setHeld(false)}
      onPointerCancel={() => setHeld(false)}
      onKeyDown={(event) => {
        const [less, more] = upright ? ["ArrowLeft", "ArrowRight"] : ["ArrowDown", "ArrowUp"];
        if (event.key === less) change(-STEP);
        else if (event.key === more) change(STEP);
        else if (event.key === "Home") setPane(pane, { size, shut: true });
        else if (event.key === "End") change(10_000);
        else if (event.key === "Enter") toggle();
        else return;
        event.preventDefault();
      }}
    />
  );
}
