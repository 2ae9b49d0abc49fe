/** Pieces of which the schemas of our documents are made; each says what it holds. */
import * as v from "valibot";

/** The same with a sentence of what it is. */
export function described<S extends v.GenericSchema>(schema: S, what: string) {
  return v.pipe(schema, v.description(what));
}

/** An object with these keys and no others. */
export function shape<E extends v.ObjectEntries>(entries: E, what: string) {
  return described(v.strictObject(entries), what);
}

export const text = (what: string) => v.pipe(v.string(), v.description(what));

export const yesNo = (what: string) => v.pipe(v.boolean(), v.description(what));

export const figure = (what: string) => v.pipe(v.number(), v.description(what));

/** A figure that is never below 0. */
export const amount = (what: string) => v.pipe(v.number(), v.minValue(0), v.description(what));

/** From 0 to 1. */
export const share = (what: string) => v.pipe(v.number(), v.minValue(0), v.maxValue(1), v.description(what));

/** A whole number from `least` on. */
export const whole = (what: string, least = 0) =>
  v.pipe(v.number(), v.integer(), v.minValue(least), v.description(what));
