/** A key that stands twice in one object of a JSON text: JavaScript keeps the last one in silence. */

/** The first key that an object has twice, with the names of the objects around it; null where there is none. */
export function duplicateKey(json: string): { key: string; within: string[] } | null {
  const tokens = /"[^"\\]*(?:\\.[^"\\]*)*"|[{}[\],:]/gs;
  const open: { keys: Set<string> | null; name: string | null }[] = [];
  let text: string | null = null;
  for (const [token] of json.matchAll(tokens)) {
    const inside = open.at(-1);
    if (token === "{") open.push({ keys: new Set(), name: null });
    else if (token === "[") open.push({ keys: null, name: null });
    else if (token === "}" || token === "]") open.pop();
    else if (token === ":" && inside?.keys && text !== null) {
      const key = JSON.parse(text) as string;
      if (inside.keys.has(key))
        return { key, within: open.slice(0, -1).flatMap(({ name }) => (name === null ? [] : [name])) };
      inside.keys.add(key);
      inside.name = key;
    }
    text = token.startsWith('"') ? token : null;
  }
  return null;
}
