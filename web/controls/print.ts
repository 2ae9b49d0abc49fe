/** Printing: all of it, or the farmer's two pages. */
import { signal } from "@preact/signals";

export type Printed = "short" | "whole";

/** What is being laid out for paper; null while nothing is. */
export const printing = signal<Printed | null>(null);

export function print(how: Printed): void {
  const root = document.documentElement;
  root.dataset.print = how;
  printing.value = how;
  window.addEventListener(
    "afterprint",
    () => {
      delete root.dataset.print;
      printing.value = null;
    },
    { once: true },
  );
  // What only paper shows is on the page with the next frame.
  requestAnimationFrame(() => requestAnimationFrame(() => window.print()));
}
