/** A value of a JSON file as text for a message: short, and safe on whatever depth and size. */

/** Notes show 60 characters; a little more keeps what is cut off visible as such. */
const LONGEST = 80;
const DEEPEST = 12;

export function shownJson(value: unknown): string {
  const text = shown(value, 0, LONGEST);
  return text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text;
}

function shown(value: unknown, depth: number, room: number): string {
  if (typeof value === "string") return JSON.stringify(value.slice(0, room));
  if (typeof value !== "object" || value === null) return String(value);
  if (depth > DEEPEST) return "…";
  const list = Array.isArray(value);
  let text = "";
  // Of a list no key is made up that is not shown: it may hold a million positions.
  const keys = list ? value.keys() : Object.keys(value);
  for (const key of keys) {
    if (text.length > room) return `${list ? "[" : "{"}${text},…`;
    const member = shown((value as Record<number | string, unknown>)[key], depth + 1, room - text.length);
    text += `${text === "" ? "" : ","}${list ? "" : `${JSON.stringify(String(key).slice(0, room))}:`}${member}`;
  }
  return list ? `[${text}]` : `{${text}}`;
}
