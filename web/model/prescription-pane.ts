/** What the pane beside the map holds. Apart from the rest, so that a page without a prescription loads none of it. */
import { signal } from "@preact/signals";

export type Pane = "ledger" | "prescription";
export const pane = signal<Pane>("ledger");
