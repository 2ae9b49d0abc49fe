/** Long texts of a table (type M), which stand in a file of their own: .dbt (dBASE) or .fpt (FoxPro). */
import type { ByteSource } from "../containers/byte-window.ts";

/** The text of a block as bytes, null where there is none. */
export type DbfMemos = (block: number) => Uint8Array | null;

const DBASE_BLOCK_LENGTH = 512;
const END_OF_TEXT = 0x1a;
/** Longer than any remark; what claims more is damaged. */
const LONGEST_TEXT = 1 << 20;

/**
 * Three layouts, told apart by the file: FoxPro (block size at byte 6, length in front of the text), dBASE IV
 * (FF FF 08 00, then the length) and dBASE III (text up to 1A). From memory.
 */
export function openMemos(source: ByteSource, foxPro: boolean): DbfMemos {
  const header = source.read(0, DBASE_BLOCK_LENGTH).slice();
  const headerView = new DataView(header.buffer);
  const foxProBlock = header.length >= 8 ? headerView.getUint16(6, false) : 0;
  const dbaseBlock = header.length >= 22 ? headerView.getUint16(20, true) : 0;
  return (block) => {
    // A pointer that is no number, or no block of any file, points nowhere.
    if (!Number.isSafeInteger(block) || block <= 0) return null;
    if (foxPro) return foxProText(source, block * Math.max(1, foxProBlock));
    const older = block * DBASE_BLOCK_LENGTH;
    return dbaseFourText(source, block * (dbaseBlock || DBASE_BLOCK_LENGTH)) ?? textUpToEnd(source, older);
  };
}

function foxProText(source: ByteSource, offset: number): Uint8Array | null {
  return counted(source, offset, (view) => view.getUint32(4, false), 8);
}

function dbaseFourText(source: ByteSource, offset: number): Uint8Array | null {
  const mark = 0xffff0800;
  return counted(
    source,
    offset,
    (view) => (view.getUint32(0, false) === mark ? view.getUint32(4, true) - 8 : -1),
    8,
  );
}

function counted(
  source: ByteSource,
  offset: number,
  lengthOf: (view: DataView) => number,
  skip: number,
): Uint8Array | null {
  if (offset + skip > source.size) return null;
  const head = source.read(offset, skip);
  const length = lengthOf(new DataView(head.buffer, head.byteOffset, head.byteLength));
  if (length < 0 || length > LONGEST_TEXT || offset + skip + length > source.size) return null;
  return source.read(offset + skip, length);
}

function textUpToEnd(source: ByteSource, offset: number): Uint8Array | null {
  if (offset >= source.size) return null;
  const bytes = source.read(offset, Math.min(LONGEST_TEXT, source.size - offset));
  const end = bytes.indexOf(END_OF_TEXT);
  return end < 0 ? null : bytes.subarray(0, end);
}
