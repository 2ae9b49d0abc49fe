/** The text of a manifest as JSON, a field's or a season's. */
import { ManifestError } from "../errors.ts";
import { duplicateKey } from "./duplicate-keys.ts";

/**
 * What the text says, not yet held against a schema.
 * @param file name of the manifest, for messages
 * @throws {ManifestError} where it is not JSON, or a key stands twice in one object
 */
export function manifestJson(text: string, file: string): unknown {
  const bare = text.replace(/^\uFEFF/, "");
  let json: unknown;
  try {
    json = JSON.parse(bare);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new ManifestError(`${file} is not JSON: ${why}`, { file, accepted: "a JSON object", cause });
  }
  const twice = duplicateKey(bare);
  if (twice !== null) {
    const field = [...twice.within, twice.key].join(".");
    throw new ManifestError(`${file}: ${field} stands there twice; write it once`, {
      file,
      field,
      value: twice.key,
      accepted: "each key once",
    });
  }
  return json;
}
