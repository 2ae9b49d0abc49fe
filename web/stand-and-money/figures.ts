/** Figures the user writes into these tables; kept while the page is open, by field. */
import { signal } from "@preact/signals";

const written = signal<Readonly<Record<string, string>>>({});

/** What stands in a box: what the user wrote, else what was known before; empty where neither. */
export function figureText(field: string, name: string, known: number | string | null): string {
  return written.value[`${field}/${name}`] ?? (known === null ? "" : String(known));
}

export function writeFigure(field: string, name: string, text: string): void {
  written.value = { ...written.value, [`${field}/${name}`]: text };
}

/** A figure of money, 0 or more; null for an empty box or one that holds no such figure. */
export function moneyIn(text: string): number | null {
  const value = Number(text.trim().replaceAll(",", ""));
  return text.trim() === "" || !Number.isFinite(value) || value < 0 ? null : value;
}
