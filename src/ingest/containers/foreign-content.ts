/** What a file is that does not hold what its name says: web pages saved instead of the data, pictures, documents. */

const MAGIC: readonly { title: string; bytes: readonly number[] }[] = [
  { title: "a PNG picture", bytes: [0x89, 0x50, 0x4e, 0x47] },
  { title: "a JPEG picture", bytes: [0xff, 0xd8, 0xff] },
  { title: "a GIF picture", bytes: [0x47, 0x49, 0x46, 0x38] },
  { title: "a PDF document", bytes: [0x25, 0x50, 0x44, 0x46] },
  { title: "a RAR archive", bytes: [0x52, 0x61, 0x72, 0x21] },
  { title: "a 7z archive", bytes: [0x37, 0x7a, 0xbc, 0xaf] },
  { title: "an SQLite database", bytes: [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65] },
  { title: "an old spreadsheet or document", bytes: [0xd0, 0xcf, 0x11, 0xe0] },
  { title: "a gzip file", bytes: [0x1f, 0x8b] },
  { title: "a zip file", bytes: [0x50, 0x4b, 0x03, 0x04] },
  { title: "a .shp file", bytes: [0x00, 0x00, 0x27, 0x0a] },
];

/** A name for what the first bytes show, null where they show nothing of the kind. */
export function foreignContent(start: Uint8Array): string | null {
  const known = MAGIC.find(({ bytes }) => bytes.every((byte, index) => start[index] === byte));
  if (known) return known.title;
  const text = new TextDecoder().decode(start.subarray(0, 512)).trimStart().toLowerCase();
  if (text.startsWith("<!doctype html") || text.startsWith("<html")) return "a web page (HTML)";
  return text.startsWith("<?xml") || /^<\w+[\s>]/.test(text) ? "XML" : null;
}
