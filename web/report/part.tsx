/** A part of the report behind its title: open on a wide screen and on paper, closed on a phone until it is wanted. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

/** The width from which the page lays its parts out beside each other, too. */
const WIDE = "(min-width: 801px)";

export function Part({ title, children }: { title: string; children: ComponentChildren }) {
  const [open, setOpen] = useState(() => matchMedia(WIDE).matches);
  useEffect(() => {
    // Paper folds nothing away.
    const onBeforePrint = () => setOpen(true);
    window.addEventListener("beforeprint", onBeforePrint);
    return () => window.removeEventListener("beforeprint", onBeforePrint);
  }, []);
  return (
    <section class="part" aria-label={title}>
      <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>
          <h2>{title}</h2>
        </summary>
        {children}
      </details>
    </section>
  );
}
