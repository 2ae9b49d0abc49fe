/** The checksum of zip and gzip: CRC-32 (ISO 3309), reflected polynomial EDB88320, four bytes at a time. */

const TABLES = makeTables();

function makeTables(): Uint32Array[] {
  const tables = Array.from({ length: 4 }, () => new Uint32Array(256));
  const [first] = tables;
  for (let byte = 0; byte < 256; byte++) {
    let value = byte;
    for (let bit = 0; bit < 8; bit++) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
    first![byte] = value;
  }
  for (let table = 1; table < 4; table++) {
    for (let byte = 0; byte < 256; byte++) {
      const before = tables[table - 1]![byte]!;
      tables[table]![byte] = (before >>> 8) ^ first![before & 0xff]!;
    }
  }
  return tables;
}

/** The checksum of the bytes, as an unsigned number; `before` continues that of earlier bytes. */
export function crc32(bytes: Uint8Array, before = 0): number {
  const [t0, t1, t2, t3] = TABLES as [Uint32Array, Uint32Array, Uint32Array, Uint32Array];
  let crc = ~before;
  let at = 0;
  for (const end = bytes.length - 3; at < end; at += 4) {
    crc ^= bytes[at]! | (bytes[at + 1]! << 8) | (bytes[at + 2]! << 16) | (bytes[at + 3]! << 24);
    crc = t3[crc & 0xff]! ^ t2[(crc >>> 8) & 0xff]! ^ t1[(crc >>> 16) & 0xff]! ^ t0[crc >>> 24]!;
  }
  for (; at < bytes.length; at++) crc = (crc >>> 8) ^ t0[(crc ^ bytes[at]!) & 0xff]!;
  return ~crc >>> 0;
}
