/**
 * The last step of every text on its way to the screen: a figure and its unit stay on one line, and a date is written so
 * that nobody takes its month for its day. Files are written from the texts as they were.
 */
import { options, type VNode } from "preact";
import { type UnitSystem, unitLabel } from "../../src/quantities/format.ts";
import type { Language } from "../../src/texts/language.ts";
import { language } from "./language.ts";

const NO_BREAK = "\u00a0";

const SYSTEMS: readonly UnitSystem[] = ["farm", "metric"];
const KINDS = ["depth", "force", "speed", "acceleration", "seeds", "plants", "area", "length"] as const;

/** Behind a figure: units of the page, and those that sentences of the library name beside them. */
const UNITS = [
  "%",
  "cm",
  "mi",
  "km",
  "psi",
  "kPa",
  "USD",
  "EUR",
  ...new Set(SYSTEMS.flatMap((system) => KINDS.map((kind) => unitLabel(kind, system)))),
];

const FIGURE_AND_UNIT = new RegExp(`(\\d) (?=(?:${UNITS.join("|")})(?![\\w]))`, "g");
const CURRENCY_AND_FIGURE = /\b([A-Z]{3}) (?=\d)/g;

/** Year, month, day; not a part of a longer word, of a file name or of a time. */
const DATE = /(?<![\w./-])(\d{4}-\d{2}-\d{2})(?![\w/-]|\.\w)/g;

/** What is not read as a line of text: drawings, code, and what is to be copied as it is. */
const LEFT_ALONE = new Set(["text", "tspan", "code", "pre", "script", "style"]);

/** The reader's own kind of the page's language: where their English puts the month first, so does the page. */
let deviceTag = "en-GB";

/** Writers of dates by language: making one costs far more than using it. */
const WRITERS = new Map<Language, Intl.DateTimeFormat>();

function datesIn(spoken: Language): Intl.DateTimeFormat {
  const known = WRITERS.get(spoken);
  if (known) return known;
  const own = deviceTag.split("-")[0] === spoken;
  const made = new Intl.DateTimeFormat(own ? deviceTag : spoken === "en" ? "en-GB" : spoken, {
    day: "numeric",
    month: "short",
    year: "numeric",
    timeZone: "UTC",
  });
  WRITERS.set(spoken, made);
  return made;
}

/** A text as the reader sees it. */
export function asShown(text: string): string {
  if (!/\d/.test(text)) return text;
  return text
    .replace(DATE, (date) => {
      const day = new Date(`${date}T00:00:00Z`);
      return Number.isNaN(day.getTime()) ? date : datesIn(language.value).format(day).replace(" ", NO_BREAK);
    })
    .replace(FIGURE_AND_UNIT, `$1${NO_BREAK}`)
    .replace(CURRENCY_AND_FIGURE, `$1${NO_BREAK}`);
}

/** Lets everything that is drawn from here on go through it. */
export function showTexts(): void {
  deviceTag = navigator.language;
  WRITERS.clear();
  const before = options.vnode;
  options.vnode = (vnode) => {
    // Only what is drawn as an element: a component's children may be anything.
    if (typeof vnode.type === "string" && !LEFT_ALONE.has(vnode.type))
      showChildren(vnode as VNode<{ children?: unknown }>);
    before?.(vnode);
  };
}

function showChildren({ props }: VNode<{ children?: unknown }>): void {
  const { children } = props;
  if (typeof children === "string") props.children = asShown(children);
  else if (Array.isArray(children))
    props.children = children.map((child) => (typeof child === "string" ? asShown(child) : child));
}
