/** The command's own server with the built page, with the sample field or with none. */
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { type RunningServer, startServer } from "../../../src/cli/browser/server.ts";
import { FieldFiles } from "../../../src/cli/files/field-files.ts";

export const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
export const WEB = `${ROOT}dist/web`;
export const REPORT_TEMPLATE = `${ROOT}dist/report/report.html`;
export const SAMPLE = `${ROOT}sample-data/larkspur-draw`;

function requireBuilt(path: string): void {
  if (!existsSync(path)) throw new Error(`${path} is not there; "npm run build" makes it`);
}

export async function serveSample(): Promise<RunningServer> {
  requireBuilt(`${WEB}/index.html`);
  const manifest = JSON.parse(await readFile(`${SAMPLE}/field.json`, "utf8")) as Record<string, unknown>;
  const paths = Object.values(manifest)
    .map((layer) => (typeof layer === "object" && layer !== null && "file" in layer ? layer.file : null))
    .filter((path): path is string => typeof path === "string");
  const { pieces } = new FieldFiles(SAMPLE, false);
  const field = { name: String(manifest.name), manifest, paths, pieces };
  return startServer({ webFolder: WEB, port: 0, field });
}

export async function serveNoField(): Promise<RunningServer> {
  requireBuilt(`${WEB}/index.html`);
  return startServer({ webFolder: WEB, port: 0, field: null });
}

export async function reportTemplate(): Promise<string> {
  requireBuilt(REPORT_TEMPLATE);
  return readFile(REPORT_TEMPLATE, "utf8");
}
