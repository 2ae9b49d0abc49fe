/** A button that opens a small sheet over the page; Escape or a press beside it closes it. */
import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";

/** @param onOpen called as the sheet opens, before anything in it is pressed. */
export function Menu(props: {
  name: string;
  title: string;
  onOpen?: () => void;
  children: ComponentChildren;
}) {
  const { name, title, onOpen, children } = props;
  const sheet = useRef<HTMLDivElement>(null);
  return (
    <>
      <button type="button" popovertarget={`menu-${name}`}>
        {title}
      </button>
      <div
        ref={sheet}
        id={`menu-${name}`}
        class="menu"
        popover="auto"
        role="dialog"
        aria-label={title}
        onBeforeToggle={(event) => {
          if (event.newState === "open") onOpen?.();
        }}
      >
        {children}
      </div>
    </>
  );
}
