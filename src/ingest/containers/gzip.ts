/** Gzip files (RFC 1952), also of several members, unpacked in memory. */
import { Gunzip } from "fflate";
import { crc32 } from "./crc32.ts";
import { FREE_UNPACKED_BYTES, MOST_TIMES_PACKED, MOST_UNPACKED_BYTES } from "./zip.ts";

/** Packed bytes taken at once: zeros unpack to a thousand times as many. */
const STEP = 1 << 16;

export function isGzip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x1f && bytes[1] === 0x8b;
}

/**
 * Unpacks all members (some writers cut the data into many). The checksum is looked at where there is one
 * member, which is the rule.
 * @throws {Error} (plain) when the bytes are damaged, end too early or unpack to more than the limits
 */
export function gunzip(bytes: Uint8Array): Uint8Array {
  const chunks: Uint8Array[] = [];
  let total = 0;
  let laterMembers = 0;
  let finished = false;
  const stream = new Gunzip((chunk, final) => {
    chunks.push(chunk);
    total += chunk.length;
    finished = final;
    requireModest(total, bytes.length);
  });
  stream.onmember = () => laterMembers++;
  for (let at = 0; at < bytes.length; at += STEP) {
    stream.push(bytes.subarray(at, at + STEP), at + STEP >= bytes.length);
  }
  if (!finished) throw new Error("it ends too early");
  const whole = new Uint8Array(total);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  if (laterMembers === 0) requireChecksum(bytes, whole);
  return whole;
}

function requireModest(unpacked: number, packed: number): void {
  if (unpacked > MOST_UNPACKED_BYTES)
    throw new Error(`it unpacks to more than the limit of ${MOST_UNPACKED_BYTES} bytes`);
  if (unpacked > FREE_UNPACKED_BYTES && unpacked > packed * MOST_TIMES_PACKED)
    throw new Error(
      `it unpacks to more than ${FREE_UNPACKED_BYTES} bytes and ${MOST_TIMES_PACKED} times its size, which is the limit`,
    );
}

function requireChecksum(bytes: Uint8Array, whole: Uint8Array): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const crc = view.getUint32(bytes.length - 8, true);
  const length = view.getUint32(bytes.length - 4, true);
  if (length !== whole.length % 2 ** 32 || crc !== crc32(whole))
    throw new Error("it is damaged (its checksum is another)");
}
