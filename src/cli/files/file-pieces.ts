/** A file on disk read piece by piece, for the readers. */
import { closeSync, openSync, readSync, statSync } from "node:fs";
import type { StreamedFile } from "../../ingest/layer.ts";

/**
 * The file at a path. It is opened anew for each piece, so that none is left open; the bytes a call of `read`
 * gives are overwritten by the next one.
 * @throws the system's error when it cannot be read or is no file
 */
export function fileInPieces(path: string, name: string): StreamedFile {
  const found = statSync(path);
  if (found.isDirectory()) throw Object.assign(new Error("is a folder"), { code: "EISDIR" });
  closeSync(openSync(path, "r"));
  let buffer = new Uint8Array(0);
  return {
    name,
    size: found.size,
    read(offset, length) {
      if (buffer.length < length) buffer = new Uint8Array(length);
      const handle = openSync(path, "r");
      try {
        let filled = 0;
        while (filled < length) {
          const read = readSync(handle, buffer, filled, length - filled, offset + filled);
          if (read === 0) break;
          filled += read;
        }
        return buffer.subarray(0, filled);
      } finally {
        closeSync(handle);
      }
    },
  };
}
