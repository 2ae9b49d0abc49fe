/** The files that a manifest names, from the server that the page came from, all at once. */
import type { InputFile } from "../../src/ingest/layer.ts";

/**
 * @param address where a file is, by its path in the manifest
 * @returns what came, and in words which named file did not; a part of a shapefile may be left out
 */
export async function fetchFiles(
  manifest: unknown,
  address: (path: string) => string,
): Promise<{ files: InputFile[]; missing: string | null }> {
  const paths = pathsOf(manifest);
  const answers = await Promise.all(
    paths.flatMap(withSiblings).map(async (name) => {
      const answer = await fetch(address(name));
      const bytes = answer.ok ? new Uint8Array(await answer.arrayBuffer()) : null;
      return { name, status: answer.status, bytes };
    }),
  );
  const lost = answers.find(({ name, bytes }) => bytes === null && paths.includes(name));
  return {
    files: answers.flatMap(({ name, bytes }) => (bytes ? [{ name, bytes }] : [])),
    missing: lost
      ? `${lost.name} could not be read: ${lost.status === 404 ? "no such file" : `the server answered ${lost.status}`}.`
      : null,
  };
}

/** Every file a manifest names. */
function pathsOf(manifest: unknown): string[] {
  if (typeof manifest !== "object" || manifest === null) return [];
  const paths = Object.values(manifest).map((layer: unknown) =>
    typeof layer === "object" && layer !== null && "file" in layer ? layer.file : null,
  );
  return [...new Set(paths.filter((path): path is string => typeof path === "string"))];
}

function withSiblings(path: string): string[] {
  if (!/\.shp$/i.test(path)) return [path];
  const upper = path.endsWith(".SHP");
  const endings = ["dbf", "shx", "prj", "cpg"].map((ending) => (upper ? ending.toUpperCase() : ending));
  return [path, ...endings.map((ending) => `${path.slice(0, -3)}${ending}`)];
}
