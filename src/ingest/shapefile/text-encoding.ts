/** Which text encoding the table of a shapefile is in: .cpg first, then its language byte, then a try. */
import type { NoteBook } from "../note-book.ts";
import { dosDecoder } from "./dos-code-pages.ts";

const FALLBACK = "windows-1252";

/** Language driver bytes of dBASE and FoxPro tables and the encoding they stand for. From memory. */
const ENCODING_OF_LANGUAGE_BYTE: Readonly<Record<number, string>> = {
  1: "windows-437",
  2: "windows-850",
  100: "windows-852",
  102: "windows-865",
  27: "windows-437",
  29: "windows-850",
  31: "windows-852",
  55: "windows-850",
  3: "windows-1252",
  87: "windows-1252",
  88: "windows-1252",
  89: "windows-1252",
  200: "windows-1250",
  201: "windows-1251",
  202: "windows-1254",
  203: "windows-1253",
  204: "windows-1257",
  38: "ibm866",
  101: "ibm866",
  19: "shift_jis",
  123: "shift_jis",
  77: "gbk",
  122: "gbk",
  78: "euc-kr",
  121: "euc-kr",
  79: "big5",
  120: "big5",
  80: "windows-874",
  124: "windows-874",
};

/**
 * Decoder of the texts of a table.
 * @param cpg content of the .cpg file, null where there is none
 * @param languageByte byte 29 of the table's header
 */
export function textDecoderOf(
  cpg: string | null,
  languageByte: number,
  notes: NoteBook,
): (bytes: Uint8Array) => string {
  const declared = cpg?.trim();
  const label = declared ? labelOfCodePage(declared) : ENCODING_OF_LANGUAGE_BYTE[languageByte];
  const decode = label === undefined ? null : createDecoder(label);
  if (decode) return decode;
  if (declared) {
    notes.add({
      reason: `the text encoding named in the .cpg file is not known; text is read as UTF-8 where it fits, else as ${FALLBACK}`,
      effect: "assumed",
      value: declared,
    });
  }
  return guessingDecoder(notes, declared !== undefined && declared !== "");
}

function guessingDecoder(notes: NoteBook, noted: boolean): (bytes: Uint8Array) => string {
  const utf8 = new TextDecoder("utf-8", { fatal: true });
  const fallback = new TextDecoder(FALLBACK);
  return (bytes) => {
    if (bytes.every((byte) => byte < 0x80)) return fallback.decode(bytes);
    let text: string;
    let guess = "UTF-8";
    try {
      text = utf8.decode(bytes);
    } catch {
      text = fallback.decode(bytes);
      guess = FALLBACK;
    }
    if (!noted) {
      notes.add({
        reason: `the table does not name its text encoding; letters beyond ASCII are read as ${guess} (a .cpg file would settle it)`,
        effect: "assumed",
        value: text,
      });
    }
    return text;
  };
}

/** "UTF-8", "65001", "1252", "cp1252", "ANSI 1252", "ISO 8859-1", "88591", "LDID/87" and the like. */
function labelOfCodePage(text: string): string {
  const lower = text.toLowerCase();
  const languageByte = /^ldid\/(\d+)$/.exec(lower)?.[1];
  if (languageByte !== undefined) return ENCODING_OF_LANGUAGE_BYTE[Number(languageByte)] ?? lower;
  if (/^(?:utf-?8|65001|ldid\/0)$/.test(lower)) return "utf-8";
  const isoPart = /^(?:iso)?[ _-]?8859[ _-]?(\d{1,2})$/.exec(lower)?.[1];
  if (isoPart !== undefined) return `iso-8859-${isoPart}`;
  const codePage = /^(?:ansi|cp|windows|oem)?[ _-]?(\d{3,5})$/.exec(lower)?.[1];
  if (codePage === "866") return "ibm866";
  if (codePage === "932") return "shift_jis";
  if (codePage === "936") return "gbk";
  if (codePage === "949") return "euc-kr";
  if (codePage === "950") return "big5";
  return codePage === undefined ? lower : `windows-${codePage}`;
}

function createDecoder(label: string): ((bytes: Uint8Array) => string) | null {
  const dos = dosDecoder(Number(/^windows-(\d+)$/.exec(label)?.[1]));
  if (dos) return dos;
  try {
    const decoder = new TextDecoder(label);
    return (bytes) => decoder.decode(bytes);
  } catch {
    return null;
  }
}
