/** Figures the user writes into these tables; kept while the page is open, by field. */
import { signal } from "@preact/signals";
import type { NumberLocale } from "../../src/quantities/format.ts";
import { numberLocale, readTyped, toType } from "../words/numbers.ts";

/** As it was typed, and how numbers were written then. */
interface Written {
  text: string;
  locale: NumberLocale;
}

const written = signal<Readonly<Record<string, Written>>>({});

/** What stands in a box: what the user wrote, else what was known before; empty where neither. */
export function figureText(field: string, name: string, known: number | string | null): string {
  const locale = numberLocale.value;
  const typed = written.value[`${field}/${name}`];
  if (!typed) return typeof known === "number" ? toType(known, locale) : (known ?? "");
  if (typed.locale === locale) return typed.text;
  const value = readTyped(typed.text, typed.locale);
  return Number.isNaN(value) ? typed.text : toType(value, locale);
}

export function writeFigure(field: string, name: string, text: string): void {
  written.value = { ...written.value, [`${field}/${name}`]: { text, locale: numberLocale.value } };
}

/** A figure of money, 0 or more; null for an empty box or one that holds no such figure. */
export function moneyIn(text: string): number | null {
  const value = readTyped(text, numberLocale.value);
  return Number.isNaN(value) || value < 0 ? null : value;
}
