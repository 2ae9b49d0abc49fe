/** A moving window over a file that need not be in memory as a whole. */
import type { LayerFile } from "../layer.ts";

/** Bytes of one file, whole or on demand. */
export interface ByteSource {
  readonly size: number;
  /** Bytes [offset, offset + length), cut at the end of the file; valid until the next call. */
  read(offset: number, length: number): Uint8Array;
}

/** Bytes read at a time; as large as a processor's cache, small against any limit of memory. */
export const WINDOW_BYTES = 4 << 20;

export function sourceOfBytes(bytes: Uint8Array): ByteSource {
  return { size: bytes.length, read: (offset, length) => bytes.subarray(offset, offset + length) };
}

export function sourceOfFile(file: LayerFile): ByteSource {
  if ("bytes" in file) return sourceOfBytes(file.bytes);
  const { size } = file;
  return {
    size,
    read: (offset, length) => file.read(offset, Math.max(0, Math.min(length, size - offset))),
  };
}

/** All bytes of the source, in memory of their own where it is read piece by piece. */
export function wholeOf(source: ByteSource): Uint8Array {
  const first = source.read(0, Math.min(source.size, WINDOW_BYTES));
  if (first.length === source.size) return first;
  const whole = new Uint8Array(source.size);
  for (let at = 0; at < source.size; at += WINDOW_BYTES) whole.set(source.read(at, WINDOW_BYTES), at);
  return whole;
}

export class ByteWindow {
  readonly size: number;
  /** What the window holds, from file offset `base` on; changes with every {@link locate}. */
  bytes: Uint8Array = new Uint8Array(0);
  view: DataView = new DataView(new ArrayBuffer(0));
  base = 0;
  readonly #source: ByteSource;

  constructor(source: ByteSource) {
    this.#source = source;
    this.size = source.size;
  }

  /**
   * Makes sure that file bytes [offset, offset + length), which must lie within the file, are in the window.
   * @returns the index of `offset` in `bytes` and `view`
   */
  locate(offset: number, length: number): number {
    const index = offset - this.base;
    if (index >= 0 && index + length <= this.bytes.length) return index;
    this.bytes = this.#source.read(offset, Math.max(length, WINDOW_BYTES));
    this.view = new DataView(this.bytes.buffer, this.bytes.byteOffset, this.bytes.byteLength);
    this.base = offset;
    return 0;
  }
}
