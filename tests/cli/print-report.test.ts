/** report.pdf: what is said where no browser is found, and a report printed on both papers. */
import { chmod, mkdtemp, readdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { installedChromium } from "../../src/cli/browser/installed-browser.ts";
import { printReport } from "../../src/cli/commands/print-report.ts";
import { run } from "../../src/cli/run.ts";
import type { Io } from "../../src/cli/terminal/io.ts";

function ioWith(environment: Record<string, string>, workingFolder: string) {
  const said: string[] = [];
  const io: Io = {
    workingFolder,
    environment,
    out: () => {},
    err: (text) => said.push(text),
    outIsTerminal: false,
    errIsTerminal: false,
    columns: null,
    stop: new AbortController().signal,
  };
  return { io, said };
}

const folder = () => mkdtemp(join(tmpdir(), "evenstand-pdf-"));

async function program(name: string): Promise<string> {
  const path = join(await folder(), name);
  await writeFile(path, "#!/bin/sh\nexit 7\n");
  await chmod(path, 0o755);
  return path;
}

describe("analyse --pdf without a browser", () => {
  it("ends with 2 before it reads anything, and says what to do", async () => {
    const empty = await folder();
    for (const environment of [{ PATH: empty }, { PATH: "" }, { CHROMIUM: join(empty, "none") }]) {
      const { io, said } = ioWith(environment as Record<string, string>, empty);
      expect(await run(["analyse", "no-such-field", "--out", "out", "--pdf"], io)).toBe(2);
      expect(said.join("")).toMatch(/CHROMIUM/);
      expect(await readdir(empty)).toEqual([]);
    }
  });

  it("takes the program CHROMIUM names before those of the PATH", async () => {
    const [named, found] = [await program("mine"), await program("chromium")];
    const PATH = join(found, "..");
    expect(installedChromium(ioWith({ CHROMIUM: named, PATH }, "/").io)).toBe(named);
    expect(installedChromium(ioWith({ PATH }, "/").io)).toBe(found);
  });

  it("says so where the browser breaks off", async () => {
    await expect(printReport(await program("chromium"), "<p>", "a4")).rejects.toThrow(
      /could not print the report: the browser ended with code 7/,
    );
  });

  it("takes no other paper", async () => {
    const { io, said } = ioWith({}, "/");
    expect(await run(["analyse", "x", "--out", "y", "--pdf", "--paper", "a0"], io)).toBe(2);
    expect(said.join("")).toMatch(/letter, a4/);
  });
});
