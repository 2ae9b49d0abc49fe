/** `evenstand open`: serves the page, with a field or empty, until it is stopped. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { type RunningServer, type ServedField, startServer } from "../browser/server.ts";
import { openCommandField, pathsOf } from "../files/field-of-command.ts";
import { packageRoot } from "../files/package-root.ts";
import { CommandLineError } from "../terminal/failure.ts";
import type { Io } from "../terminal/io.ts";

export interface OpenOptions {
  port: number;
  allowOutside?: boolean;
}

/** Serves until `io.stop` is aborted; prints the address to standard output. */
export async function open(field: string | undefined, options: OpenOptions, io: Io): Promise<void> {
  const webFolder = join(packageRoot(), "dist", "web");
  if (!existsSync(join(webFolder, "index.html"))) {
    throw new Error('the page has not been built; "npm run build" makes it');
  }
  const served = field === undefined ? null : await servedField(field, options, io);
  const { stop } = io;
  const server = await listen(webFolder, options.port, served);
  io.out(`${server.address}\n`);
  io.err(`${served ? served.name : "No field"} is open at the address above, for this machine only. `);
  io.err("Stop with Ctrl+C.\n");
  if (!stop.aborted) await new Promise((resolve) => stop.addEventListener("abort", resolve, { once: true }));
  await server.close();
}

async function servedField(field: string, options: OpenOptions, io: Io): Promise<ServedField> {
  const { manifest, files, name } = await openCommandField(field, options.allowOutside ?? false, io);
  return { name, manifest, paths: pathsOf(manifest), pieces: files.pieces };
}

async function listen(webFolder: string, port: number, field: ServedField | null): Promise<RunningServer> {
  try {
    return await startServer({ webFolder, port, field });
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    if (code !== "EADDRINUSE" && code !== "EACCES") throw cause;
    throw new CommandLineError(
      `--port ${port}: the port is taken or not allowed; name another, or 0 for any`,
      {
        value: String(port),
        cause,
      },
    );
  }
}
