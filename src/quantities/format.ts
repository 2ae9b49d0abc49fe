/** Quantities as people read them, in farm units or metric. Inside units in, text with unit out. */
import { convert, SQUARE_METRES_PER_HECTARE } from "./units.ts";

export type UnitSystem = "farm" | "metric";

/** Whose way of writing figures, as a language tag; English is written here and alike on every machine. */
export type NumberLocale = string;

const ENGLISH: NumberLocale = "en";

/** In which units and whose way figures are written; English where only the units are named. */
export type FigureStyle = UnitSystem | { readonly units: UnitSystem; readonly locale: NumberLocale };

function localeIn(style: FigureStyle): NumberLocale {
  return typeof style === "string" ? ENGLISH : style.locale;
}

function unitsIn(style: FigureStyle): UnitSystem {
  return typeof style === "string" ? style : style.units;
}

/** What a figure is of; decides unit and decimals. */
export type QuantityKind =
  | "depth"
  | "force"
  | "speed"
  | "acceleration"
  | "seeds"
  | "plants"
  | "share"
  | "area"
  | "length";

interface Style {
  inside: string;
  unit: string;
  label: string;
  decimals: number;
  /** Rounded to a multiple of this in the shown unit, where last digits would be false precision. */
  step?: number;
}

const STYLES: Record<QuantityKind, Record<UnitSystem, Style>> = {
  depth: {
    farm: { inside: "mm", unit: "in", label: "in", decimals: 2 },
    metric: { inside: "mm", unit: "mm", label: "mm", decimals: 0 },
  },
  force: {
    farm: { inside: "N", unit: "lbf", label: "lb", decimals: 0 },
    metric: { inside: "N", unit: "N", label: "N", decimals: 0, step: 10 },
  },
  speed: {
    farm: { inside: "m/s", unit: "mi/h", label: "mph", decimals: 1 },
    metric: { inside: "m/s", unit: "km/h", label: "km/h", decimals: 1 },
  },
  // Change of speed in a second.
  acceleration: {
    farm: { inside: "m/s", unit: "mi/h", label: "mph/s", decimals: 2 },
    metric: { inside: "m/s", unit: "km/h", label: "km/h/s", decimals: 2 },
  },
  seeds: {
    farm: { inside: "seeds/ha", unit: "seeds/ac", label: "seeds/ac", decimals: 0, step: 100 },
    metric: { inside: "seeds/ha", unit: "seeds/ha", label: "seeds/ha", decimals: 0, step: 100 },
  },
  plants: {
    farm: { inside: "plants/ha", unit: "plants/ac", label: "plants/ac", decimals: 0, step: 100 },
    metric: { inside: "plants/ha", unit: "plants/ha", label: "plants/ha", decimals: 0, step: 100 },
  },
  share: {
    farm: { inside: "share", unit: "%", label: "%", decimals: 1 },
    metric: { inside: "share", unit: "%", label: "%", decimals: 1 },
  },
  area: {
    farm: { inside: "ha", unit: "ac", label: "ac", decimals: 1 },
    metric: { inside: "ha", unit: "ha", label: "ha", decimals: 1 },
  },
  length: {
    farm: { inside: "m", unit: "ft", label: "ft", decimals: 0 },
    metric: { inside: "m", unit: "m", label: "m", decimals: 0 },
  },
};

/** The unit label a kind is shown in. */
export function unitLabel(kind: QuantityKind, system: UnitSystem): string {
  return STYLES[kind][system].label;
}

/** The figure in the shown unit, not rounded. */
export function shownValue(value: number, kind: QuantityKind, system: UnitSystem): number {
  const style = STYLES[kind][system];
  return convert(value, style.inside, style.unit);
}

/** The figure alone, e.g. "31,900". */
export function formatNumber(
  value: number,
  kind: QuantityKind,
  written: FigureStyle,
  locale: NumberLocale = localeIn(written),
): string {
  const system = unitsIn(written);
  const style = STYLES[kind][system];
  const shown = shownValue(value, kind, system);
  const rounded = style.step ? Math.round(shown / style.step) * style.step : shown;
  return groupThousands(rounded.toFixed(style.decimals), locale);
}

/** Figure and unit, e.g. "2.00 in"; percent without a gap in front is avoided ("16.0 %"). */
export function formatQuantity(
  value: number,
  kind: QuantityKind,
  written: FigureStyle,
  locale: NumberLocale = localeIn(written),
): string {
  return `${formatNumber(value, kind, written, locale)} ${unitLabel(kind, unitsIn(written))}`;
}

/** Money as it is shown: to about two significant figures, since an estimate carries no more. */
export function roundMoney(value: number): number {
  const size = Math.abs(value);
  const step = size >= 1000 ? 100 : size >= 100 ? 10 : 1;
  return Math.round(value / step) * step;
}

/** Money without false precision, e.g. "USD 1,200"; the currency by its code, where the locale puts it. */
export function formatMoney(value: number, currency: string, locale: NumberLocale = ENGLISH): string {
  const digits = roundMoney(value).toFixed(0);
  if (locale === ENGLISH || !/^[A-Za-z]{3}$/.test(currency))
    return `${currency} ${groupThousands(digits, locale)}`;
  return writer(locale, 0, currency).format(Number(digits) + 0);
}

/** A share as whole percent, e.g. "93 %". */
export function formatPercent(share: number, decimals = 0, locale: NumberLocale = ENGLISH): string {
  return `${groupThousands((share * 100).toFixed(decimals), locale)} %`;
}

/** A plain decimal figure with its thousands grouped, and with the decimal sign of the locale; zero has no sign. */
export function groupThousands(digits: string, locale: NumberLocale = ENGLISH): string {
  if (locale !== ENGLISH)
    return writer(locale, digits.split(".")[1]?.length ?? 0, null).format(Number(digits) + 0);
  const [whole, fraction] = digits.split(".");
  const grouped = whole!.replace(/\B(?=(\d{3})+(?!\d))/g, ",");
  const text = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  return /^-[0,.]*$/.test(text) ? text.slice(1) : text;
}

/** Writers by what they write: making one costs far more than using it. */
const WRITERS = new Map<string, Intl.NumberFormat>();

function writer(locale: NumberLocale, decimals: number, currency: string | null): Intl.NumberFormat {
  const key = `${locale} ${decimals} ${currency}`;
  const known = WRITERS.get(key);
  if (known) return known;
  const made = new Intl.NumberFormat(locale, {
    numberingSystem: "latn",
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
    ...(currency === null ? {} : { style: "currency", currency, currencyDisplay: "code" }),
  });
  WRITERS.set(key, made);
  return made;
}

/** Hectares from square metres. */
export function hectares(areaM2: number): number {
  return areaM2 / SQUARE_METRES_PER_HECTARE;
}
