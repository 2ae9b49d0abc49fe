/** Distinct texts of a column with a code each, found by their bytes so that repeats make no string. */

const EMPTY_SLOT = -1;
const FNV_OFFSET = 0x811c9dc5;
const FNV_PRIME = 0x01000193;

export class TextDictionary {
  /** Texts in the order of first appearance; the index is the code. */
  readonly labels: string[] = [];
  readonly #decode: (bytes: Uint8Array) => string;
  readonly #codeOfLabel = new Map<string, number>();
  #slots = new Int32Array(64).fill(EMPTY_SLOT);
  #keyBytes: Uint8Array[] = [];
  #keyCodes: number[] = [];

  constructor(decode: (bytes: Uint8Array) => string = decodeUtf8) {
    this.#decode = decode;
  }

  /** Code of a text. */
  codeOf(text: string): number {
    const known = this.#codeOfLabel.get(text);
    if (known !== undefined) return known;
    const code = this.labels.push(text) - 1;
    this.#codeOfLabel.set(text, code);
    return code;
  }

  /** Code of the text in bytes [start, end). Hashing is FNV-1a, 32 bit (G. Fowler, L. C. Noll, K.-P. Vo). */
  codeOfBytes(bytes: Uint8Array, start: number, end: number): number {
    let hash = FNV_OFFSET;
    for (let at = start; at < end; at++) hash = Math.imul(hash ^ bytes[at]!, FNV_PRIME);
    const mask = this.#slots.length - 1;
    let slot = hash & mask;
    for (;;) {
      const entry = this.#slots[slot]!;
      if (entry === EMPTY_SLOT) break;
      if (sameBytes(this.#keyBytes[entry]!, bytes, start, end)) return this.#keyCodes[entry]!;
      slot = (slot + 1) & mask;
    }
    const key = bytes.slice(start, end);
    const code = this.codeOf(this.#decode(key));
    this.#slots[slot] = this.#keyBytes.push(key) - 1;
    this.#keyCodes.push(code);
    if (this.#keyBytes.length * 2 > this.#slots.length) this.#grow();
    return code;
  }

  #grow(): void {
    const slots = new Int32Array(this.#slots.length * 4).fill(EMPTY_SLOT);
    const mask = slots.length - 1;
    for (const [entry, key] of this.#keyBytes.entries()) {
      let hash = FNV_OFFSET;
      for (const byte of key) hash = Math.imul(hash ^ byte, FNV_PRIME);
      let slot = hash & mask;
      while (slots[slot] !== EMPTY_SLOT) slot = (slot + 1) & mask;
      slots[slot] = entry;
    }
    this.#slots = slots;
  }
}

function sameBytes(key: Uint8Array, bytes: Uint8Array, start: number, end: number): boolean {
  if (key.length !== end - start) return false;
  for (let at = 0; at < key.length; at++) if (key[at] !== bytes[start + at]) return false;
  return true;
}

const utf8 = new TextDecoder();

function decodeUtf8(bytes: Uint8Array): string {
  return utf8.decode(bytes);
}
