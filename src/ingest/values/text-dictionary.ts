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
  /** Bytes of all keys one after the other; key i is [#keyEnds[i - 1], #keyEnds[i]). Objects would weigh far more. */
  #keys = new Uint8Array(1024);
  #keyEnds = new Int32Array(32);
  #keyCodes = new Int32Array(32);
  #keyCount = 0;
  /** The key met last, -1 before the first. */
  #last = -1;

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
    // The row units of a moment share its time: the text before comes again.
    if (this.#last >= 0 && this.#isKey(this.#last, bytes, start, end)) return this.#keyCodes[this.#last]!;
    let hash = FNV_OFFSET;
    for (let at = start; at < end; at++) hash = Math.imul(hash ^ bytes[at]!, FNV_PRIME);
    const mask = this.#slots.length - 1;
    let slot = hash & mask;
    for (;;) {
      const entry = this.#slots[slot]!;
      if (entry === EMPTY_SLOT) break;
      if (this.#isKey(entry, bytes, start, end)) {
        this.#last = entry;
        return this.#keyCodes[entry]!;
      }
      slot = (slot + 1) & mask;
    }
    const code = this.codeOf(this.#decode(bytes.slice(start, end)));
    this.#last = this.#addKey(bytes, start, end, code);
    this.#slots[slot] = this.#last;
    if (this.#keyCount * 2 > this.#slots.length) this.#grow();
    return code;
  }

  #isKey(entry: number, bytes: Uint8Array, start: number, end: number): boolean {
    const from = entry === 0 ? 0 : this.#keyEnds[entry - 1]!;
    const length = end - start;
    if (this.#keyEnds[entry]! - from !== length) return false;
    const keys = this.#keys;
    for (let at = 0; at < length; at++) if (keys[from + at] !== bytes[start + at]) return false;
    return true;
  }

  #addKey(bytes: Uint8Array, start: number, end: number, code: number): number {
    const entry = this.#keyCount++;
    const from = entry === 0 ? 0 : this.#keyEnds[entry - 1]!;
    const to = from + end - start;
    if (to > this.#keys.length) {
      const keys = new Uint8Array(Math.max(to, this.#keys.length * 2));
      keys.set(this.#keys);
      this.#keys = keys;
    }
    if (entry === this.#keyEnds.length) {
      this.#keyEnds = doubled(this.#keyEnds);
      this.#keyCodes = doubled(this.#keyCodes);
    }
    this.#keys.set(bytes.subarray(start, end), from);
    this.#keyEnds[entry] = to;
    this.#keyCodes[entry] = code;
    return entry;
  }

  #grow(): void {
    const slots = new Int32Array(this.#slots.length * 4).fill(EMPTY_SLOT);
    const mask = slots.length - 1;
    let from = 0;
    for (let entry = 0; entry < this.#keyCount; entry++) {
      const to = this.#keyEnds[entry]!;
      let hash = FNV_OFFSET;
      for (let at = from; at < to; at++) hash = Math.imul(hash ^ this.#keys[at]!, FNV_PRIME);
      let slot = hash & mask;
      while (slots[slot] !== EMPTY_SLOT) slot = (slot + 1) & mask;
      slots[slot] = entry;
      from = to;
    }
    this.#slots = slots;
  }
}

function doubled(values: Int32Array): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(values.length * 2);
  larger.set(values);
  return larger;
}

const utf8 = new TextDecoder();

function decodeUtf8(bytes: Uint8Array): string {
  return utf8.decode(bytes);
}
