/**
 * An independent reader of task files, for tests: it knows the format's published facts (rows from the south, columns
 * from the west, column fastest; one byte a cell or little-endian 32-bit integers) and shares no code with the writer.
 */

interface Element {
  tag: string;
  attributes: Record<string, string>;
  children: Element[];
}

/** Elements of a document without text content; refuses what is not well formed. */
export function readXml(text: string): Element {
  const root: Element = { tag: "", attributes: {}, children: [] };
  const open = [root];
  const body = text.replace(/^<\?xml [^?]*\?>/, "");
  const rest = body.replace(/<(\/?)(\w+)((?:\s+\w+="[^"<]*")*)\s*(\/?)>/g, (_, end, tag, written, empty) => {
    if (end) {
      if (open.pop()!.tag !== tag) throw new Error(`</${tag}> closes another element`);
      return "";
    }
    const attributes: Record<string, string> = {};
    for (const [, name, value] of written.matchAll(/(\w+)="([^"]*)"/g)) {
      if (name! in attributes) throw new Error(`${name} stands twice in ${tag}`);
      attributes[name!] = value!
        .replaceAll("&lt;", "<")
        .replaceAll("&gt;", ">")
        .replaceAll("&quot;", '"')
        .replaceAll("&amp;", "&");
    }
    const element = { tag, attributes, children: [] };
    open.at(-1)!.children.push(element);
    if (!empty) open.push(element);
    return "";
  });
  if (rest.trim() !== "" || open.length !== 1 || root.children.length !== 1)
    throw new Error(`not well formed: ${rest.trim()}`);
  return root.children[0]!;
}

export function allOf(element: Element, tag: string): Element[] {
  return [
    ...(element.tag === tag ? [element] : []),
    ...element.children.flatMap((child) => allOf(child, tag)),
  ];
}

export interface ReadCell {
  row: number;
  column: number;
  longitude: number;
  latitude: number;
  /** Set-point of the cell. */
  value: number;
}

/** Set-point of each zone code of the task, by code. */
export function setPoints(document: Element): Map<number, number> {
  return new Map(
    allOf(document, "TZN").map((zone) => [
      Number(zone.attributes.A),
      Number(allOf(zone, "PDV")[0]!.attributes.B),
    ]),
  );
}

/** Every cell of the task's grid with the place of its centre and its set-point. */
export function readCells(document: Element, bytes: Uint8Array): ReadCell[] {
  const { A, B, C, D, E, F, H, I } = allOf(document, "GRD")[0]!.attributes;
  const [columns, rows] = [Number(E), Number(F)];
  if (Number(H) !== bytes.length) throw new Error(`H says ${H} bytes, the file has ${bytes.length}`);
  const values = setPoints(document);
  const cells: ReadCell[] = [];
  let at = 0;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let value: number | undefined;
      if (I === "1") value = values.get(bytes[at++]!);
      else {
        // Lowest byte first; the highest carries the sign.
        value = bytes[at]! + bytes[at + 1]! * 2 ** 8 + bytes[at + 2]! * 2 ** 16 + bytes[at + 3]! * 2 ** 24;
        if (value >= 2 ** 31) value -= 2 ** 32;
        at += 4;
      }
      if (value === undefined) throw new Error(`cell ${row}/${column} names a zone that is not declared`);
      cells.push({
        row,
        column,
        longitude: Number(B) + (column + 0.5) * Number(D),
        latitude: Number(A) + (row + 0.5) * Number(C),
        value,
      });
    }
  }
  if (at !== bytes.length) throw new Error(`${bytes.length - at} bytes are left over`);
  return cells;
}
