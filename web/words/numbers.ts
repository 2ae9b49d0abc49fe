/** How the reader writes numbers: by the browser's language, or as chosen; and what is typed, read the same way. */
import { computed, signal } from "@preact/signals";
import { formatMoney, groupThousands, type NumberLocale } from "../../src/quantities/format.ts";
import { languageChoice } from "./language.ts";

/** Ways of writing, named by what they make of one figure, and a language that writes so. */
const WAYS = { "1,234.5": "en", "1 234,5": "fr", "1.234,5": "de" } as const;

export const NUMBER_CHOICES = ["auto", ...(Object.keys(WAYS) as (keyof typeof WAYS)[])] as const;
export type NumberChoice = (typeof NUMBER_CHOICES)[number];

export const numberChoice = signal<NumberChoice>("auto");
const ofDevice = signal<NumberLocale>("en");

/** As the browser writes; as the language that was chosen by hand does, where the browser speaks another. */
const automatic = computed<NumberLocale>(() => {
  const chosen = languageChoice.value;
  return chosen === "auto" || ofDevice.value.split("-")[0] === chosen ? ofDevice.value : chosen;
});

/** The locale the page's figures are written in. */
export const numberLocale = computed<NumberLocale>(() =>
  numberChoice.value === "auto" ? automatic.value : WAYS[numberChoice.value],
);

/**
 * Takes the browser's language for automatic, now and whenever it changes.
 * @param written whose way automatic is instead: a report's tables are written as its sentences are
 */
export function followLanguage(written?: NumberLocale): void {
  if (written !== undefined) {
    ofDevice.value = written;
    return;
  }
  const take = () => {
    ofDevice.value = localeOf(navigator.language);
  };
  addEventListener("languagechange", take);
  take();
}

/** A language tag as a locale for numbers: English where it writes as English does, or is none at all. */
export function localeOf(tag: string): NumberLocale {
  try {
    const [plain, money] = [groupThousands("1234567.5", tag), formatMoney(1_234_500, "USD", tag)];
    const english = plain === "1,234,567.5" && money.replace(/\s/, " ") === "USD 1,234,500";
    return english ? "en" : tag;
  } catch {
    return "en";
  }
}

/** One figure as automatic writes it, to be recognised by. */
export function automaticSample(): string {
  return groupThousands("1234.5", automatic.value);
}

/**
 * A number as someone typed it: with the decimal sign of the locale and perhaps its grouping, or with the other
 * sign where it cannot be grouping ("0,5" in English, "0.5" in German).
 * @returns NaN for anything else.
 */
export function readTyped(text: string, locale: NumberLocale): number {
  const { decimal, group } = signsOf(locale);
  const bare = text.replaceAll(/[\s'\u2019]/g, "").replace("\u2212", "-");
  const grouped = bare.split(decimal)[0]!.replace(/^[-+]/, "");
  const isGrouped = /[.,]/.test(group) && /^\d{1,3}([.,]\d{3})+$/.test(grouped) && grouped.includes(group);
  const plain = (isGrouped ? bare.replaceAll(group, "") : bare).replace(",", ".");
  return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN;
}

/** A number for a box to type into: ungrouped, with the decimal sign of the locale. */
export function toType(value: number, locale: NumberLocale): string {
  return String(value).replace(".", signsOf(locale).decimal);
}

function signsOf(locale: NumberLocale): { decimal: string; group: string } {
  const parts = new Intl.NumberFormat(locale, { numberingSystem: "latn" }).formatToParts(1_234_567.5);
  const sign = (type: "decimal" | "group") => parts.find((part) => part.type === type)?.value ?? "";
  return { decimal: sign("decimal"), group: sign("group") };
}
