/** The built command, run as a process of its own, as users and schedulers run it. */
import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const COMMAND = fileURLToPath(new URL("../../../dist/src/cli/main.js", import.meta.url));

export interface Ended {
  code: number | null;
  out: string;
  err: string;
}

/** Starts `evenstand season ...`. */
export function startSeason(...argv: string[]): { child: ChildProcess; ended: Promise<Ended> } {
  if (!existsSync(COMMAND)) throw new Error('the command is not built: "npm run build" first');
  const child = spawn(process.execPath, [COMMAND, "season", ...argv], { stdio: ["ignore", "pipe", "pipe"] });
  const said = { out: "", err: "" };
  child.stdout!.setEncoding("utf8").on("data", (text: string) => {
    said.out += text;
  });
  child.stderr!.setEncoding("utf8").on("data", (text: string) => {
    said.err += text;
  });
  const ended = new Promise<Ended>((resolve) => child.on("close", (code) => resolve({ code, ...said })));
  return { child, ended };
}

export function season(...argv: string[]): Promise<Ended> {
  return startSeason(...argv).ended;
}

/** SHA-256 of every file of a folder by its path, hidden ones too; locks and leftovers would show. */
export function bytesOf(folder: string, below = ""): Record<string, string> {
  const hashes: Record<string, string> = {};
  for (const entry of readdirSync(join(folder, below), { withFileTypes: true })) {
    const path = below === "" ? entry.name : `${below}/${entry.name}`;
    if (entry.isDirectory()) Object.assign(hashes, bytesOf(folder, path));
    else
      hashes[path] = createHash("sha256")
        .update(readFileSync(join(folder, path)))
        .digest("hex");
  }
  return hashes;
}
