/** The Chromium installed on this machine: named by CHROMIUM, or found on the PATH. */
import { accessSync, constants, statSync } from "node:fs";
import { delimiter, join } from "node:path";
import { CommandLineError } from "../terminal/failure.ts";
import type { Io } from "../terminal/io.ts";

/** Names the program goes by, in the order they are looked for. */
const NAMES = ["chromium", "chromium-browser", "chrome", "google-chrome", "google-chrome-stable"] as const;

const HOW_TO =
  "Install Chromium (Debian, Ubuntu: apt-get install chromium), or set CHROMIUM to the path of its program";

/**
 * Path of the program.
 * @throws {CommandLineError} where CHROMIUM names no program, or none is found on the PATH.
 */
export function installedChromium({ environment, workingFolder }: Io): string {
  const named = environment.CHROMIUM;
  if (named) {
    if (isProgram(named)) return named;
    throw new CommandLineError(`--pdf: CHROMIUM names ${named}, which is not a program that can be run`, {
      value: named,
      accepted: "the path of a Chromium program",
    });
  }
  const endings = process.platform === "win32" ? [".exe", ""] : [""];
  for (const folder of (environment.PATH ?? "").split(delimiter).filter((each) => each !== "")) {
    for (const name of NAMES) {
      for (const ending of endings) {
        const path = join(folder, name + ending);
        if (isProgram(path)) return path;
      }
    }
  }
  throw new CommandLineError(
    `--pdf: no Chromium found to print the report with, looked on the PATH from ${workingFolder}. ${HOW_TO}; without --pdf, report.html prints from any browser`,
    { accepted: NAMES.join(", ") },
  );
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}
