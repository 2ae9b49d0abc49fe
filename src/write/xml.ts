/** XML elements with attributes, as text. */
import { escapeMarkup } from "./markup.ts";

export type XmlAttributes = Readonly<Record<string, string | number | null>>;

/** One element; attributes that are null are left out, children stand indented by one blank a level. */
export function xmlElement(
  name: string,
  attributes: XmlAttributes,
  children: readonly string[] = [],
): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== null)
    .map(([key, value]) => ` ${key}="${escapeMarkup(String(value))}"`)
    .join("");
  if (children.length === 0) return `<${name}${written}/>`;
  const inner = children.map((child) => child.replace(/^/gm, " ")).join("\n");
  return `<${name}${written}>\n${inner}\n</${name}>`;
}

/** A number as xs:decimal: never with an exponent, at most so many decimals, no trailing zeros. */
export function xmlDecimal(value: number, mostDecimals: number): string {
  const text = value.toFixed(mostDecimals);
  const short = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  return short === "-0" ? "0" : short;
}
